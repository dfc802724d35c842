import re

import harness


def names(rig):
    listed = rig.out("help").split("Commands\n")[1].split("\n\n")[0]
    return re.findall(r"^  (\w+)", listed, flags=re.M)


def test_the_list(rig):
    assert rig.out("help") == rig.out("--help")
    for name in ["init", "import", "list", "show", "plan", "record", "strike", "reconcile", "report", "help"]:
        assert name in names(rig)


def test_every_command_explains_itself(rig):
    for name in names(rig):
        said = rig.out("help", name)
        assert said == rig.out(name, "--help")
        assert said.startswith(f"usage: steelyard {name}") and "--help" in said
        assert all(len(line) <= 80 for line in said.splitlines()), name


def test_every_command_that_shows_something_has_json(rig):
    for name in names(rig):
        assert name == "help" or "--json" in rig.out("help", name), name


def test_version(rig):
    project = (harness.SOURCE / "CMakeLists.txt").read_text(encoding="utf-8")
    version = re.search(r"VERSION (\d+\.\d+\.\d+) LANGUAGES", project).group(1)
    assert rig.out("--version") == f"steelyard {version}\n"


def test_unknown_words(rig):
    assert "did you mean reconcile?" in rig.wrong("reconcil")
    assert "did you mean" not in rig.wrong("zzzzzz")
    assert "did you mean show?" in rig.wrong("help", "shwo")
    assert "usage: steelyard COMMAND" in rig.wrong()
    assert "unknown option" in rig.wrong("list", "-j")
    assert "unknown option" in rig.wrong("list", "--js")  # no prefixes: they would change meaning with a new option


harness.main(globals())
