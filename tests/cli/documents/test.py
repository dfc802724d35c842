"""What README.md and the program's help say is what the program does: the README's commands run, in order, and give
the output printed below them; every command and every option of every command is in the README or in the help of it;
no document speaks of a command that is not there."""
import re
import shlex
import shutil

import harness

README = (harness.SOURCE / "README.md").read_text(encoding="utf-8")


def sessions():
    """The README's console blocks: (command, output) in order; a block's output may leave lines out with …"""
    for block in re.findall(r"```console\n(.*?)```", README, flags=re.S):
        for part in re.split(r"^\$ ", block, flags=re.M)[1:]:
            command, _, output = part.partition("\n")
            yield command, output


def matches(wanted, said):
    """Every run of wanted lines between lines of … stands in what was said, in order."""
    place = 0
    for piece in re.split(r"^…\n", wanted, flags=re.M):
        found = said.find(piece, place)
        if found < 0:
            return False
        place = found + len(piece)
    return True


def test_the_readme_tells_the_truth(rig):
    shutil.copytree(harness.SAMPLES, rig.folder / "sample_data")
    ran = []
    for command, output in sessions():
        words = shlex.split(command)
        if words[0] != "steelyard":
            continue
        said = rig.out(*words[1:])
        assert matches(output, said), f"$ {command}\n--- README\n{output}\n--- program\n{said}"
        ran.append(words[1])
    assert {"plan", "init", "import", "list", "reconcile", "strike", "report"} <= set(ran), ran


def commands(rig):
    return re.findall(r"^  (\w+)", rig.out("help").split("Commands\n")[1].split("\n\n")[0], flags=re.M)


def test_every_command_is_documented(rig):
    for name in commands(rig):
        assert f"`steelyard {name}" in README or f"\n$ steelyard {name}" in README, f"README does not name {name}"


def test_no_document_names_a_command_that_is_not_there(rig):
    known = set(commands(rig))
    texts = [README, rig.out("help")] + [rig.out("help", name) for name in known]
    for text in texts:
        for name in re.findall(r"`steelyard ([a-z]+)", text):
            assert name in known, name


def test_every_option_is_in_the_usage_or_shared(rig):
    for name in commands(rig):
        said = rig.out("help", name)
        usage, options = said.split("Options:")
        for option in re.findall(r"^  (--[a-z]+)", options, flags=re.M):
            assert option in ("--help", "--store", "--json", "--issued") or option in usage, (name, option)


def test_every_promise_names_tests_that_are_there(rig):
    section = README.split("## What the record promises")[1].split("\n## ")[0]
    promises = [line for line in section.splitlines() if line.startswith("|")][2:]
    assert len(promises) > 8
    sources = "".join(path.read_text(encoding="utf-8") for path in (harness.SOURCE / "tests").glob("**/*.cpp"))
    for promise in promises:
        names = re.findall(r"`(\w+)`", promise.split("|")[2])
        assert names, promise
        for name in names:
            kind, _, rest = name.partition("_")
            folders = [harness.SOURCE / "tests" / kind / rest / "test.py", harness.SOURCE / "tests" / name / "CMakeLists.txt",
                       harness.SOURCE / "tests/fault/io" / f"{rest}_test.cpp"]
            case = re.search(rf"BOOST_\w+_TEST_CASE\({name}[,)]", sources)
            assert case or any(path.exists() for path in folders), f"no test is called {name}"


harness.main(globals())
