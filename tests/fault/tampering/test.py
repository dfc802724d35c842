"""A sealed store altered behind the program's back: verify finds each alteration and says where and what. What nothing
inside the file can tell, an old copy, a cut tail, a chain written anew, is told by the head kept outside, and the
program says so. Heads and hashes of an honest store come out of a second implementation (tests/reference/record.py)."""
import pathlib
import shutil

import harness
import altered
import record

LOAD = "load_kg = load_kg + 9, load_figure = load_figure + 9"
WHOLE = "(SELECT session FROM session WHERE id NOT LIKE 'small%')"
SMALL = "(SELECT session FROM session WHERE id = 'small-0001')"
# What is altered, by SQL without triggers; whose record it is (None: of the store); words that the fault holds.
ALTERATIONS = [
    ("a reading, in all three columns", f"UPDATE reading SET {LOAD} WHERE session = {SMALL} AND id = 'r2'",
     "small-0001@1", ["r2", "1200", "1209"]),
    ("a reading of the whole sheet", f"UPDATE reading SET {LOAD} WHERE session = {WHOLE} AND seq = 3", "whole", ["load_kg"]),
    ("a reading's unit", f"UPDATE reading SET load_unit = 'lb' WHERE session = {SMALL} AND id = 'r1'", "small-0001@1",
     ["r1", "lb"]),
    ("a limit", f"UPDATE rig_limit SET load_kg = 4500, load_figure = 4500 WHERE session = {SMALL}", "small-0001@1",
     ["4000", "4500"]),
    ("a limit's source", f"UPDATE rig_limit SET source = 'plate' WHERE session = {SMALL}", "small-0001@1",
     ["test plate"]),
    ("a scale's gain", f"UPDATE scale SET gain = 1.5 WHERE session = {WHOLE} AND seq = 1", "whole", ["gain", "1.5"]),
    ("an axle's place", f"UPDATE axle SET at_mm = 2900, at_figure = 2900 WHERE session = {SMALL} AND seq = 2",
     "small-0001@1", ["2900", "3000"]),
    ("who weighed", f"UPDATE session SET technician = 'N. Body' WHERE session = {SMALL}", "small-0001@1",
     ["N. Body", "R. Okoye"]),
    ("when it was weighed", f"UPDATE session SET weighed_at = '2026-10-02T08:00:00+02:00' WHERE session = {SMALL}",
     "small-0001@1", ["2026-10-02"]),
    ("the client's name", f"UPDATE session SET client_name = 'Someone Else' WHERE session = {SMALL}", "small-0001@1",
     ["client"]),
    ("a registration", f"UPDATE tow_vehicle SET registration = 'XX 1' WHERE session = {SMALL}", "small-0001@1",
     ["registration"]),
    ("why a reading was struck", f"UPDATE strike SET why = 'another reason' WHERE session = {WHOLE}", "whole",
     ["another reason"]),
    ("a reading that is gone", f"DELETE FROM reading WHERE session = {SMALL} AND id = 'r2'", "small-0001@1", ["r2"]),
    ("a strike that is gone", f"DELETE FROM strike WHERE session = {WHOLE}", "whole", ["strike"]),
    ("a reading that was added", "INSERT INTO reading (session, seq, state, id, position, load_kg, load_figure, load_unit, "
     "taken_at, recorded_at) SELECT session, seq + 10, state, 'r77', position, load_kg, load_figure, load_unit, taken_at, "
     f"recorded_at FROM reading WHERE session = {SMALL} AND id = 'r1'", "small-0001@1", ["r77"]),
    ("a strike that was added", "INSERT INTO strike (session, reading, why, struck_by, struck_at, recorded_at) SELECT "
     f"session, 1, 'it did not suit', '', '', '2026-10-03T06:40:00Z' FROM session WHERE session = {SMALL}",
     "small-0001@1", ["strike", "added"]),
    ("an attachment that is gone", f"DELETE FROM attachment WHERE session = {WHOLE} AND seq = 2", "whole",
     ["attachment"]),
    ("an attached file", "UPDATE attached_file SET bytes = CAST(bytes || x'00' AS BLOB)", "whole", ["towbar plate"]),
    ("an attached file that is gone", "DELETE FROM attached_file", "whole", ["attachment 1"]),
    ("a session that is gone", f"DELETE FROM session WHERE id = 'small-0002'", "small-0002@1", ["missing"]),
    ("a session that is gone with all it had", "".join(
        f"DELETE FROM {table} WHERE session = (SELECT session FROM session WHERE id = 'small-0002');"
        for table, _ in reversed(record.TABLES)), "small-0002@1", ["missing"]),
    ("a seal that is gone", "DELETE FROM identity_salt WHERE head = (SELECT head FROM seal WHERE session_id = "
     "'small-0002'); DELETE FROM seal WHERE session_id = 'small-0002'", "small-0002@1", ["seal"]),
    ("a seal that is gone with its copy and result", "DELETE FROM identity_salt WHERE head = (SELECT head FROM seal WHERE "
     "session_id = 'small-0002'); DELETE FROM sealed_copy WHERE content_hash = (SELECT content_hash FROM seal WHERE "
     "session_id = 'small-0002'); DELETE FROM issued_result WHERE result_hash = (SELECT result_hash FROM seal WHERE "
     "session_id = 'small-0002'); DELETE FROM seal WHERE session_id = 'small-0002'", None, ["seal 3", "missing"]),
    ("two seals in each other's place", "UPDATE seal SET number = 5 - number WHERE number IN (2, 3)", "small-0001@1",
     ["altered"]),
    ("who sealed", f"UPDATE seal SET sealed_by = 'N. Body' WHERE session = {SMALL}", "small-0001@1", ["altered"]),
    ("when it was sealed", f"UPDATE seal SET sealed_at = '2026-01-01T00:00:00Z' WHERE session = {SMALL}", "small-0001@1",
     ["altered"]),
    ("a seal on another session", f"UPDATE seal SET session = {WHOLE} WHERE session = {SMALL}", "whole",
     ["small-0001"]),
    ("an issued result", "UPDATE issued_result SET deflated = (SELECT deflated FROM issued_result WHERE result_hash <> (SELECT "
     "result_hash FROM seal WHERE session_id = 'small-0001')), size = (SELECT size FROM issued_result WHERE result_hash <> "
     "(SELECT result_hash FROM seal WHERE session_id = 'small-0001')) WHERE result_hash = (SELECT result_hash FROM seal "
     "WHERE session_id = 'small-0001')", "small-0001@1", ["result", "altered"]),
    ("an issued result that is gone", "DELETE FROM issued_result WHERE result_hash = (SELECT result_hash FROM seal WHERE "
     "session_id = 'small-0001')", "small-0001@1", ["result", "missing"]),
    ("a result's hash", f"UPDATE seal SET result_hash = '{'0' * 64}' WHERE session = {SMALL}", "small-0001@1",
     ["altered"]),
    ("a seal without its result", f"UPDATE seal SET result_hash = '' WHERE session = {SMALL}", "small-0001@1",
     ["altered"]),
    ("a sealed copy", "UPDATE sealed_copy SET deflated = (SELECT deflated FROM sealed_copy WHERE content_hash <> (SELECT "
     "content_hash FROM seal WHERE session_id = 'small-0001')), size = (SELECT size FROM sealed_copy WHERE content_hash <> "
     "(SELECT content_hash FROM seal WHERE session_id = 'small-0001')) WHERE content_hash = (SELECT content_hash FROM seal "
     "WHERE session_id = 'small-0001')", "small-0001@1", ["copy"]),
    ("a sealed copy that is gone", "DELETE FROM sealed_copy WHERE content_hash = (SELECT content_hash FROM seal WHERE "
     "session_id = 'small-0001')", "small-0001@1", ["copy"]),
    ("a salt that is gone", "DELETE FROM identity_salt WHERE head = (SELECT head FROM seal WHERE session_id = "
     "'small-0001')", "small-0001@1", ["salt"]),
    ("why it was amended", "UPDATE session SET revision_reason = 'x' WHERE id = 'small-0003' AND revision = 2",
     "small-0003@2", ["the gate was left out"]),
    ("which revision it is", "UPDATE session SET revision = 3 WHERE id = 'small-0003' AND revision = 2", "small-0003@3",
     ["revision"]),
    ("a word of the schema", "UPDATE limit_name SET measure = 'ratio' WHERE name = 'combination'", None, ["limit_name"]),
]


def verify(rig, path, *words, code):
    return rig.json("verify", "--quick", "--store", path, *words, code=code)


def check_told(answer, what, session, words):
    faults = answer["faults"]
    told = f"{what}: {faults}"
    assert answer["sound"] is False and faults, told
    if session:
        assert any(f["session"] == session and all(w in f["what"] for w in words) for f in faults), told
    else:
        assert any(all(w in f["what"] for w in words) for f in faults), told


def test_each_alteration_is_found_and_named(rig):
    ids = altered.sealed_store(rig)
    whole = f"{ids[0]}@1"
    assert verify(rig, "steelyard.db", code=0)["sealed"] == 5
    missed = []
    for what, sql, session, words in ALTERATIONS:
        path = altered.copy(rig, "altered.db")
        with altered.unguarded(path) as db:
            before = db.total_changes
            for statement in sql.rstrip(";").split(";"):
                db.execute(statement)
            assert db.total_changes > before, f"{what}: nothing was altered"
        try:
            check_told(verify(rig, path, code=1), what, whole if session == "whole" else session, words)
        except AssertionError as error:
            missed.append(str(error))
    assert not missed, "\n".join(missed)


def test_what_the_guards_refuse(rig):
    """Without dropping them: the triggers hold against a shell, and what slips past them is found."""
    altered.sealed_store(rig, whole=False)
    path = altered.copy(rig, "altered.db")
    for sql in (f"UPDATE reading SET {LOAD}", "DELETE FROM reading", "DELETE FROM seal", "UPDATE seal SET sealed_by = 'x'",
                "UPDATE sealed_copy SET size = 1", "DELETE FROM session", "UPDATE session SET place = 'x'",
                "INSERT OR REPLACE INTO reading SELECT * FROM reading WHERE id = 'r1'",
                "INSERT OR REPLACE INTO seal SELECT * FROM seal", "UPDATE OR REPLACE reading SET seq = 1"):
        db = altered.raw(path)
        db.execute("PRAGMA recursive_triggers = OFF")
        try:
            db.execute(sql)
            raise RuntimeError(f"not refused: {sql}")
        except altered.sqlite3.DatabaseError as error:
            assert "never" in str(error) or "sealed" in str(error) or "only" in str(error), f"{sql}: {error}"
        finally:
            db.close()
    assert verify(rig, path, code=0)["sound"]
    # A replacing row runs no trigger of the one that it removes; the seal tells.
    db = altered.raw(path)
    db.execute("INSERT OR REPLACE INTO issued_result SELECT result_hash, size + 1, deflated FROM issued_result LIMIT 1")
    db.close()
    check_told(verify(rig, path, code=1), "a replaced result", None, ["result"])


def test_changed_figures_do_not_follow_from_the_readings(rig):
    altered.sealed_store(rig, whole=False)
    path = altered.copy(rig, "altered.db")
    with altered.unguarded(path) as db:
        db.execute(f"UPDATE reading SET {LOAD} WHERE session = {SMALL} AND id = 'r2'")
    answer = rig.json("verify", "--store", path, code=1)
    assert answer["recomputed"] == {"results": 4, "exactly": 3, "to_tolerance": 0, "differ": 1}
    kinds = {(f["kind"], f["session"]) for f in answer["faults"]}
    assert kinds == {("content_changed", "small-0001@1"), ("figures_differ", "small-0001@1")}, answer["faults"]
    said = rig.run("verify", "--store", path, code=1)[0]
    assert "small-0001@1" in said and "1209" in said and "Not sound" in said


def test_an_old_copy_is_told_by_its_head(rig):
    altered.sealed_store(rig, whole=False)
    old = altered.copy(rig, "old.db")
    rig.run("import", rig.write("later.json", harness.small(id="later-0001")))
    head = rig.json("seal", "later-0001", "--by", "R. Okoye")["chain"]["head"]
    answer = verify(rig, old, code=0)
    assert any("old copy" in what for what in answer["not_excluded"])
    check_told(verify(rig, old, "--head", head, code=1), "an old copy", None, [head, "older copy"])
    assert verify(rig, "steelyard.db", "--head", head, code=0)["head"] == {"given": head, "found": True, "seals_after": 0}
    # The other way round: what came after a head that was kept is counted.
    before = verify(rig, old, code=0)["chains"][0]["head"]
    assert verify(rig, "steelyard.db", "--head", before.upper(), code=0)["head"]["seals_after"] == 1


def test_a_cut_tail_is_told_by_the_head(rig):
    altered.sealed_store(rig, whole=False)
    head = verify(rig, "steelyard.db", code=0)["chains"][0]["head"]
    path = altered.copy(rig, "cut.db")
    with altered.unguarded(path) as db:
        key, content, result = db.execute("SELECT session, content_hash, result_hash FROM seal WHERE head = ?",
                                          (head,)).fetchone()
        db.execute("DELETE FROM identity_salt WHERE head = ?", (head,))
        db.execute("DELETE FROM seal WHERE head = ?", (head,))
        db.execute("DELETE FROM sealed_copy WHERE content_hash = ?", (content,))
        db.execute("DELETE FROM issued_result WHERE result_hash = ?", (result,))
        for table, _ in reversed(record.TABLES):
            db.execute(f"DELETE FROM {table} WHERE session = ?", (key,))
    answer = rig.json("verify", "--store", path)
    assert answer["sound"] and any("cut off" in what for what in answer["not_excluded"])
    check_told(verify(rig, path, "--head", head, code=1), "a cut tail", None, [head, "cut off"])


def test_a_chain_written_anew_is_told_by_the_head_alone(rig):
    altered.sealed_store(rig, whole=False)
    head = verify(rig, "steelyard.db", code=0)["chains"][0]["head"]
    path = altered.copy(rig, "anew.db")
    with altered.unguarded(path) as db:
        db.execute(f"UPDATE reading SET {LOAD} WHERE session = {SMALL} AND id = 'r2'")
        db.execute(f"UPDATE session SET client_name = 'Someone Else' WHERE session = {SMALL}")
    result = rig.out("reconcile", "small-0001", "--store", path, "--json").strip().encode()
    new_head = altered.seal_anew(path, {})
    # With the figures as they were issued the readings give them away …
    answer = rig.json("verify", "--store", path, code=1)
    assert {f["kind"] for f in answer["faults"]} == {"figures_differ"}, answer["faults"]
    # … and with figures to match nothing inside the file does.
    new_head = altered.seal_anew(path, {("small-0001", 1): result})
    answer = rig.json("verify", "--store", path)
    assert answer["sound"] and answer["chains"][0]["head"] == new_head != head
    assert any("written anew" in what for what in answer["not_excluded"])
    check_told(verify(rig, path, "--head", head, code=1), "a chain written anew", None, [head, "written anew"])


def test_the_second_implementation_agrees_on_an_honest_store(rig):
    altered.sealed_store(rig)
    for sheet in sorted(pathlib.Path(harness.SAMPLES).glob("*.json")):
        rig.run("import", sheet, warned=sheet.stem == "tcw-009-axles-only-incomplete")
    rig.run("seal", "--all", "--by", "R. Okoye")
    faults, chains = record.check(rig.folder / "steelyard.db")
    assert not faults, faults
    chain = verify(rig, "steelyard.db", code=0)["chains"][0]
    assert chains == {chain["origin"]: (chain["seals"], chain["head"])}
    assert chain["seals"] > 20
    for one in rig.lines("list"):
        for revision in rig.json("show", one["session"], "--record")["revisions"]:
            db = record.connect(rig.folder / "steelyard.db")
            key = db.execute("SELECT session FROM session WHERE id = ? AND revision = ?",
                             (one["session"], revision["revision"])).fetchone()[0]
            assert revision["content_hash"] == record.sha256(record.content(db, key))
            db.close()


def test_rewriting_without_altering_gives_the_same_head(rig):
    """The forger of these tests is a good one: over an honest store it writes the very same chain."""
    altered.sealed_store(rig)
    head = verify(rig, "steelyard.db", code=0)["chains"][0]["head"]
    path = altered.copy(rig, "anew.db")
    assert altered.seal_anew(path, {}) == head
    assert rig.json("verify", "--store", path, "--head", head)["sound"]


harness.main(globals())
