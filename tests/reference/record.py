"""The record a second time: canonical content, identity and chain of seals of a store, from their definitions alone.

The definitions stand in src/store/canonical.hpp (form 1) and src/store/records.hpp (head of a seal), the tables and
columns in schema/. Shares nothing with src/. As a program: record.py STORE prints each chain with its head, and exits
with 1 where content, identity, result or a link of a seal is not as the seal says.
"""
import hashlib
import pathlib
import sqlite3
import struct
import sys
import zlib

# Tables of a session in the order of the canonical content, with what orders their rows.
TABLES = [("session", []), ("modification", ["seq"]), ("scale", ["seq"]), ("check_weight", ["scale", "seq"]),
          ("tow_vehicle", []), ("axle", ["seq"]), ("trailer", []), ("rig_limit", ["seq"]), ("state", ["seq"]),
          ("ride_height", ["state", "name"]), ("reading", ["seq"]), ("reading_scale", ["reading", "scale"]),
          ("strike", ["reading"]), ("extra", ["seq"]), ("attachment", ["seq"])]
IDENTITY = {"session": ["place", "client_name", "client_reference"], "tow_vehicle": ["registration", "vin"],
            "trailer": ["registration"]}
LOCAL = {"session": ["session", "imported_at"]}  # of others: the session's key
SEAL = ["origin", "number", "previous", "session_id", "revision", "form", "content_hash", "identity_hash",
        "result_hash", "engine", "build", "sealed_by", "sealed_at"]


def connect(path):
    db = sqlite3.connect(f"{pathlib.Path(path).resolve().as_uri()}?mode=ro", uri=True)
    db.text_factory = bytes  # a text is its bytes, whatever they are
    return db


def item(value):
    if value is None:
        return b"n;"
    if isinstance(value, int):
        return b"i%d;" % value
    if isinstance(value, float):
        return b"r" + struct.pack(">d", value).hex().encode() + b";"
    return b"t%d:" % len(value) + value + b";"


def columns(db, table):
    names = [row[1].decode() for row in db.execute(f"PRAGMA table_info({table})")]
    local = LOCAL.get(table, ["session"])
    return [name for name in names if name not in local]


def rows(db, key, table, order, names):
    listed = ", ".join(f'"{name}"' for name in names)
    by = f" ORDER BY {', '.join(order)}" if order else ""
    for row in db.execute(f"SELECT {listed} FROM {table} WHERE session = ?{by}", (key,)):
        yield table.encode() + b" " + b"".join(map(item, row)) + b"\n"


def content(db, key):
    out = b"steelyard-content/1\n"
    for table, order in TABLES:
        names = [name for name in columns(db, table) if name not in IDENTITY.get(table, [])]
        out += b"".join(rows(db, key, table, order, names))
    return out


def identity(db, key):
    out = b"steelyard-identity/1\n"
    for table, order in TABLES:
        if table in IDENTITY:
            out += b"".join(rows(db, key, table, order, [n for n in columns(db, table) if n in IDENTITY[table]]))
    return out


def sha256(content_bytes):
    return hashlib.sha256(content_bytes).hexdigest()


def text_of(value):
    return value if isinstance(value, bytes) else str(value).encode()


def head(seal):
    """`seal`: the columns of SEAL, by name."""
    out = b"steelyard-seal/1\n"
    for name in SEAL:
        value = text_of(seal[name])
        out += name.encode() + b"=%d:" % len(value) + value + b"\n"
    return sha256(out)


def seals(db):
    """Every seal as a dictionary with head and session besides, in the order of origin and number."""
    names = SEAL + ["head", "session"]
    for row in db.execute(f"SELECT {', '.join(names)} FROM seal ORDER BY origin, number, head").fetchall():
        yield dict(zip(names, row))


def salt_of(db, seal_head):
    row = db.execute("SELECT salt FROM identity_salt WHERE head = ?", (seal_head.decode(),)).fetchone()
    return row[0] if row else None


def inflated(db, table, column, wanted):
    row = db.execute(f"SELECT size, deflated FROM {table} WHERE {column} = ?", (wanted.decode(),)).fetchone()
    if not row:
        return None
    out = zlib.decompress(row[1])
    return out if len(out) == row[0] else None


def is_redacted(db, key):
    return db.execute("SELECT 1 FROM redaction WHERE session = ?", (key,)).fetchone() is not None


def check(path):
    """([what is not as it should be], {origin: (number, head)} of each chain's last seal)."""
    faults, last = [], {}
    db = connect(path)
    for seal in seals(db):
        name = f"{seal['session_id'].decode()}@{seal['revision']}"
        if head(seal) != seal["head"].decode():
            faults.append(f"{name}: head")
        number, previous = last.get(seal["origin"], (0, b""))
        if seal["number"] != number + 1 or seal["previous"] != previous:
            faults.append(f"{name}: link")
        last[seal["origin"]] = (seal["number"], seal["head"])
        now = content(db, seal["session"])
        if sha256(now) != seal["content_hash"].decode():
            faults.append(f"{name}: content")
        if inflated(db, "sealed_copy", "content_hash", seal["content_hash"]) != now:
            faults.append(f"{name}: sealed copy")
        if not is_redacted(db, seal["session"]):
            salt = salt_of(db, seal["head"])
            if salt is None or sha256(salt + identity(db, seal["session"])) != seal["identity_hash"].decode():
                faults.append(f"{name}: identity")
        if seal["result_hash"]:
            result = inflated(db, "issued_result", "result_hash", seal["result_hash"])
            if result is None or sha256(result) != seal["result_hash"].decode():
                faults.append(f"{name}: result")
    db.close()
    return faults, {origin.decode(): (number, top.decode()) for origin, (number, top) in last.items()}


def main(path):
    faults, chains = check(path)
    for origin, (number, top) in sorted(chains.items()):
        print(f"{origin} {number} {top}")
    for fault in faults:
        print(f"differs: {fault}")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
