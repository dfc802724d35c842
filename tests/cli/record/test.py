import json

import harness
from harness import quantity, sample, small


def stored(rig):
    rig.run("init")
    one = small(scales=[{"id": "P1", "capacity": 1500}, {"id": "P2", "capacity": 1500}])
    one["states"][0]["readings"].pop()  # no reading of the trailer yet
    rig.run("import", rig.write("a.json", one))


def test_adds_a_reading_and_says_the_figures(rig):
    stored(rig)
    answer = rig.json("record", "small-0001", "together", "trailer.1", 900, "--scale", "P1")
    assert answer["session"] == "small-0001" and answer["reading"] == "r3"
    # By hand: the combination is the sum of what was read hitched, 1000 + 1200 + 900.
    assert abs(quantity(answer["result"], "combination_mass")["value"] - 3100) < 1e-6
    reading = rig.json("show", "small-0001")["states"][0]["readings"][2]
    assert (reading["id"], reading["at"], reading["load"]) == ("r3", "trailer.1", 900)
    assert reading["scale"] in ("P1", ["P1"])


def test_answer_for_people(rig):
    stored(rig)
    out = rig.out("record", "small", "together", "trailer.1", 900)
    assert out.startswith("recorded r3\n") and "combination" in out and "3100" in out


def test_units_scales_and_pads(rig):
    stored(rig)
    rig.run("record", "small-0001", "together", "trailer.1", 2000, "--unit", "lb", "--scale", "P1", "--scale", "P2",
            "--raised", "45")
    reading = rig.json("show", "small-0001")["states"][0]["readings"][2]
    assert reading["load"] == 2000 and reading["unit"] == "lb"
    assert reading["scale"] == ["P1", "P2"] and reading["raised"] == 45


def test_what_a_sheet_may_not_say_a_reading_may_not(rig):
    stored(rig)
    before = rig.out("show", "small-0001", "--json")
    assert "nowhere" in (err := rig.refused("record", "small", "nowhere", "tow.1", 900)) and '"together"' in err
    for words in [("coupling", 900), ("tow.3", 900), ("tow.1", -5), ("tow.1", 900, "--scale", "P9"),
                  ("tow.1", 1501, "--scale", "P1")]:
        assert "nothing stored" in rig.refused("record", "small", "together", *words), words
    assert rig.out("show", "small-0001", "--json") == before


def test_wrong_words(rig):
    assert "no position" in rig.wrong("record", "small", "together", "front", 900)
    assert "decimal number" in rig.wrong("record", "small", "together", "tow.1", "9O0")
    assert "kg or lb" in rig.wrong("record", "small", "together", "tow.1", 900, "--unit", "st")
    assert "decimal number" in rig.wrong("record", "small", "together", "tow.1", 900, "--raised", "x")
    assert "usage" in rig.wrong("record", "small", "together", "tow.1")


def test_a_scale_out_of_date_is_warned_of_and_the_reading_is_kept(rig):
    rig.run("init")
    one = small(weighed={"at": "2026-10-03T08:40:00+02:00"},
                scales=[{"id": "P1", "serial": "0417", "due": "2026-02-11"}, {"id": "P2", "due": "2027-02-11"}])
    rig.run("import", rig.write("a.json", one))  # no reading names a scale yet
    rig.run("record", "small-0001", "together", "trailer.1", 901, "--scale", "P2")
    out, err = rig.run("record", "small-0001", "together", "trailer.1", 900, "--scale", "P1", "--json", warned=True)
    assert json.loads(out)["reading"] == "r5"
    assert err.startswith("steelyard: warning: scale P1 (serial 0417) was due 2026-02-11, before the weighing of "
                          "2026-10-03: ") and len(err.splitlines()) == 1
    assert [r["load"] for r in rig.json("show", "small-0001")["states"][0]["readings"]][-1] == 900


harness.main(globals())
