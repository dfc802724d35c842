"""Makes a sealed store and alters it behind the program's back, as somebody with a database shell would.

The schema stays as released to the letter: triggers are dropped, the rows altered, the triggers put back from their
own text, so that opening the store finds nothing.
"""
import contextlib
import hashlib
import shutil
import sqlite3
import zlib

import harness
import record

PICTURE = b"\x89PNG\r\n\x1a\n" + b"a plate, photographed" * 20


def raw(path):
    db = sqlite3.connect(path, isolation_level=None)
    db.execute("PRAGMA foreign_keys = OFF")
    return db


@contextlib.contextmanager
def unguarded(path):
    """A connection without triggers, which are there again afterwards."""
    db = raw(path)
    db.execute("BEGIN")
    triggers = db.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger' ORDER BY rowid").fetchall()
    for name, _ in triggers:
        db.execute(f'DROP TRIGGER "{name}"')
    yield db
    for _, sql in triggers:
        db.execute(sql)
    db.execute("COMMIT")
    db.close()


def attach(path, session):
    """A picture on the session's second limit and on its first reading; before it is sealed."""
    db = raw(path)
    key = db.execute("SELECT session FROM session WHERE id = ?", (session,)).fetchone()[0]
    digest = hashlib.sha256(PICTURE).hexdigest()
    db.execute("INSERT INTO attached_file (sha256, bytes) VALUES (?, ?)", (digest, PICTURE))
    for number, (limit, reading) in enumerate([(2, None), (None, 1)], 1):
        db.execute("INSERT INTO attachment (session, seq, rig_limit, reading, what, media_type, size, sha256, attached_by, "
                   "attached_at) VALUES (?, ?, ?, ?, 'towbar plate', 'image/png', ?, ?, 'R. Okoye', "
                   "'2026-10-03T06:40:00Z')", (key, number, limit, reading, len(PICTURE), digest))
    db.close()


def sealed_store(rig, whole=True):
    """steelyard.db with four sealed sessions: a whole sheet with attachments (unless not `whole`) and three small ones,
    one of them amended and sealed again. Gives the ids in the order of their first seals."""
    ids = [f"small-000{n}" for n in (1, 2, 3)]
    rig.run("init")
    for n, one in enumerate(ids):
        rig.run("import", rig.write(f"{n}.json", harness.small(
            id=one, client={"uid": "tcwb", "name": "Tallow Creek Water Board", "reference": f"WO-{n}"},
            weighed={"at": f"2026-10-0{n + 1}T08:00:00+02:00", "technician": "R. Okoye", "place": "Depot 4"})))
    if whole:
        sheet = harness.sample("tcw-036-known-gain-struck-reading")
        rig.run("import", sheet)
        ids.insert(0, harness.sheet("tcw-036-known-gain-struck-reading")["id"])
        attach(rig.folder / "steelyard.db", ids[0])
    for one in ids:
        rig.run("seal", one)
    rig.run("amend", "small-0003", "--why", "the gate was left out")
    rig.run("record", "small-0003", "together", "tow.1", "1001")
    rig.run("seal", "small-0003")
    return ids


def copy(rig, name):
    return shutil.copyfile(rig.folder / "steelyard.db", rig.folder / name)


def put_deflated(db, table, column, text):
    digest = record.sha256(text)
    db.execute(f"INSERT OR REPLACE INTO {table} ({column}, size, deflated) VALUES (?, ?, ?)",
               (digest, len(text), zlib.compress(text)))
    return digest


def seal_anew(path, results):
    """Writes every seal anew over what the store holds now, as an attacker would who knows the definitions. `results`:
    new issued results by session id and revision."""
    with unguarded(path) as db:
        db.text_factory = bytes
        names = ", ".join(record.SEAL + ["head", "session"])
        seals = [dict(zip(record.SEAL + ["head", "session"], row))
                 for row in db.execute(f"SELECT {names} FROM seal ORDER BY number").fetchall()]
        salts = dict(db.execute("SELECT head, salt FROM identity_salt").fetchall())
        for table in ("identity_salt", "seal", "sealed_copy"):
            db.execute(f"DELETE FROM {table}")
        previous = ""
        for seal in seals:
            salt = salts[seal["head"]]
            seal["previous"] = previous
            seal["content_hash"] = put_deflated(db, "sealed_copy", "content_hash", record.content(db, seal["session"]))
            seal["identity_hash"] = record.sha256(salt + record.identity(db, seal["session"]))
            result = results.get((seal["session_id"].decode(), seal["revision"]))
            if result is not None:
                seal["result_hash"] = put_deflated(db, "issued_result", "result_hash", result)
            previous = seal["head"] = record.head(seal)
            seal = {name: value.decode() if isinstance(value, bytes) else value for name, value in seal.items()}
            db.execute(f"INSERT INTO seal ({names}) VALUES ({', '.join('?' * (len(record.SEAL) + 2))})",
                       [seal[name] for name in record.SEAL + ["head", "session"]])
            db.execute("INSERT INTO identity_salt (head, salt) VALUES (?, ?)", (seal["head"], salt.decode()))
        db.execute("DELETE FROM issued_result WHERE result_hash NOT IN (SELECT result_hash FROM seal)")
    return previous
