"""Files that are no sound store of ours.

Pass rule: every command refuses such a file by name, with exit code 1 and a remedy, within seconds; the file, its time of
change and its folder stay as they were to the byte. Application ids and the header's fields: SQLite's file format, 1.3.
"""
import os
import shutil
import sqlite3

import harness

COMMANDS = [["list"], ["show", "x"], ["reconcile", "--all"], ["verify"], ["register"], ["history", "x"],
            ["export", "--all", "--to", "out.jsonl"], ["record", "x", "s", "tow.1", "1"], ["strike", "x", "r", "--why", "w"],
            ["seal", "--all"], ["amend", "x", "--why", "w"], ["backup", "copy.db"], ["redact", "x", "--why", "w", "--yes"],
            ["note"], ["import"], ["merge"]]


def words_of(command, path, other):
    if command == ["note"]:
        command = ["register", "client", "x", "--name", "n"]
    if command == ["import"]:
        command = ["import", harness.sample("tcw-012-pump-trailer")]
    if command == ["merge"]:
        command = ["merge", other]
    return [*command, "--store", path]


def look(path):
    """What must stay as it is. A pipe is not read."""
    if path.is_file():
        return path.read_bytes(), os.stat(path).st_mtime_ns
    return os.lstat(path).st_mode, os.lstat(path).st_mtime_ns if not path.is_dir() else None


def check_refused(rig, path, part, commands=COMMANDS):
    other = rig.folder / "sound.db"
    if not other.exists():
        rig.out("init", "--store", other)
    before, names = look(path), sorted(os.listdir(rig.folder))
    for command in commands:
        out, err = rig.run(*words_of(command, path, other), code=1)
        told = " ".join((out + err).split())
        assert path.name in told and part in told, f"{command} on {path.name}: {told}"
        assert look(path) == before, f"{command} changed {path.name}"
        assert sorted(os.listdir(rig.folder)) == names, f"{command} left {set(os.listdir(rig.folder)) - set(names)}"
    if path.is_file():
        assert path.name in rig.refused("merge", path, "--store", other)
        assert look(path) == before


def store(rig, name="edited.db"):
    path = rig.folder / name
    rig.out("init", "--store", path)
    rig.out("import", harness.sample("tcw-012-pump-trailer"), "--store", path)
    return path


def test_files_of_another_kind(rig):
    kinds = {"text.db": b"a shopping list\n" * 100, "picture.db": b"\x89PNG\r\n\x1a\n" + bytes(5000),
             "cut.db": b"SQLite format 3\x00" + bytes(20), "empty.db": b""}
    for name, content in kinds.items():
        path = rig.folder / name
        path.write_bytes(content)
        check_refused(rig, path, "not a" if content else "empty")
    folder = rig.folder / "folder.db"
    folder.mkdir()
    check_refused(rig, folder, "is a folder")
    pipe = rig.folder / "pipe.db"
    os.mkfifo(pipe)
    check_refused(rig, pipe, "not a store")
    link = rig.folder / "dangling.db"
    link.symlink_to("nowhere.db")
    check_refused(rig, link, "there is no store here")


def test_a_database_of_another_program(rig):
    path = rig.folder / "other.db"
    db = sqlite3.connect(path)
    db.execute("CREATE TABLE reading (a)")
    db.execute("PRAGMA user_version = 1")
    db.commit()
    db.close()
    check_refused(rig, path, "another program")


def test_a_newer_store(rig):
    path = store(rig)
    db = sqlite3.connect(path)
    db.execute("PRAGMA user_version = 99")
    db.commit()
    db.close()
    check_refused(rig, path, "update steelyard")


def test_edited_stores(rig):
    sound = store(rig)
    for number, edit in enumerate(["CREATE TABLE notes (a)", "DROP TRIGGER seal_is_never_changed",
                                   "ALTER TABLE reading ADD COLUMN operator TEXT", "DROP INDEX seal_by_session",
                                   "CREATE TRIGGER quiet AFTER INSERT ON reading BEGIN SELECT 1; END",
                                   "CREATE VIEW v AS SELECT 1"]):
        path = rig.folder / f"edited{number}.db"
        shutil.copy(sound, path)
        db = sqlite3.connect(path)
        db.execute(edit)
        db.commit()
        db.close()
        check_refused(rig, path, "changed how the store is laid out", COMMANDS[:4] + [["seal", "--all"], ["import"]])


def test_damaged_stores(rig):
    sound = store(rig).read_bytes()
    path = rig.folder / "damaged.db"
    for at, part in ((100, "damaged"), (0, "not a")):  # the root page of the schema; the first bytes of the file
        path.write_bytes(sound[:at] + b"\x5a" * 60 + sound[at + 60:])
        check_refused(rig, path, part, COMMANDS[:4] + [["seal", "--all"], ["import"], ["backup", "copy.db"]])


harness.main(globals())
