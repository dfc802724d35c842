"""What is planned is what reconcile then gives: the sheet of a plan, filled by statics of our own, comes out with the
u that was said; odd rigs, odd scales and odd words are told apart."""
import copy
import json
import math

import harness
import jsonschema
from harness import quantity, sample, sheet

SCHEMA = json.loads((harness.SOURCE / "schema" / "steelyard-plan-1.schema.json").read_text(encoding="utf-8"))
NAMES = harness.spread(sorted(harness.SAMPLES.glob("*.json")))
TO_WEIGH = harness.SAMPLES / "to_weigh" / "tcw-052-water-cart.json"


def supposed(plan, name, state=None):
    return next(s["value"] for s in plan["suppositions"] if (s["name"], s["state"]) == (name, state))


def unweighed(**changes):
    one = json.loads(TO_WEIGH.read_text(encoding="utf-8"))
    one.update(copy.deepcopy(changes))
    return one


def aim(plan, of, part=None):
    return next(a for a in plan["aims"] if (a["of"], a["part"]) == (of, part))


def test_the_sheet_to_be_weighed(rig):
    plan = rig.json("plan", TO_WEIGH)
    assert plan["plan"]["readings"] == len(plan["steps"]) <= plan["once"]["readings"]
    assert plan["twice"]["readings"] == 2 * plan["once"]["readings"] == 34
    assert aim(plan, "coupling_load")["wanted"] == 4 and aim(plan, "coupling_load")["reached"]
    assert abs(aim(plan, "tow_gross")["wanted"] - 33) < 1e-9  # 1 % of 3300
    assert aim(plan, "coupling_share_minimum")["wanted"] is None and aim(plan, "coupling_share_minimum")["reached"]
    out = rig.out("plan", TO_WEIGH)
    assert "± 8.0 kg (usual)" in out and "common practice, no source" in out
    assert "notice" in out and "a part of its ratings" in out
    assert plan["wanted"]["rule"] == "checked" and "every reading is checked by others" in out


def about(figure):
    """A size as the table prints it."""
    return str(math.floor(figure + 0.5))


def test_every_reading_is_checked_or_said_not_to_be(rig):
    """Filled as planned and reconciled, the readings are checked from the size on that the plan said."""
    bare = 0
    for name in NAMES + [TO_WEIGH]:
        target = f"{name.stem}-checked.json"
        plan = rig.json("plan", name, "--sheet-to", target)
        found = [o for o in rig.json("reconcile", target)["observations"] if o["kind"] == "reading"]
        said = [s["smallest_detectable"] for s in plan["steps"]]
        assert len(found) == len(said)
        for step, observation in zip(plan["steps"], found):
            assert (step["state"], step["at"]) == (observation["state"], observation["at"])
            assert (step["smallest_detectable"] is None) == (observation["redundancy"] < 0.01), (name.stem, step)
        sizes = sorted(s for s in said if s is not None)
        assert plan["plan"]["unchecked"] == len(said) - len(sizes) <= plan["once"]["unchecked"]
        out = " ".join(rig.out("plan", name).split())
        if not sizes:
            assert "no reading checks another: an error is not noticed; read twice" in out
            bare += 1
            continue
        median = (sizes[(len(sizes) - 1) // 2] + sizes[len(sizes) // 2]) / 2
        assert math.isclose(plan["plan"]["smallest_detectable"], median, rel_tol=1e-9)
        assert math.isclose(plan["plan"]["largest_detectable"], sizes[-1], rel_tol=1e-9)
        if sheet_unit(name) == "kg":
            assert f"In this plan an error is noticed from about {about(median)} kg" in out, name.stem
        assert ("NOT checked by any other" in out) == (len(sizes) < len(said))
        assert ("every reading is checked by others" in out) == (len(sizes) == len(said))
    assert bare == [name.stem for name in NAMES].count("tcw-041-tanker-truck-alone")


def test_the_least_work_on_request(rig):
    plan, least = rig.json("plan", TO_WEIGH), rig.json("plan", TO_WEIGH, "--least")
    assert least["wanted"]["rule"] == "least" and least["plan"]["readings"] < plan["plan"]["readings"]
    assert all(a["reached"] for a in least["aims"]) and least["once"] == plan["once"]
    assert least["plan"]["smallest_detectable"] is None and least["plan"]["unchecked"] == least["plan"]["readings"]
    out = " ".join(rig.out("plan", TO_WEIGH, "--least").split())
    assert "In this plan no reading checks another: an error is not noticed; without --least" in out
    assert "left out of account, as asked" in out
    out = " ".join(rig.out("plan", sample("tcw-012-pump-trailer"), "--least").split())
    assert 'what no other reading checks: coupling in "apart"; without --least' in out


def test_a_reading_said_to_be_unchecked_is_checked_when_read_twice(rig):
    name = sample("tcw-044-three-axle-with-camp-trailer")
    plan = rig.json("plan", name, "--sheet-to", "once.json")
    assert [s["at"] for s in plan["steps"] if s["smallest_detectable"] is None] == ["coupling"]
    assert 'coupling in "apart"; read that twice' in " ".join(rig.out("plan", name).split())
    one = json.loads((rig.folder / "once.json").read_text(encoding="utf-8"))
    readings = next(s for s in one["states"] if s["name"] == "apart")["readings"]
    again = dict(next(r for r in readings if r["at"] == "coupling"))
    again.pop("id", None)
    readings.append(again)
    result = rig.json("reconcile", rig.write("twice.json", one))
    found = [o["redundancy"] for o in result["observations"] if o["kind"] == "reading" and o["at"] == "coupling"]
    assert len(found) == 2 and min(found) > 0.4


def test_loads_of_the_plan_obey_statics(rig):
    """By moments about the axle groups' centres, from the suppositions that are printed."""
    plan, rig_of = rig.json("plan", TO_WEIGH, "--coupling-u", "1"), unweighed()["rig"]
    front, rear = supposed(plan, "tow_unhitched_front"), supposed(plan, "tow_unhitched_rear")
    load, mass = supposed(plan, "coupling_load"), supposed(plan, "trailer_mass")
    overhang, wheelbase = 1250, 3200
    loads = {"apart": {"tow.1": front, "tow.2": rear, "coupling": load, "trailer.1": (mass - load) / 2,
                       "trailer.2": (mass - load) / 2}}
    loads["together"] = dict(loads["apart"], **{"tow.1": front - load * overhang / wheelbase,
                                                 "tow.2": rear + load * (wheelbase + overhang) / wheelbase})
    seen = set()
    for step in plan["steps"]:
        place, _, side = step["at"].rpartition(".") if step["at"].endswith(("left", "right")) else (step["at"], "", "")
        part = {"left": 0.505, "right": 0.495, "": 1}[side]
        assert math.isclose(step["expected"], part * loads[step["state"]][place], rel_tol=1e-12), step
        seen.add(step["at"])
    assert len(seen) >= 7 and rig_of["trailer"]["axles"] == 2


def test_plans_keep_to_their_schema(rig):
    jsonschema.Draft7Validator.check_schema(SCHEMA)
    checker = jsonschema.Draft7Validator(SCHEMA)
    for name in NAMES + [TO_WEIGH]:
        for words in ([], ["--least"], ["--coupling-u", "1"]):
            if words[1:] and name.stem in ("tcw-033-drawbar-trailer", "tcw-041-tanker-truck-alone"):
                continue
            faults = list(checker.iter_errors(rig.json("plan", name, *words)))
            assert not faults, f"{name}: {faults[0].message} at {list(faults[0].path)}"
    broken = rig.json("plan", TO_WEIGH)
    broken["steps"][0]["extra"] = 1
    assert list(checker.iter_errors(broken)), "the schema forbids what it does not list"


def test_the_planned_sheet_reconciles_to_what_was_said(rig):
    for name in NAMES + [TO_WEIGH]:
        target = f"{name.stem}-planned.json"
        plan = rig.json("plan", name, "--sheet-to", target)
        result = rig.json("reconcile", target)
        assert result["quantities"] and len(result["quantities"]) == len(plan["plan"]["quantities"])
        for said, found in zip(plan["plan"]["quantities"], result["quantities"]):
            assert (said["name"], said["state"], said["at"]) == (found["name"], found["state"], found["at"])
            assert (said["u"] is None) == (found["u"] is None), (name.stem, said, found)
            if said["u"]:
                assert math.isclose(said["u"], found["u"], rel_tol=1e-9), (name.stem, said, found)


def test_supposed_loads_are_marked_and_nothing_is_overwritten(rig):
    said = rig.out("plan", TO_WEIGH, "--sheet-to", "next.json")
    assert said.endswith("wrote next.json; its loads are supposed: write over them\n")
    written = (rig.folder / "next.json").read_text(encoding="utf-8")
    planned = json.loads(written)
    assert planned["x-supposed"] and all(r["x-supposed"] is True for s in planned["states"] for r in s["readings"])
    heading = " ".join(rig.out("reconcile", "next.json").split("session  ")[0].split())
    assert "all loads are supposed" in heading
    assert "there already" in rig.refused("plan", TO_WEIGH, "--sheet-to", "next.json")
    assert (rig.folder / "next.json").read_text(encoding="utf-8") == written
    assert "cannot be made" in rig.refused("plan", TO_WEIGH, "--sheet-to", "nowhere/next.json")
    assert ".json" in rig.wrong("plan", TO_WEIGH, "--sheet-to", "next.xlsx")


def test_no_scale_gets_more_than_it_carries(rig):
    for name in NAMES + [TO_WEIGH]:
        pounds = 0.45359237
        capacity = {s["id"]: s["capacity"] * (pounds if s.get("unit", sheet_unit(name)) == "lb" else 1)
                    for s in json.loads(name.read_text())["scales"] if "capacity" in s} \
            if "scales" in json.loads(name.read_text()) else {}
        for step in rig.json("plan", name)["steps"]:
            for scale in step["scale"]:
                assert step["expected"] <= capacity.get(scale, math.inf), (name.stem, step)


def sheet_unit(name):
    return json.loads(name.read_text()).get("units", {}).get("load", "kg")


def test_too_weak_a_scale_is_not_used(rig):
    one = unweighed(scales=[{"id": "A", "capacity": 400, "division": 1}, {"id": "B", "capacity": 700, "division": 1}])
    plan = rig.json("plan", rig.write("a.json", one))
    bare = [s for s in plan["steps"] if not s["scale"]]
    assert bare and all(s["expected"] > 690 for s in bare)
    assert all(s["scale"] in ([], ["A"], ["B"]) for s in plan["steps"])
    assert "none listed!" in rig.out("plan", "a.json") and "bring one that does" in rig.out("plan", "a.json")


def test_no_scales(rig):
    one = unweighed()
    del one["scales"]
    plan = rig.json("plan", rig.write("a.json", one))
    assert plan["steps"] and all(s["scale"] == [] for s in plan["steps"])
    assert "any " in rig.out("plan", "a.json") and "none listed" not in rig.out("plan", "a.json")


def test_one_pad_under_one_wheel_at_a_time(rig):
    one = unweighed(scales=[{"id": "A", "capacity": 1500, "division": 1}])
    plan = rig.json("plan", rig.write("a.json", one))
    assert [s["set_down"] for s in plan["steps"]] == list(range(1, len(plan["steps"]) + 1))
    assert "Fewer pads than wheel ends" in rig.out("plan", "a.json")


def test_states_that_the_sheet_lacks_are_said(rig):
    alone = [{"name": "utility", "hitched": False, "readings": []}]
    plan = rig.json("plan", rig.write("a.json", unweighed(states=alone)), "--coupling-u", "1")
    assert [(s["name"], s["added"], s["support"]) for s in plan["states"]] == \
           [("utility", False, None), ("trailer alone", True, "coupling"), ("hitched", True, None)]
    assert "(the sheet does not have it)" in rig.out("plan", "a.json", "--coupling-u", "1")
    bars = [{"name": "as driven", "hitched": True, "weight_distribution": True, "readings": []}]
    plan = rig.json("plan", rig.write("b.json", unweighed(states=bars)))
    assert [s["travels"] for s in plan["states"] if s["name"] == "as driven"] == [True]


def test_vehicle_alone_drawbar_fifth_wheel_jockey(rig):
    alone = unweighed(states=[{"name": "full", "hitched": False, "readings": []}])
    del alone["rig"]["trailer"]
    alone["rig"]["limits"] = alone["rig"]["limits"][:3]
    plan = rig.json("plan", rig.write("alone.json", alone))
    assert len(plan["steps"]) == 4 and all(s["coupling_u"] is None for s in plan["steps"])
    assert plan["plan"]["unchecked"] == 4 and "NO reading checks another" in rig.out("plan", "alone.json")
    assert "every margin to" in rig.out("plan", "alone.json")
    assert "leave --coupling-u out" in rig.refused("plan", "alone.json", "--coupling-u", "3")
    assert "coupling" not in rig.out("plan", "alone.json").split("What is supposed")[0]
    drawbar = rig.json("plan", sample("tcw-033-drawbar-trailer"))
    assert all(a["of"] != "coupling_load" for a in drawbar["aims"]) and drawbar["steps"]
    fifth = rig.json("plan", sample("kr-103-fifth-wheel-stock-trailer"))["steps"]
    assert [s["scale"] for s in fifth if s["at"] == "coupling"] == [["N2"]]
    jockey = rig.json("plan", sample("tcw-007-site-office-jockey"), "--coupling-u", "1")
    assert "jockey" in [s["at"] for s in jockey["steps"]]


def test_no_limits(rig):
    one = unweighed()
    one["rig"]["limits"] = []
    plan = rig.json("plan", rig.write("a.json", one))
    assert [a["of"] for a in plan["aims"]] == ["coupling_load"] and plan["aims"][0]["reached"]
    assert next(s for s in plan["suppositions"] if s["name"] == "trailer_mass")["origin"] == "usual"
    del one["rig"]["trailer"]
    one["states"] = [{"name": "full", "hitched": False, "readings": []}]
    assert "tow vehicle, total" in rig.out("plan", rig.write("b.json", one))


def test_pounds(rig):
    name = sample("bfs-204-generator-trailer-pounds")
    out = rig.out("plan", name, "--coupling-u", "9", "--margin-u", "40")
    assert "about, lb" in out and " kg" not in out and "± 18 lb" in out
    plan = rig.json("plan", name, "--coupling-u", "9", "--margin-u", "40")
    assert plan["wanted"]["coupling_u"] == 9 * 0.45359237 and aim(plan, "tow_gross")["wanted"] == 40 * 0.45359237


def test_readings_that_are_there_serve_for_loads_only(rig):
    full = sheet("tcw-012-pump-trailer")
    plan = rig.json("plan", sample("tcw-012-pump-trailer"))
    result = rig.json("reconcile", sample("tcw-012-pump-trailer"))
    assert plan["readings_there"] == 50
    assert math.isclose(supposed(plan, "coupling_load"), quantity(result, "coupling_load")["value"], rel_tol=1e-9)
    struck = copy.deepcopy(full)
    for state in struck["states"]:
        for reading in state["readings"]:
            reading["struck"] = {"why": "tried out", "by": "R. Okoye", "at": "2026-10-03T09:02:00+02:00"}
    plan = rig.json("plan", rig.write("struck.json", struck))
    assert plan["readings_there"] == 0
    assert {s["origin"] for s in plan["suppositions"]} == {"ratings", "given", "usual"}


def test_readings_beyond_belief_are_not_supposed(rig):
    one = unweighed()
    one["states"][0]["readings"] = [{"at": "coupling", "load": 400}, {"at": "trailer.1", "load": 0}]
    one["states"][1]["readings"] = [{"at": "tow.1", "load": 0}, {"at": "tow.2", "load": 10}]
    plan = rig.json("plan", rig.write("a.json", one))
    assert plan["readings_there"] == 4 and all(s["expected"] > 0 for s in plan["steps"])


def test_what_cannot_be_reached_is_said_with_what_helps(rig):
    one = sheet("tcw-044-three-axle-with-camp-trailer")
    for state in one["states"]:
        state["readings"] = []
    plan = rig.json("plan", rig.write("a.json", one), "--coupling-u", "2")
    missed = aim(plan, "coupling", "towbar plate")
    assert not missed["reached"] and missed["twice"] > 2 and missed["shortfall"]["share"] > 0
    assert missed["plan"] <= 1.02 * missed["twice"] * (1 + 1e-9)
    assert missed["shortfall"]["remedy"] == "measure_heights"
    out = rig.out("plan", "a.json", "--coupling-u", "2")
    assert "NOT all that is wanted" in out and "would bring it to" in out
    # Doing what is said brings what is said: the heights to 2 mm, every position twice.
    for state in one["states"]:
        state["coupling_height"]["u"] = 2
    after = rig.json("plan", rig.write("b.json", one), "--coupling-u", "2")
    assert math.isclose(aim(after, "coupling", "towbar plate")["twice"], missed["shortfall"]["with_remedy"],
                        rel_tol=1e-9)


def test_a_session_of_the_store(rig):
    rig.run("init")
    rig.run("import", TO_WEIGH)
    session = rig.json("plan", TO_WEIGH)["session"]
    assert rig.json("plan", session[:8]) == rig.json("plan", TO_WEIGH)


def test_tables_fit_a_terminal(rig):
    for name in NAMES + [TO_WEIGH]:
        for words in ([], ["--least"], ["--margin-u", "0.1"]):
            for line in rig.out("plan", name, *words).splitlines():
                assert len(line) <= 80 and line == line.rstrip(), (name.stem, line)


def test_hostile_names_stay_names(rig):
    one = unweighed()
    one["states"][0]["name"] = "a" * 90 + " “b” \u0e01\u0e33"
    one["rig"]["limits"][5]["part"] = "\u00e9\u00df" * 60
    out = rig.out("plan", rig.write("a.json", one))
    assert all(len(line) <= 80 for line in out.splitlines())


def test_wrong_words(rig):
    assert "something is missing" in rig.wrong("plan")
    assert "one word too many" in rig.wrong("plan", "a.json", "b.json")
    for bad in ("0", "-3", "four", "nan", "1e999", "0x10"):
        assert "must be" in rig.wrong("plan", TO_WEIGH, "--coupling-u", bad), bad
        assert "must be" in rig.wrong("plan", TO_WEIGH, f"--margin-u={bad}"), bad
    assert "no such" in rig.refused("plan", "nowhere.json").lower() or "nowhere.json" in rig.refused("plan", "nowhere.json")


harness.main(globals())
