"""steelyard merge: what another store holds comes in once; conflicts are named and stand side by side."""
import json

import harness


def van(rig, name, *samples):
    rig.out("init", "--store", name)
    rig.out("import", *map(harness.sample, samples), "--store", name)
    return name


def test_what_another_van_holds(rig):
    van(rig, "one.db", "tcw-012-pump-trailer", "tcw-018-before-springs")
    van(rig, "two.db", "tcw-018-before-springs", "tcw-018-after-springs")
    rig.out("seal", "--all", "--store", "two.db")
    head = rig.json("verify", "--store", "two.db")["chains"][0]["head"]
    rig.out("init")
    first = rig.json("merge", "one.db")
    assert (len(first["added"]), len(first["already_there"]), first["seals"]) == (2, 0, 0)
    second = rig.json("merge", "two.db")
    assert (len(second["added"]), len(second["already_there"]), second["seals"]) == (1, 1, 2)
    again = rig.out("merge", "one.db", "two.db").splitlines()
    assert again == ["one.db: 0 sessions added, 2 already there", "two.db: 0 sessions added, 2 already there"], again
    answer = rig.json("verify", "--head", head)
    assert answer["sound"] and answer["sealed"] == 2 and answer["recomputed"]["exactly"] == 2
    assert len(rig.lines("list")) == 3


def test_a_conflict_is_named_until_an_amendment_decides(rig):
    van(rig, "one.db", "tcw-012-pump-trailer")
    sheet = harness.sheet("tcw-012-pump-trailer")
    sheet["id"] = rig.lines("list", "--store", "one.db")[0]["session"]
    sheet["states"][0]["readings"][0]["load"] += 9
    rig.out("init", "--store", "two.db")
    rig.out("import", rig.write("c.json", json.dumps(sheet)), "--store", "two.db")
    merged = rig.json("merge", "two.db", "--store", "one.db")
    assert len(merged["conflicts"]) == 1
    assert rig.lines("list", "--store", "one.db")[0]["rivals"] == 1
    assert "!" in rig.out("list", "--store", "one.db")
    revisions = rig.json("show", "1bb6", "--record", "--store", "one.db")["revisions"]
    assert len(revisions) == 2
    rig.out("seal", merged["conflicts"][0], "--store", "one.db")
    rig.out("amend", merged["conflicts"][0], "--why", "that van stood beside the rig", "--store", "one.db")
    one = rig.lines("list", "--store", "one.db")[0]
    assert (one["revision"], one["rivals"]) == (2, 0)
    assert rig.json("show", "1bb6", "--store", "one.db")["states"][0]["readings"][0]["load"] == \
        sheet["states"][0]["readings"][0]["load"]


def test_what_is_refused_leaves_the_others(rig):
    rig.out("init")
    van(rig, "one.db", "tcw-012-pump-trailer")
    (rig.folder / "text.db").write_text("no store\n" * 30)
    out, err = rig.run("merge", "text.db", "one.db", "steelyard.db", code=1)
    assert "1 session added" in out and "text.db" in err and "is the store itself" in err, (out, err)
    rig.wrong("merge")


harness.main(globals())
