"""kill -9 at random points of every command that writes.

Pass rule, for each round: what the program acknowledged (a whole line on its standard output, or exit code 0) is there;
what it did not acknowledge is wholly there or wholly not; SQLite's integrity check passes; the next command works
without help, be it one that only reads; verify finds no fault; beside the store stand only files that the command was
asked for, a journal, or one unfinished file that the next run of the same command does not trip over.

kill -9 keeps the page cache, so this is the death of a process; the loss of power is fault_power's. Delays are drawn
over the whole time that a command takes, which is measured first. STEELYARD_FAULT_ALL=1 runs 1,000 rounds.
"""
import json
import os
import pathlib
import random
import shutil
import sqlite3
import subprocess
import time
import zipfile

import harness

ROUNDS = 1000 if os.environ.get("STEELYARD_FAULT_ALL") else 26 if os.environ.get("STEELYARD_FAULT_FEW") else 120
POSITIONS = ["tow.1", "tow.2", "trailer.1"]
RELEASED = harness.SOURCE / "tests/store/released/format-1.db"


def sheet(number):
    one = json.loads((harness.SAMPLES / "tcw-012-pump-trailer.json").read_text(encoding="utf-8"))
    one["id"] = f"killed-{number:05}"
    return one


class Bench:
    """A store, a count of what is asked of it, and the way to ask and to kill."""
    # Of all benches: runs that were cut off, those that left a journal behind, seconds that a command takes.
    kills = journals = 0
    times = {}

    def __init__(self, rig, seed):
        self.rig, self.random = rig, random.Random(seed)
        self.number = 0
        rig.out("init")
        self.kept = []  # ids of sessions that are there for certain
        self.open = []  # of these, those that are not sealed
        self.readings = {}  # id -> readings acknowledged
        self.add_sheets(3)

    def add_sheets(self, many):
        path, ids = self.fleet(many)
        self.rig.out("import", path)
        self.keep(ids)

    def keep(self, ids):
        self.kept += ids
        self.open += ids

    def fleet(self, many):
        ids = []
        path = self.rig.folder / "fleet.jsonl"
        with open(path, "w", encoding="utf-8") as out:
            for _ in range(many):
                self.number += 1
                one = sheet(self.number)
                ids.append(one["id"])
                out.write(json.dumps(one) + "\n")
        return path, ids

    def start(self, words):
        return subprocess.Popen([harness.PROGRAM, *map(str, words)], cwd=self.rig.folder, env=self.rig.environment,
                                stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)

    def killed(self, kind, words):
        """Runs a command and kills it somewhere; gives the whole lines that it said, and whether it got through."""
        begin = time.monotonic()
        process = self.start(words)
        try:
            # The first run of each command is not killed but measured.
            delay = self.random.uniform(0, self.times[kind] * 1.2) if kind in self.times else None
            said, _ = process.communicate(timeout=delay)
            took = time.monotonic() - begin
            self.times[kind] = 0.5 * (self.times.get(kind, took) + took)
        except subprocess.TimeoutExpired:
            process.kill()
            said, _ = process.communicate()
            Bench.kills += process.returncode == -9
            Bench.journals += any(self.rig.folder.glob("*-journal"))
        lines = said.decode().split("\n")[:-1]
        return lines, process.returncode == 0

    def sessions(self):
        return {one["session"]: one for one in self.rig.lines("list")}

    def check(self):
        there = self.sessions()  # the next command, and it only reads
        for one in self.kept:
            assert one in there, f"{one} was acknowledged and is gone"
        for one in there.values():
            assert one["states"] == there[self.kept[0]]["states"], f"a part of {one['session']}"
        with sqlite3.connect(self.rig.folder / "steelyard.db") as connection:
            assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
            assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
        connection.close()
        return there


def record(bench):
    one = bench.random.choice(bench.open)
    before = bench.sessions()[one]["readings"]
    load = bench.random.randint(500, 1500)
    lines, _ = bench.killed("record", ["record", one, "together", bench.random.choice(POSITIONS), load, "--scale", "P1",
                                       "--json"])
    after = bench.check()[one]["readings"]
    assert after in ((before + 1,) if lines else (before, before + 1)), (before, after, lines)
    shown = bench.rig.json("show", one)
    for state in shown["states"]:
        for reading in state["readings"]:
            assert reading["scale"], "a reading without its scale"


def strike(bench):
    one = bench.random.choice(bench.open)
    shown = bench.rig.json("show", one)
    free = [r["id"] for s in shown["states"] for r in s["readings"] if "struck" not in r]
    before = bench.sessions()[one]["struck"]
    lines, _ = bench.killed("strike", ["strike", one, bench.random.choice(free), "--why", "killed"])
    after = bench.check()[one]["struck"]
    assert after in ((before + 1,) if lines else (before, before + 1)), (before, after, lines)


def import_fleet(bench):
    path, ids = bench.fleet(4)
    lines, done = bench.killed("import", ["import", path])
    there = [one for one in ids if one in bench.check()]
    assert there in (([ids] if lines or done else [ids, []])), (there, ids)
    bench.keep(there)


def seal(bench):
    if len(bench.open) < 3:
        bench.add_sheets(4)
    one = bench.open.pop()
    lines, done = bench.killed("seal", ["seal", one, "--by", "R. Okoye"])
    sealed = bench.check()[one]["sealed"]
    assert sealed or not (lines or done), "an acknowledged seal is gone"
    if not sealed:
        bench.open.append(one)
    assert bench.rig.json("verify", "--quick")["sound"] is True


def amend(bench):
    sealed = [one for one in bench.kept if one not in bench.open]
    if not sealed:
        return seal(bench)
    one = bench.random.choice(sealed)
    before = bench.sessions()[one]["revision"]
    lines, _ = bench.killed("amend", ["amend", one, "--why", "killed", "--by", "R. Okoye"])
    after = bench.check()[one]["revision"]
    assert after in ((before + 1,) if lines else (before, before + 1))
    if after > before:
        bench.open.append(one)
    return None


def choose(bench):
    name = f"provider {bench.random.random()}"
    lines, done = bench.killed("settings", ["settings", "provider.name", name])
    bench.check()
    standing = [one["value"] for one in bench.rig.lines("settings")]
    assert name in standing or not (lines or done), "an acknowledged choice is gone"


def merge(bench):
    other = bench.rig.folder / "other.db"
    other.unlink(missing_ok=True)
    bench.rig.out("init", "--store", other)
    path, ids = bench.fleet(3)
    bench.rig.out("import", path, "--store", other)
    lines, done = bench.killed("merge", ["merge", other])
    there = [one for one in ids if one in bench.check()]
    assert there in ([ids] if lines or done else [ids, []]), (there, ids)
    bench.keep(there)


def backup(bench):
    copy = bench.rig.folder / "copy.db"
    there_before = copy.exists()
    lines, done = bench.killed("backup", ["backup", copy, "--replace"])
    bench.check()
    assert copy.exists() or not (there_before or lines or done), "the backup is gone"
    if copy.exists():
        assert bench.rig.json("verify", "--quick", "--store", copy)["sound"] is True
    if lines or done:
        ids = {one["session"] for one in bench.rig.lines("list", "--store", copy)}
        assert ids == set(bench.sessions())
    for left in bench.rig.folder.glob("copy.db.unfinished-*"):
        left.unlink()


def migrate(bench):
    old = bench.rig.folder / "old.db"
    shutil.copy(RELEASED, old)
    old.chmod(0o644)
    lines, done = bench.killed("migrate", ["import", harness.sample("tcw-012-pump-trailer"), "--store", old])
    bench.rig.out("import", harness.sample("tcw-012-pump-trailer"), "--store", old)  # works without help
    assert len(bench.rig.lines("list", "--store", old)) == 5
    copies = [path for path in bench.rig.folder.glob("old.db.format-1-*") if "unfinished" not in path.name]
    assert copies, "no copy of the old format was kept"
    for copy in bench.rig.folder.glob("old.db*"):
        if copy in copies:
            with sqlite3.connect(copy) as connection:
                assert connection.execute("SELECT count(*) FROM session").fetchone() == (4,)
            connection.close()
        copy.unlink()


def report(bench):
    to = bench.rig.folder / "report.xlsx"
    before = to.exists()
    _, done = bench.killed("report", ["report", bench.kept[0], "--to", to, "--issued", "2026-10-04"])
    if to.exists():
        with zipfile.ZipFile(to) as book:  # every part with its checksum, and the index at the end
            assert book.testzip() is None and "xl/workbook.xml" in book.namelist(), "half a workbook"
    else:
        assert not done and not before
    for left in list(bench.rig.folder.glob("*report*")):
        if left != to:
            shutil.rmtree(left) if left.is_dir() else left.unlink()


def redact(bench):
    one = bench.random.choice(bench.kept)
    name = bench.rig.json("show", one).get("client", {}).get("name")
    lines, done = bench.killed("redact", ["redact", one, "--why", "killed", "--yes"])
    bench.check()
    after = bench.rig.json("show", one)
    vehicle = after["rig"]["tow_vehicle"]
    left = [after.get("client", {}).get("name"), after["weighed"].get("place"), vehicle.get("registration")]
    assert not any(left) or (all(left) and not (lines or done)) or name is None, left
    assert bench.rig.json("verify", "--quick")["sound"] is True


OPERATIONS = [record, record, record, strike, import_fleet, seal, amend, merge, backup, migrate, report, choose, redact]


def test_killed_at_any_moment(rig):
    bench = Bench(rig, 4)
    reached = {}
    for number in range(ROUNDS):
        if number % 60 == 59:  # a store that grows would make every later round slower
            for path in pathlib.Path(rig.folder).iterdir():
                path.unlink()
            bench = Bench(rig, number)
        operation = OPERATIONS[number % len(OPERATIONS)]
        try:
            operation(bench)
        except AssertionError as error:
            raise AssertionError(f"round {number}, {operation.__name__}: {error}") from error
        reached[operation.__name__] = reached.get(operation.__name__, 0) + 1
    assert rig.json("verify")["sound"] is True
    print(f"{ROUNDS} rounds, {Bench.kills} cut off, {Bench.journals} with a journal left: {reached}")
    assert ROUNDS / 4 < Bench.kills < ROUNDS, "too few were cut off, or too many, for this to say anything"


harness.main(globals())
