import json
import os

import harness
from harness import sample, sheet, small


def test_stores_a_sheet_once(rig):
    rig.run("init")
    rig.write("a.json", small())
    assert rig.out("import", "a.json") == "a.json: 1 session added\n"
    assert rig.out("import", "a.json") == "a.json: 1 session already there\n"
    assert rig.json("import", "a.json") == {"file": "a.json", "added": [], "already_there": ["small-0001"]}
    assert len(rig.lines("list")) == 1


def test_every_sample_goes_in_and_comes_back(rig):
    rig.run("init")
    names = sorted(harness.SAMPLES.glob("*.json"))
    added = rig.lines("import", *names, warned=True)  # one of them has a scale out of date
    assert len(added) == len(names) >= 18 and all(len(one["added"]) == 1 for one in added)
    for name, one in zip(names, added):
        back = rig.out("show", one["added"][0], "--json")
        rig.write("back.json", back)
        assert rig.out("show", "back.json", "--json") == back == rig.out("show", name, "--json")


def test_a_fleet_is_one_sheet_a_line(rig):
    rig.run("init")
    fleet = "".join(json.dumps(small(id=f"fleet-{n:04}")) + "\n" for n in range(300))
    rig.write("fleet.jsonl", fleet)
    assert rig.out("import", "fleet.jsonl") == "fleet.jsonl: 300 sessions added\n"
    assert len(rig.lines("list")) == 300


def test_a_fault_refuses_the_file_with_every_place(rig):
    rig.run("init")
    bad = small(id="bad-0001")
    bad["states"][0]["readings"][1]["load"] = -12
    bad["travles"] = True
    rig.write("bad.json", bad)
    rig.write("good.json", small())
    out, err = rig.run("import", "bad.json", "good.json", code=1)
    assert "states[0].readings[1].load" in err and "travles" in err and "nothing of it stored" in err
    assert out == "good.json: 1 session added\n"  # the other file goes on
    assert [one["session"] for one in rig.lines("list")] == ["small-0001"]


def test_a_faulty_line_refuses_the_whole_fleet(rig):
    rig.run("init")
    lines = [json.dumps(small(id=f"fleet-{n:04}")) for n in range(5)]
    lines[1] = "{"
    lines[3] = json.dumps(small(id="fleet-0003", format="other/9"))
    rig.write("fleet.jsonl", "\n".join(lines) + "\n")
    err = rig.refused("import", "fleet.jsonl")
    assert "line 2" in err and "line 4" in err
    assert rig.lines("list") == []


def test_other_content_of_a_known_id_is_told_and_not_stored(rig):
    rig.run("init")
    rig.write("a.json", small())
    rig.run("import", "a.json")
    changed = small()
    changed["states"][0]["readings"][1]["load"] = 1201
    rig.write("b.json", changed)
    err = rig.refused("import", "b.json")
    assert "states[0].readings[1].load" in err and "1200" in err and "1201" in err
    assert rig.json("show", "small-0001")["states"][0]["readings"][1]["load"] == 1200


def test_a_sheet_recorded_on_is_still_known(rig):
    rig.run("init")
    rig.write("a.json", small())
    rig.run("import", "a.json")
    rig.run("record", "small-0001", "together", "tow.1", 1001)
    assert rig.out("import", "a.json") == "a.json: 1 session already there\n"


def test_odd_files(rig):
    rig.run("init")
    (rig.folder / "folder.json").mkdir()
    (rig.folder / "empty.json").write_bytes(b"")
    (rig.folder / "empty.jsonl").write_bytes(b"")
    (rig.folder / "noise.json").write_bytes(bytes(range(256)) * 40)
    (rig.folder / "noise.jsonl").write_bytes(bytes(range(256)) * 40)
    with open(rig.folder / "big.json", "wb") as big:
        os.truncate(big.fileno(), 100 << 20)
    for name, says in [("none.json", "no such file"), ("folder.json", "folder"), ("empty.json", "empty"),
                       ("empty.jsonl", "empty"), ("noise.json", "noise.json"), ("noise.jsonl", "line 1"),
                       ("big.json", "longer than one sheet may be"), ("sheet.txt", ".json")]:
        assert says in rig.refused("import", name), name
    assert rig.lines("list") == []


def test_no_store(rig):
    rig.write("a.json", small())
    assert "steelyard.db" in rig.refused("import", "a.json")


def test_missing_words(rig):
    assert "usage: steelyard import" in rig.wrong("import")


OVERDUE = {"id": "P1", "serial": "0417", "due": "2026-02-11"}


def overdue(number=1, at="2026-10-03T08:40:00+02:00", scale="P1"):
    one = small(id=f"late-{number:04}", weighed={"at": at}, scales=[OVERDUE, {"id": "P2", "due": "2027-02-11"}])
    one["states"][0]["readings"][0]["scale"] = scale
    return one


def test_a_scale_used_out_of_date_is_warned_of_and_the_sheet_goes_in(rig):
    rig.run("init")
    out, err = rig.run("import", rig.write("a.json", overdue()), warned=True)
    assert out == f"{rig.folder}/a.json: 1 session added\n"
    assert err == ("steelyard: warning: scale P1 (serial 0417) was due 2026-02-11, before the weighing of 2026-10-03: "
                   "its calibration no longer held; have it calibrated, and weigh again if it was off "
                   "(session late-0001)\n")
    rig.run("import", "a.json")  # already there: said once


def test_no_warning_of_a_scale_in_date_not_used_or_set_aside(rig):
    rig.run("init")
    rig.run("import", rig.write("day.json", overdue(1, at="2026-02-11T23:59:00-06:00")))  # its last day, at the place
    rig.run("import", rig.write("other.json", overdue(2, scale="P2")))
    struck = overdue(3)
    struck["states"][0]["readings"][0]["struck"] = {"why": "scale out of date"}
    rig.run("import", rig.write("struck.json", struck))
    undated = overdue(4)
    del undated["weighed"]
    rig.run("import", rig.write("undated.json", undated))


def test_a_fleet_is_warned_of_once_a_scale(rig):
    rig.run("init")
    fleet = "".join(json.dumps(overdue(n)) + "\n" for n in range(40))
    out, err = rig.run("import", rig.write("f.jsonl", fleet), "--json", warned=True)
    assert len(json.loads(out)["added"]) == 40
    assert len(err.splitlines()) == 1 and err.endswith("(session late-0000 and 39 more)\n")


def test_no_more_warnings_than_a_screen_holds(rig):
    rig.run("init")
    sheets = []
    for n in range(25):
        one = overdue(n)
        one["scales"][0] = dict(OVERDUE, serial=f"{n:04}")
        sheets.append(one)
    out, err = rig.run("import", rig.write("f.jsonl", "".join(json.dumps(one) + "\n" for one in sheets)), warned=True)
    assert len(err.splitlines()) == 21
    assert err.splitlines()[-1] == "steelyard: warning: 5 more scales were used out of date"


def test_nothing_is_warned_of_in_a_file_that_is_refused(rig):
    rig.run("init")
    rig.write("f.jsonl", json.dumps(overdue()) + "\n" + json.dumps(overdue(2, scale="P9")) + "\n")
    assert "warning" not in rig.refused("import", "f.jsonl")


def test_check_weights_and_the_amendment_come_back(rig):
    rig.run("init")
    one = small(revision=2, replaces="small-0000", revised={"why": "a card was misread", "by": "R. Okoye"},
                scales=[{"id": "P1", "check_weights": [{"mass": 500, "load": 500.5},
                                                       {"mass": 100, "load": 100, "unit": "lb"}]}])
    rig.run("import", rig.write("a.json", one))
    back = rig.json("show", "small-0001")
    assert back["revised"] == one["revised"] and back["scales"] == one["scales"]


harness.main(globals())
