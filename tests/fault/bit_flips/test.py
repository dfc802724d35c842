"""Single bits flipped at random in a sealed store.

Pass rule, for each flip: verify answers with 0 or 1 and within a minute, and never with 0 where the content that the
file gives is another than before. Content is every row of every table but for the file's own bookkeeping:
session.imported_at, migration.applied_at and program_version, store.made_at. A flip in a free byte, in a page's unused
part or in an index changes none, and may go unnoticed. (SQLite itself notices few: of those that change content its
integrity_check says ok to the number printed.) In CI 150 flips, with STEELYARD_FAULT_ALL 1,000.
"""
import os
import random
import sqlite3
import subprocess

import altered
import harness

FLIPS = 1000 if os.environ.get("STEELYARD_FAULT_ALL") else 50 if os.environ.get("STEELYARD_FAULT_FEW") else 150
BOOKKEEPING = {"session": ["imported_at"], "migration": ["applied_at", "program_version"], "store": ["made_at"]}


def content(path):
    """Every row as bytes; None where the file does not give them."""
    db = sqlite3.connect(path)
    db.text_factory = bytes
    try:
        tables = [name.decode() for (name,) in db.execute("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name")]
        rows = []
        for table in tables:
            columns = [row[1].decode() for row in db.execute(f"SELECT * FROM pragma_table_info('{table}')")]
            kept = [name for name in columns if name not in BOOKKEEPING.get(table, [])]
            rows.append((table, sorted(map(repr, db.execute(f"SELECT {', '.join(kept)} FROM {table}")))))
        schema = sorted(map(repr, db.execute("SELECT type, name, sql FROM sqlite_master")))
        check = db.execute("PRAGMA integrity_check").fetchall() == [(b"ok",)]
        return (rows, schema), check
    except (sqlite3.Error, UnicodeDecodeError, MemoryError):
        return None, False
    finally:
        db.close()


def test_no_flip_that_changes_content_goes_unnoticed(rig):
    altered.sealed_store(rig)
    rig.out("register", "client", "tcwb", "--contact", "stores@tcwb.example")
    rig.out("settings", "provider.name", "Okoye & Adeyemi, weighers", "--by", "R. Okoye")
    rig.out("redact", "small-0002", "--why", "the client asked for it", "--by", "R. Okoye", "--yes")
    path = rig.folder / "steelyard.db"
    sound = path.read_bytes()
    before, _ = content(path)
    assert before is not None
    draw = random.Random(29)
    changed = unreadable = missed_by_sqlite = noticed = 0
    copy = rig.folder / "flipped.db"
    for number in range(FLIPS):
        bit = draw.randrange(len(sound) * 8)
        flipped = bytearray(sound)
        flipped[bit // 8] ^= 1 << bit % 8
        copy.write_bytes(flipped)
        done = subprocess.run([harness.PROGRAM, "verify", "--quick", "--store", copy], env=rig.environment,
                              capture_output=True, timeout=60)
        assert done.returncode in (0, 1), f"bit {bit}: exit {done.returncode}\n{done.stderr.decode()}"
        now, passes = content(copy)
        noticed += done.returncode
        if now is None:
            unreadable += 1
        elif now != before:
            changed += 1
            missed_by_sqlite += passes
        assert done.returncode == 1 or now == before, (
            f"bit {bit} of {len(sound) * 8}, number {number}, went unnoticed: "
            f"{[(a, b) for a, b in zip(before[0], now[0]) if a != b] if now else 'the file is not readable'}")
    print(f"{FLIPS} flips: {noticed} noticed; {changed} changed content ({missed_by_sqlite} of these pass SQLite's check), "
          f"{unreadable} made the file unreadable")
    assert changed + unreadable > FLIPS / 10, "too few changed anything for this to say anything"


harness.main(globals())
