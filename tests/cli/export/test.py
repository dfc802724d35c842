"""steelyard export: sheets that import back to the same content, and anonymous ones that still reconcile to the same
figures and name nobody."""
import json
import re

import harness


def with_fleet(rig):
    rig.out("init")
    rig.out("import", *sorted(harness.SAMPLES.glob("*.json")), warned=True)  # one has a scale out of date


def contents(rig, store):
    return [rig.out("show", one["session"], "--json", "--store", store) for one in rig.lines("list", "--store", store)]


def test_what_is_exported_imports_to_the_same(rig):
    with_fleet(rig)
    rig.out("strike", "9a78", "r21", "--why", "digits swapped", "--by", "R. Okoye")
    rig.out("seal", "1bb6")
    rig.out("amend", "1bb6", "--why", "limit misread", "--by", "R. Okoye")
    out = rig.out("export", "--all", "--to", "all.jsonl")
    count = len(rig.lines("list"))
    assert out == f"wrote all.jsonl: {count + 1} sheets\n", out
    rig.out("init", "--store", "other.db")
    assert f"{count + 1} sessions added" in rig.out("import", "all.jsonl", "--store", "other.db", warned=True)
    assert contents(rig, "other.db") == contents(rig, "steelyard.db")
    assert rig.out("show", "1bb6@1", "--json", "--store", "other.db") == rig.out("show", "1bb6@1", "--json")
    assert f"{count + 1} sessions already there" in rig.out("import", "all.jsonl")
    rig.out("export", "--all", "--to", "again.jsonl", "--store", "other.db")
    assert (rig.folder / "again.jsonl").read_bytes() == (rig.folder / "all.jsonl").read_bytes()
    assert rig.out("export", "1bb6@1", "--to", "one.json") == "wrote one.json: 1 sheet\n"
    assert rig.out("export", "--all", "--to", "-").encode() == (rig.folder / "all.jsonl").read_bytes()


def test_an_anonymous_export_names_nobody(rig):
    with_fleet(rig)
    rig.out("export", "--all", "--anonymous", "--to", "all.jsonl")
    text = (rig.folder / "all.jsonl").read_text(encoding="utf-8")
    # A pseudonym is drawn anew by every export, and may begin like a name by chance.
    told, drawn = re.subn(r'"(session|scale|vehicle|trailer)-[0-9a-f]{12}"', '""', text)
    assert drawn > 50
    for one in map(json.loads, rig.out("export", "--all", "--to", "-").splitlines()):
        tow, trailer = one["rig"]["tow_vehicle"], one["rig"].get("trailer", {})
        named = [one["id"], one["weighed"].get("place"), one["weighed"].get("technician")]
        named += [one.get("client", {}).get(key) for key in ("uid", "name", "reference")]
        named += [vehicle.get(key) for vehicle in (tow, trailer) for key in ("uid", "label", "registration", "vin")]
        named += [scale.get(key) for scale in one.get("scales", []) for key in ("uid", "certificate")]
        for name in named:
            assert not name or json.dumps(name, ensure_ascii=False)[1:-1] not in told, name
    rig.out("init", "--store", "other.db")
    rig.out("import", "all.jsonl", "--store", "other.db", warned=True)
    figures = [[(q["name"], q["state"], q["value"]) for q in one["quantities"]] for one in rig.lines("reconcile", "--all")]
    again = [[(q["name"], q["state"], q["value"]) for q in one["quantities"]]
             for one in rig.lines("reconcile", "--all", "--store", "other.db")]
    assert sorted(map(repr, figures)) == sorted(map(repr, again))
    sheets = [json.loads(line) for line in text.splitlines()]
    uids = {scale["uid"] for one in sheets for scale in one.get("scales", []) if scale.get("uid")}
    assert len(uids) == len(rig.lines("register", "scale"))  # the same scale stays the same


def test_what_is_refused(rig):
    with_fleet(rig)
    (rig.folder / "there.jsonl").write_text("mine")
    assert "is there already" in rig.refused("export", "--all", "--to", "there.jsonl")
    assert (rig.folder / "there.jsonl").read_text() == "mine"
    assert "holds one sheet" in rig.refused("export", "--all", "--to", "all.json")
    assert "no session" in rig.refused("export", "nobody", "--to", "x.jsonl")
    assert "cannot be made" in rig.refused("export", "--all", "--to", "none/all.jsonl")
    rig.wrong("export", "--all")
    rig.wrong("export", "--to", "x.jsonl")
    rig.wrong("export", "--all", "1bb6", "--to", "x.jsonl")
    rig.wrong("export", "--all", "--to", "all.xlsx")
    assert sorted(p.name for p in rig.folder.iterdir()) == ["steelyard.db", "there.jsonl"]


harness.main(globals())
