"""steelyard compare: two sessions or sheets of one rig; its table, its JSON, which keeps to its schema, and what it
refuses."""
import json

import harness
import jsonschema
from harness import sample, sheet

SCHEMA = json.loads((harness.SOURCE / "schema/steelyard-comparison-1.schema.json").read_text(encoding="utf-8"))
BEFORE, AFTER = "tcw-018-before-springs", "tcw-018-after-springs"


def compared(rig, before, after):
    answer = rig.json("compare", before, after)
    jsonschema.validate(answer, SCHEMA)
    return answer


def row(answer, name, state=None, at=None):
    found = [q for q in answer["quantities"] if (q["name"], q["state_after"], q["at"]) == (name, state, at)]
    assert len(found) == 1, f"{name} {state} {at}: {found}"
    return found[0]


def test_figures_are_those_of_each_result(rig):
    answer = compared(rig, sample(BEFORE), sample(AFTER))
    sides = {"before": rig.json("reconcile", sample(BEFORE)), "after": rig.json("reconcile", sample(AFTER))}
    known = 0
    for quantity in answer["quantities"]:
        for side, result in sides.items():
            if not quantity[side]:
                continue
            known += 1
            own = harness.quantity(result, quantity["name"], quantity[f"state_{side}"], quantity["at"])
            assert quantity[side] == {"value": own["value"], "u": own["u"]}
        if quantity["difference"] is not None:
            assert quantity["difference"] == quantity["after"]["value"] - quantity["before"]["value"]
            assert (abs(quantity["en"]) >= 1) == quantity["significant"]
    assert known > 80
    for side, result in sides.items():
        assert answer[side]["outcome"] == result["outcome"]


def test_what_changed(rig):
    answer = compared(rig, sample(BEFORE), sample(AFTER))
    assert row(answer, "coupling_load")["significant"] and not row(answer, "trailer_mass")["significant"]
    assert [(c["name"], c["declared"]) for c in answer["fitted"]["checks"]][0] == ("tow_unhitched_total", 22)
    assert {m["what"] for m in answer["fitted"]["added"]} == {m["what"] for m in sheet(AFTER)["modifications"]}
    assert {limit["of"] for limit in answer["limits"] if limit["rating_changed"]} == {"tow_rear"}
    assert [n["kind"] for n in answer["not_comparable"]] == ["coupling_height"]


def test_table_is_within_80_columns_and_says_it_in_words(rig):
    for names in ((BEFORE, AFTER), ("tcw-030-weight-distribution-settings",) * 2, ("bfs-204-generator-trailer-pounds",) * 2):
        text = rig.out("compare", *map(sample, names))
        assert all(len(line) <= 80 for line in text.splitlines()), text
    text = rig.out("compare", sample(BEFORE), sample(AFTER))
    for words in ("before", "after", "difference ± U", "≠ changed", "≈ not sure", "ISO 13528", "rear springs, heavier",
                  "Not comparable", "other rating"):
        assert words in text, words
    assert "\x1b" not in text


def test_sessions_of_the_store(rig):
    rig.out("init")
    rig.out("import", sample(BEFORE), sample(AFTER))
    ids = sheet(BEFORE)["id"][:8], sheet(AFTER)["id"][:8]
    assert compared(rig, *ids) == compared(rig, sample(BEFORE), sample(AFTER))
    assert compared(rig, ids[0], sample(AFTER))["after"]["session"] == sheet(AFTER)["id"]


def test_a_session_against_itself(rig):
    answer = compared(rig, sample(BEFORE), sample(BEFORE))
    assert all(q["difference"] in (0, None) and q["en"] is None for q in answer["quantities"])
    assert not any(limit["outcome_changed"] for limit in answer["limits"])
    rig.out("compare", sample(BEFORE), sample(BEFORE))


def test_every_sample_keeps_to_the_schema(rig):
    for path in sorted(harness.SAMPLES.glob("*.json")):
        other = json.loads(path.read_text(encoding="utf-8"))
        other["id"] = "another-weighing"
        compared(rig, path, rig.write("other.json", other))


def test_with_another_trailer_or_none(rig):
    other = sheet(AFTER)
    other["rig"]["trailer"]["uid"] = "tcw-t11"
    answer = compared(rig, sample(BEFORE), rig.write("other.json", other))
    assert answer["same_trailer"] == "no" and row(answer, "trailer_mass")["another_trailer"]
    assert "another trailer" in rig.out("compare", sample(BEFORE), rig.folder / "other.json")
    alone = sheet(AFTER)
    del alone["rig"]["trailer"]
    alone["rig"]["limits"] = [limit for limit in alone["rig"]["limits"] if limit["of"] in ("tow_gross", "tow_rear")]
    alone["states"] = [{"name": "alone", "hitched": False, "readings": alone["states"][0]["readings"][:4]}]
    answer = compared(rig, sample(BEFORE), rig.write("alone.json", alone))
    assert row(answer, "tow_unhitched_total")["difference"] is not None
    assert not any(q["name"] == "trailer_mass" for q in answer["quantities"])
    assert "without a trailer" in rig.out("compare", rig.folder / "alone.json", sample(AFTER))


def test_hostile_text_stays_text(rig):
    other = sheet(AFTER)
    other["carried"]["note"] = "full\u202e"
    other["weighed"]["place"] = "Depot\u2066 4"
    other["modifications"][0]["what"] = "springs\u202e" + "x" * 300
    text = rig.out("compare", sample(BEFORE), rig.write("other.json", other))
    assert "\u202e" not in text and "\u2066" not in text and "\\u202e" in text and "\\u2066" in text
    assert all(len(line) <= 80 for line in text.splitlines()), text


def test_refusals(rig):
    message = rig.refused("compare", sample(BEFORE), sample("tcw-012-pump-trailer"))
    assert "two tow vehicles" in message and "same uid" in message
    broken = sheet(AFTER)
    broken["states"] = []
    rig.refused("compare", sample(BEFORE), rig.write("broken.json", broken))
    rig.refused("compare", sample(BEFORE), "nowhere.json")
    rig.refused("compare", sample(BEFORE), "nosession")


def test_wrong_words(rig):
    rig.wrong("compare", sample(BEFORE))
    rig.wrong("compare", "a.json", "b.json", "c.json")
    assert ".xlsx" in rig.wrong("compare", "a.json", "b.json", "--to", "a.pdf")


def test_the_workbook_holds_the_figures_of_the_json(rig):
    import openpyxl
    words = [harness.sample("tcw-018-before-springs"), harness.sample("tcw-018-after-springs")]
    rig.out("compare", *words, "--to", "springs.xlsx")
    answer = rig.json("compare", *words)
    book = openpyxl.load_workbook(rig.folder / "springs.xlsx")
    figures = set()
    for sheet in book:
        for row in sheet.iter_rows():
            for cell in row:
                assert cell.data_type != "f", (sheet.title, cell.coordinate)
                if isinstance(cell.value, (int, float)):
                    figures.add(cell.value)
    compared = [one for one in answer["quantities"] if one["difference"] is not None]
    assert len(compared) > 40
    for one in compared:
        for figure in (one["before"]["value"], one["after"]["value"], one["difference"]):
            # The file holds sixteen digits.
            assert any(abs(shown - figure) <= 1e-14 * abs(figure) for shown in figures), (one["name"], figure)


def test_a_suspect_reading_is_told_first(rig):
    words = [harness.sample("tcw-012-pump-trailer"), harness.sample("tcw-012-digits-swapped")]
    out = rig.out("compare", *words, "--to", "doubt.txt")
    head = out[:out.index("The rig, kg")]
    assert "In doubt" in head and "they do not agree" in head, head
    page = (rig.folder / "doubt.txt").read_text(encoding="utf-8")
    assert "No difference is to be trusted" in " ".join(page[:page.index("The rig\n")].split())
    assert "In doubt" not in rig.out("compare", harness.sample(BEFORE), harness.sample(AFTER))


def test_libreoffice_reads_the_same(rig):
    import libreoffice
    import openpyxl
    if not libreoffice.is_there():
        return print("soffice is not there: the workbook was not read by it")
    rig.out("compare", harness.sample(BEFORE), harness.sample(AFTER), "--to", "springs.xlsx")
    ours = libreoffice.cells_of(openpyxl.load_workbook(rig.folder / "springs.xlsx"))
    libreoffice.check_same(ours, libreoffice.read_by_libreoffice(rig, "springs.xlsx"))
    return None


def test_a_page_and_a_text_say_the_same(rig):
    words = [harness.sample("tcw-018-before-springs"), harness.sample("tcw-018-after-springs")]
    for name in ("springs.html", "springs.txt"):
        assert "wrote " + name in rig.out("compare", *words, "--to", name, "--words", "uk")
        text = (rig.folder / name).read_text(encoding="utf-8")
        assert "noseweight" in text.lower() and "ISO 13528" in text, name
    assert all(len(line) <= 80 for line in (rig.folder / "springs.txt").read_text(encoding="utf-8").splitlines())


harness.main(globals())
