"""steelyard amend: a new revision beside the sealed one, which stays."""
import json

import harness

NAME = "tcw-012-pump-trailer"


def with_store(rig):
    rig.out("init")
    rig.out("import", harness.sample(NAME))
    rig.out("seal", "1bb6")


def test_a_new_revision_beside_the_sealed_one(rig):
    with_store(rig)
    before = rig.json("show", "1bb6")
    record = rig.json("amend", "1bb6", "--why", "limit misread", "--by", "M. Adeyemi")
    assert record["revision"] == 2
    after = rig.json("show", "1bb6")
    sealed = rig.json("show", "1bb6", "--record")["revisions"][0]["content_hash"]
    assert after["revision"] == 2 and after["replaces"] == f"revision 1, SHA-256 {sealed}"
    assert after["revised"]["why"] == "limit misread" and after["revised"]["by"] == "M. Adeyemi"
    assert after["states"] == before["states"]
    assert rig.json("show", "1bb6@1") == before
    rig.out("strike", "1bb6", "r1", "--why", "door open")
    rig.out("seal", "1bb6")
    assert rig.json("verify")["sound"] is True
    assert rig.json("reconcile", "1bb6")["revision"] == 2
    assert rig.json("reconcile", "1bb6@1")["revision"] == 1


def test_a_corrected_sheet_keeps_what_was_read(rig):
    with_store(rig)
    sheet = rig.json("show", "1bb6")
    sheet["rig"]["limits"][0]["value"] = 3200
    rig.out("amend", "1bb6", "--why", "plate misread", "--with", rig.write("c.json", json.dumps(sheet)))
    assert rig.json("show", "1bb6")["rig"]["limits"][0]["value"] == 3200
    rig.out("seal", "1bb6")
    sheet["states"][0]["readings"][0]["load"] += 1
    told = rig.refused("amend", "1bb6", "--why", "x", "--with", rig.write("c.json", json.dumps(sheet)))
    assert "alters reading" in told, told
    del sheet["states"][0]["readings"][0]
    told = rig.refused("amend", "1bb6", "--why", "x", "--with", rig.write("c.json", json.dumps(sheet)))
    assert "leaves out reading" in told, told
    assert rig.json("show", "1bb6")["revision"] == 2


def test_what_is_refused(rig):
    with_store(rig)
    rig.out("amend", "1bb6", "--why", "once")
    assert "is not sealed" in rig.refused("amend", "1bb6", "--why", "twice")
    assert "replaced by revision 2" in rig.refused("amend", "1bb6@1", "--why", "x")
    rig.wrong("amend", "1bb6")
    rig.wrong("amend", "1bb6", "--why", " ")
    rig.wrong("amend", "1bb6", "--why", "x", "--with", "fleet.jsonl")


harness.main(globals())
