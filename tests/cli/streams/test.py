import json
import os
import pty
import subprocess

import harness
from harness import sample, small


def run(rig, words, **options):
    return subprocess.run([harness.PROGRAM, *map(str, words)], cwd=rig.folder, env=rig.environment, timeout=300,
                          stderr=subprocess.PIPE, **options)


COMMANDS = [["help"], ["--version"], ["list"], ["show", sample("tcw-012-pump-trailer")],
            ["reconcile", sample("tcw-012-pump-trailer"), "--json"], ["reconcile", "--all"]]


def test_a_full_device_is_told(rig):
    rig.run("init")
    rig.run("import", sample("tcw-012-pump-trailer"))
    for words in COMMANDS:
        with open("/dev/full", "wb") as full:
            done = run(rig, words, stdout=full)
        assert done.returncode == 1 and b"could not be written" in done.stderr, words


def test_a_closed_pipe_is_told(rig):
    rig.run("init")
    rig.run("import", sample("tcw-012-pump-trailer"))
    for words in COMMANDS:
        reading, writing = os.pipe()
        os.close(reading)
        done = run(rig, words, stdout=writing)
        os.close(writing)
        assert done.returncode == 1 and b"could not be written" in done.stderr, words


def test_closed_standard_streams_do_not_reach_the_store(rig):
    rig.run("init")
    rig.write("a.json", small())
    for closed in ([0, 1], [1], [2], [0, 1, 2]):
        def close():
            for descriptor in closed:
                os.close(descriptor)
        done = subprocess.run([harness.PROGRAM, "import", "a.json"], cwd=rig.folder, env=rig.environment,
                              preexec_fn=close, timeout=60)
        assert done.returncode == (1 if 1 in closed else 0), closed
    assert [one["session"] for one in rig.lines("list")] == ["small-0001"]


def on_terminal(rig, words, **options):
    """What a command says on a terminal, and its exit code; standard output goes there unless told otherwise."""
    master, slave = pty.openpty()
    child = subprocess.Popen([harness.PROGRAM, *map(str, words)], cwd=rig.folder, env=rig.environment, stderr=slave,
                             **{"stdout": slave, **options})
    os.close(slave)
    said = b""
    while True:
        try:
            piece = os.read(master, 65536)
        except OSError:  # the other end of a terminal is closed
            break
        if not piece:
            break
        said += piece
    os.close(master)
    return said, child.wait()


def test_progress_on_a_terminal_only(rig):
    rig.run("init")
    rig.write("fleet.jsonl", "".join(json.dumps(small(id=f"fleet-{n:04}")) + "\n" for n in range(50)))
    said, code = on_terminal(rig, ["import", "fleet.jsonl"])
    assert code == 0 and b"\rsheets: 1" in said and b"50 sessions added" in said
    said, code = on_terminal(rig, ["reconcile", "--all", "--json"], stdout=subprocess.DEVNULL)
    assert code == 0 and b"\rsessions: 1 of 50" in said
    said, code = on_terminal(rig, ["reconcile", harness.sample("tcw-012-pump-trailer"), "--json", "--monte-carlo", "20000"],
                             stdout=subprocess.DEVNULL)
    assert code == 0 and b" of 20000" in said and said.startswith(b"\rtrials: ")
    rig.run("reconcile", "--all")  # standard error is empty in a pipe


harness.main(globals())
