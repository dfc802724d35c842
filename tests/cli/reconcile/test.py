import json
import subprocess

import harness
from harness import quantity, sample, sheet, small

try:
    import jsonschema
except ImportError:
    jsonschema = None

SCHEMA = json.loads((harness.SOURCE / "schema" / "steelyard-result-1.schema.json").read_text(encoding="utf-8"))
NAMES = sorted(harness.SAMPLES.glob("*.json"))
RESULT_KEYS = ["format", "session", "revision", "engine", "fit", "quantities", "observations", "suspects", "limits",
               "outcome", "assessed", "not_assessed", "travels_in", "cross_checks",
               "monte_carlo", "scales"]


def test_figures_that_nothing_checks_are_sums_of_readings(rig):
    rig.write("a.json", small())
    result = rig.json("reconcile", "a.json")
    assert list(result) == RESULT_KEYS
    # By hand: 1000 + 1200 on the tow vehicle's axles, 900 on the trailer's; nothing is said of the coupling.
    assert abs(quantity(result, "combination_mass")["value"] - 3100) < 1e-6
    assert abs(quantity(result, "tow_hitched_total", "together")["value"] - 2200) < 1e-6
    assert result["fit"]["degrees_of_freedom"] == 0 and result["fit"]["consistent"] is None
    load = quantity(result, "coupling_load")
    assert load["determinable"] is False and load["value"] is None and load["needs"]
    combination = result["limits"][0]
    assert combination["of"] == "combination" and abs(combination["margin"] - 900) < 1e-6
    assert combination["outcome"] == "pass" and result["travels_in"] == "together"


def test_coupling_load_that_was_read_on_a_scale(rig):
    # By hand: with the coupling on a scale and no hitched state, nothing checks the reading: C is 100, M 900 + 100.
    rig.write("a.json", small(states=[{"name": "apart", "hitched": False, "support": "coupling", "readings": [
        {"at": "trailer.1", "load": 900}, {"at": "coupling", "load": 100}]}]))
    result = rig.json("reconcile", "a.json")
    assert abs(quantity(result, "coupling_load")["value"] - 100) < 1e-6
    assert abs(quantity(result, "trailer_mass")["value"] - 1000) < 1e-6


def test_results_keep_to_their_schema(rig):
    assert jsonschema, "python3-jsonschema is not there"
    jsonschema.Draft7Validator.check_schema(SCHEMA)
    checker = jsonschema.Draft7Validator(SCHEMA)
    for name in NAMES:
        faults = list(checker.iter_errors(rig.json("reconcile", name)))
        assert not faults, f"{name}: {faults[0].message} at {list(faults[0].path)}"
    broken = rig.json("reconcile", NAMES[0])
    broken["fit"]["extra"] = 1
    assert list(checker.iter_errors(broken)), "the schema forbids what it does not list"


def test_samples_come_out_as_their_table_says(rig):
    """sample_data/README.md states each outcome and whether the readings agree; the program must say the same."""
    stated = {}
    for line in (harness.SAMPLES / "README.md").read_text(encoding="utf-8").splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if line.startswith("| `") and len(cells) == 4:
            stated[cells[0].strip("`")] = (cells[2], cells[3])
    assert sorted(stated) == [name.stem for name in NAMES]
    agree = {True: "yes", False: "no", None: "cannot be tested"}
    for name in NAMES:
        result = rig.json("reconcile", name)
        assert (result["outcome"], agree[result["fit"]["consistent"]]) == stated[name.stem], name.stem


def test_the_digit_swapped_reading_is_named(rig):
    result = rig.json("reconcile", sample("tcw-012-digits-swapped"))
    members = result["suspects"][0]["set"]
    # 770 was written down as 707: 63 too little.
    assert [m["at"] for m in members] == ["tow.2.left"] and abs(members[0]["estimated_error"] + 63) < 8
    assert "63 kg too low" in rig.out("reconcile", sample("tcw-012-digits-swapped"))


def test_tables_fit_a_terminal(rig):
    for name in NAMES:
        for line in rig.out("reconcile", name).splitlines():
            assert len(line) <= 80 and line == line.rstrip(), (name.stem, line)


def test_pounds_stay_pounds_in_the_table_only(rig):
    name = sample("bfs-204-generator-trailer-pounds")
    assert "What rests where, lb" in (table := rig.out("reconcile", name)) and " in\n" in table and " kg" not in table
    total = next(l for l in rig.json("reconcile", name)["limits"] if l["of"] == "tow_gross")
    assert total["unit"] == "kg" and total["limit"] == 7200 * 0.45359237


def test_store_sheet_and_fleet_give_the_same(rig):
    rig.run("init")
    rig.run("import", *NAMES, warned=True)  # one sample has a scale out of date
    fleet = rig.write("fleet.jsonl", "".join(json.dumps(json.loads(n.read_text())) + "\n" for n in NAMES))
    alone = {json.loads(rig.out("reconcile", n, "--json"))["session"]: rig.out("reconcile", n, "--json") for n in NAMES}
    stored = rig.out("reconcile", "--all", "--json").splitlines(keepends=True)
    assert sorted(stored) == sorted(alone.values())
    assert rig.out("reconcile", fleet, "--json") == "".join(alone.values())
    some = next(iter(alone))
    assert rig.out("reconcile", some[:8], "--json") == alone[some]


def test_a_sheet_needs_no_store(rig):
    rig.run("reconcile", sample("tcw-012-pump-trailer"))
    assert list(rig.folder.iterdir()) == []


def test_a_faulty_line_is_told_and_the_others_go_on(rig):
    rig.write("fleet.jsonl", json.dumps(small(id="first-1")) + "\n{}\n" + json.dumps(small(id="third-3")) + "\n")
    out, err = rig.run("reconcile", "fleet.jsonl", "--json", code=1)
    assert [json.loads(line)["session"] for line in out.splitlines()] == ["first-1", "third-3"]
    assert "line 2" in err


def test_strict(rig):
    good, over, off = (sample(n) for n in ("tcw-026-two-coupling-heights", "tcw-015-excavator-trailer-over",
                                           "tcw-012-digits-swapped"))
    rig.run("reconcile", good, "--strict")
    rig.run("reconcile", over, "--strict", code=3)
    rig.run("reconcile", off, "--strict", code=3)
    rig.run("reconcile", over)


def test_monte_carlo(rig):
    name = sample("tcw-012-pump-trailer")
    plain, drawn = rig.json("reconcile", name), rig.json("reconcile", name, "--monte-carlo", "4000", "--seed", "7")
    assert plain["monte_carlo"] is None
    assert not list(jsonschema.Draft7Validator(SCHEMA).iter_errors(drawn))
    mc = drawn.pop("monte_carlo")
    plain.pop("monte_carlo")
    assert plain == drawn, "trials change nothing of the result"
    assert (mc["trials"], mc["seed"], mc["not_converged"]) == (4000, 7, 0)
    assert len(mc["quantities"]) == sum(q["determinable"] for q in plain["quantities"])
    # JCGM 101, 8: two ways to one interval. Four deviations of a sample's mean, u and quantiles are 4/63, 4/89 and
    # four times `chance`; this rig is nearly linear.
    for q in mc["quantities"]:
        if q["name"].startswith("inferred"):
            continue
        assert abs(q["trials_mean"] - q["value"]) < 4 / 63 * q["u"] and abs(q["trials_u"] / q["u"] - 1) < 4 / 89, q
    assert abs(mc["largest_difference"]["in_u"]) < 4 * mc["chance"]
    again = rig.json("reconcile", name, "--monte-carlo", "4000", "--seed", "7")
    assert again["monte_carlo"] == mc
    assert rig.json("reconcile", name, "--monte-carlo", "4000")["monte_carlo"]["quantities"] != mc["quantities"]
    table = rig.out("reconcile", name, "--monte-carlo", "1000")
    assert "held against 1000 trials (JCGM 101, seed 1)" in table and "largest difference" in table
    assert all(len(line) <= 80 for line in table.splitlines())


def test_checks_with_a_pencil(rig):
    # By hand: 1000 + 1000 + 900 + 100 = 3000 apart, 960 + 1144 + 895 = 2999 hitched; each reading has
    # u^2 = 6*6/6 + 1 = 7, the scale's gain cancels: 1.96 * sqrt(49) = 13.7. Gain 104, support 100, trailer 105.
    def read(**loads):
        return [{"at": at.replace("_", "."), "load": load, "scale": "W"} for at, load in loads.items()]
    rig.write("a.json", small(
        placement_u=0, scales=[{"id": "W", "division": 6, "repeatability": 1, "gain_u": 0.001}],
        states=[{"name": "apart", "hitched": False, "support": "coupling",
                 "readings": read(tow_1=1000, tow_2=1000, trailer_1=900, coupling=100)},
                {"name": "together", "hitched": True, "readings": read(tow_1=960, tow_2=1144, trailer_1=895)}]))
    said = " ".join(rig.out("reconcile", "a.json").split())
    assert ('Vehicle and trailer weighed apart make 3000 kg, hitched ("together") 2999 kg: they agree (1 kg apart, '
            'up to 14 expected).') in said
    assert ('The coupling load in "together" is 104 kg by what the tow vehicle gains, 100 kg as read under the coupling '
            '("apart"), 105 kg by what the trailer\'s axles lose: they agree') in said
    checks = rig.json("reconcile", "a.json")["cross_checks"]
    assert [(c["kind"], c["agrees"]) for c in checks] == [("combination", True), ("coupling_load", True)]
    assert [v["way"] for v in checks[1]["values"]] == ["tow_gain", "support", "trailer_loss"]
    assert checks[0]["difference"] == -1 and abs(checks[0]["u"] - 7) < 1e-6
    # 1144 written down as 1414: 270 too much.
    off = rig.out("reconcile", rig.write("b.json", json.loads((rig.folder / "a.json").read_text().replace("1144", "1414"))))
    assert "they do NOT agree (269 kg apart, up to 14 expected)." in " ".join(off.split())


def test_wrong_words_of_monte_carlo(rig):
    rig.write("fleet.jsonl", json.dumps(small()) + "\n")
    for words in (("--all",), ("fleet.jsonl",)):
        assert "one session or one sheet" in rig.wrong("reconcile", *words, "--monte-carlo", "1000")
    for number in ("999", "10000001", "1e4", "-5", "ten"):
        assert "from 1000 to 10000000" in rig.wrong("reconcile", "a.json", "--monte-carlo=" + number)
    assert "from 0 to 9007199254740992" in rig.wrong("reconcile", "a.json", "--monte-carlo", "1000", "--seed", "x")
    assert "goes with --monte-carlo" in rig.wrong("reconcile", "a.json", "--seed", "1")


def test_hostile_names_stay_names(rig):
    evil = "\x1b[2J\x1b]0;owned\x07 \u202egnp.\u2066 \u009b31m"
    one = small()
    one["rig"]["tow_vehicle"]["label"] = evil
    one["rig"]["limits"][0]["source"] = evil
    rig.write("a.json", one)
    for words in (("show", "a.json"), ("reconcile", "a.json")):
        # A sheet may be refused for such a name; what is said of it must be harmless all the same.
        said = subprocess.run([harness.PROGRAM, *words], cwd=rig.folder, capture_output=True)
        text = (said.stdout + said.stderr).decode()
        assert text and not any(c in text for c in "\x1b\x07\u202e\u2066\u009b"), words


def test_wrong_words(rig):
    assert "something is missing" in rig.wrong("reconcile")
    assert "--all" in rig.wrong("reconcile", "a.json", "--all")
    assert "did you mean --strict" in rig.wrong("reconcile", "a.json", "--strickt")


def with_scales(**scale):
    one = small(weighed={"at": "2026-10-03T08:40:00+02:00"},
                scales=[{"id": "P1", "uid": "scale-0417", "serial": "0417", "division": 1, "accuracy_class": "III",
                         "calibrated": "2025-02-11", "due": "2026-02-11", "zero_before": 0, "zero_after": 2,
                         "check_weights": [{"mass": 400, "load": 401}, {"mass": 600, "load": 597}]},
                        {"id": "P2"}])
    one["states"][0]["readings"][0]["scale"] = "P1"
    return one


def test_what_a_session_says_against_its_scales(rig):
    rig.write("a.json", with_scales())
    result = rig.json("reconcile", "a.json")
    # OIML R 76-1, Table 6, doubled in service: class III, to 500 divisions 2 · 0.5 = 1 kg, to 2000 2 · 1 = 2 kg.
    assert result["scales"] == [
        {"id": "P1", "uid": "scale-0417", "used": True, "calibrated": "2025-02-11", "due": "2026-02-11",
         "out_of_date": True, "zero": {"value": 0, "allowed": 1, "beyond": False},
         "zero_drift": {"value": 2, "allowed": 1, "beyond": True},
         "check_weights": [{"mass": 400, "load": 401, "difference": 1, "allowed": 1, "rule": "class_in_service",
                            "beyond": False},
                           {"mass": 600, "load": 597, "difference": -3, "allowed": 2, "rule": "class_in_service",
                            "beyond": True}]},
        {"id": "P2", "uid": None, "used": False, "calibrated": None, "due": None, "out_of_date": None, "zero": None,
         "zero_drift": None, "check_weights": []}]
    if jsonschema:
        jsonschema.validate(result, SCHEMA)
    out = rig.out("reconcile", "a.json")
    section = out[out.index("\nScales\n"):]
    for said in ("P1 (serial 0417): was due 2026-02-11", "its zero moved by 2 kg", "3 kg too little, 2 kg allowed",
                 "No day of calibration is given: P2"):
        assert said in " ".join(section.split()), said
    assert "401" not in section


def test_sound_scales_are_not_spoken_of(rig):
    one = with_scales()
    one["scales"] = [{"id": "P1", "division": 1, "calibrated": "2026-02-11", "due": "2026-10-03", "zero_before": 0,
                      "zero_after": 1}]
    rig.write("a.json", one)
    assert "\nScales\n" not in rig.out("reconcile", "a.json")


harness.main(globals())
