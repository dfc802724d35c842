"""Two writers at once, and a reader that never ends.

Pass rule: of two writers each either stores all of its own or is refused in bounded time with what to do, and nothing is
lost; beside a reader that holds its lock for ever a write is refused within some seconds with nothing stored, reading
goes on, and afterwards the same write succeeds. (The bound is the program's own, 5 s.)
"""
import sqlite3
import subprocess
import time

import harness

SESSION = "1bb6"


def with_store(rig):
    rig.out("init")
    rig.out("import", harness.sample("tcw-012-pump-trailer"))


def test_writers_at_once(rig):
    with_store(rig)
    before = rig.lines("list")[0]["readings"]
    running = [subprocess.Popen([harness.PROGRAM, "record", SESSION, "together", "tow.1", str(900 + n), "--json"],
                                cwd=rig.folder, env=rig.environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
               for n in range(8)]
    done = [(one.communicate(timeout=120), one.returncode) for one in running]
    good = [out for (out, _), code in done if code == 0]
    for (_, err), code in done:
        assert code == 0 or (code == 1 and b"another program is using the store" in err), err
    assert good, "not one of them got through"
    assert rig.lines("list")[0]["readings"] == before + len(good)


def test_a_reader_that_never_ends(rig):
    with_store(rig)
    reader = sqlite3.connect(rig.folder / "steelyard.db", isolation_level=None)
    reader.execute("BEGIN")
    reader.execute("SELECT count(*) FROM reading").fetchall()
    begin = time.monotonic()
    told = rig.refused("strike", SESSION, "r1", "--why", "door open")
    assert time.monotonic() - begin < 30
    assert "another program is using the store" in told and "wait" in told, told
    assert rig.lines("list")[0]["struck"] == 0
    assert rig.json("verify", "--quick")["sound"] is True
    reader.execute("COMMIT")
    reader.close()
    rig.out("strike", SESSION, "r1", "--why", "door open")
    assert rig.lines("list")[0]["struck"] == 1


harness.main(globals())
