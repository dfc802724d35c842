import re

import harness
from harness import quantity, sample, sheet, small


def stored(rig):
    rig.run("init")
    rig.run("import", rig.write("a.json", small()))


def test_sets_aside_and_keeps(rig):
    stored(rig)
    assert "set aside r2" in rig.out("strike", "small", "r2", "--why", "door open", "--by", "R. Okoye")
    reading = rig.json("show", "small")["states"][0]["readings"][1]
    assert reading["load"] == 1200
    assert reading["struck"]["why"] == "door open" and reading["struck"]["by"] == "R. Okoye"
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\+02:00", reading["struck"]["at"])
    assert "set aside: door open" in rig.out("show", "small")
    assert rig.lines("list")[0]["struck"] == 1


def test_json_answer(rig):
    stored(rig)
    answer = rig.json("strike", "small", "r2", "--why", "door open")
    assert answer["session"] == "small-0001" and answer["reading"] == "r2"
    assert answer["struck"]["why"] == "door open" and answer["struck"]["by"] is None


def test_takes_no_part_any_more(rig):
    rig.run("init")
    rig.run("import", sample("tcw-012-digits-swapped"))
    session = sheet("tcw-012-digits-swapped")["id"]
    before = rig.json("reconcile", session)
    assert before["fit"]["consistent"] is False
    rig.run("strike", session, before["suspects"][0]["set"][0]["id"], "--why", "two digits swapped")
    after = rig.json("reconcile", session)
    assert after["fit"]["consistent"] is True and after["suspects"] == []
    assert after["fit"]["observations"] == before["fit"]["observations"] - 1


def test_refusals(rig):
    stored(rig)
    assert "r9" in rig.refused("strike", "small", "r9", "--why", "x")
    rig.run("strike", "small", "r1", "--why", "x")
    assert "already" in rig.refused("strike", "small", "r1", "--why", "y")
    assert "--why" in rig.wrong("strike", "small", "r2")
    assert "--why" in rig.wrong("strike", "small", "r2", "--why", "  ")


harness.main(globals())
