"""steelyard audit: a fleet's workbook, its JSON, its register; the same whatever the threads; filters."""
import csv
import io
import json
import pathlib

import harness

SAMPLES = sorted(path.stem for path in (harness.SOURCE / "sample_data").glob("*.json"))


def with_fleet(rig):
    rig.out("init")
    rig.run("import", *[harness.sample(name) for name in SAMPLES], warned=True)


def results(rig):
    return {one["session"]: one for one in rig.lines("reconcile", "--all")}


def test_every_session_agrees_with_its_own_result(rig):
    with_fleet(rig)
    rig.out("audit", "--to", "register.jsonl")
    lines = [json.loads(line) for line in (rig.folder / "register.jsonl").read_text().splitlines()]
    all_results = results(rig)
    assert {one["session"] for one in lines} == set(all_results)
    for one in lines:
        result = all_results[one["session"]]
        assert one["outcome"] == result["outcome"]
        for name in ("coupling_load", "coupling_share", "trailer_mass", "combination_mass", "tow_unhitched_total"):
            found = [q for q in result["quantities"] if q["name"] == name and q["state"] is None and q["determinable"]]
            assert (one[name] is None) == (not found), (one["session"], name)
            if found:
                assert one[name] == {"value": found[0]["value"], "u": found[0]["u"]}
        if one["nearest"]:
            assert any(limit["of"] == one["nearest"]["of"] and limit["value"] == one["nearest"]["value"]
                       and limit["limit"] == one["nearest"]["limit"] for limit in result["limits"])


def test_counts_are_those_of_the_results(rig):
    with_fleet(rig)
    audit = rig.json("audit")
    all_results = results(rig).values()
    outside = [r for r in all_results if r["outcome"] in ("fail", "conditional fail")]
    assert audit["total"]["weighed"] == len(SAMPLES)
    assert audit["total"]["outside"] == len(outside)
    # Wilson's interval a second time: the roots of (p - k/n)^2 = z^2 p (1 - p)/n.
    k, n, z = audit["total"]["outside"], audit["total"]["assessed"], 1.959963984540054
    a, b, c = 1 + z * z / n, -(2 * k / n + z * z / n), (k / n) ** 2
    root = (b * b - 4 * a * c) ** 0.5
    low, high = audit["total"]["interval"]
    assert abs(low - (-b - root) / (2 * a)) < 1e-12 and abs(high - (-b + root) / (2 * a)) < 1e-12
    assert sum(one["weighed"] for one in audit["by_client"]) == len(SAMPLES)
    used = [one["used"] for one in audit["breaches"]]
    assert used == sorted(used, reverse=True) and len(used) >= len(outside)


def test_json_keeps_to_its_schema(rig):
    import jsonschema
    schema = json.loads((harness.SOURCE / "schema" / "steelyard-audit-1.schema.json").read_text())
    with_fleet(rig)
    jsonschema.validate(rig.json("audit"), schema)
    jsonschema.validate(rig.json("audit", "--from", "2026-10-01"), schema)
    jsonschema.validate(rig.json("audit", "--vehicle", "tcw-041"), schema)


def test_the_same_bytes_whatever_the_threads(rig):
    with_fleet(rig)
    for threads in (1, 2, 7):
        rig.out("audit", "--to", f"{threads}.xlsx", "--threads", threads, "--issued", "2026-11-01")
        rig.out("audit", "--to", f"{threads}.csv", "--threads", threads)
    books = {(rig.folder / f"{threads}.xlsx").read_bytes() for threads in (1, 2, 7)}
    registers = {(rig.folder / f"{threads}.csv").read_bytes() for threads in (1, 2, 7)}
    assert len(books) == 1 and len(registers) == 1


def test_a_filter_narrows(rig):
    with_fleet(rig)
    every = rig.json("audit")["total"]["weighed"]
    tcwb = rig.json("audit", "--client", "tcwb")["total"]
    assert 0 < tcwb["weighed"] < every and tcwb["clients"] == 1
    assert rig.json("audit", "--client", "water board")["total"]["weighed"] == tcwb["weighed"]
    october = rig.json("audit", "--from", "2026-10-01", "--until", "2026-10-31")
    days = [sheet["weighed"]["at"][:10] for sheet in map(harness.sheet, SAMPLES)]
    assert october["total"]["weighed"] == sum(day.startswith("2026-10") for day in days)
    assert october["not_weighed"], "vehicles weighed only before are known, and not in it"
    assert rig.json("audit", "--vehicle", "tcw-018")["total"]["weighed"] == 2
    assert "no session passes the filter" in rig.refused("audit", "--client", "nobody")
    assert "YYYY-MM-DD" in rig.wrong("audit", "--from", "October")
    assert "before --from" in rig.wrong("audit", "--from", "2026-10-02", "--until", "2026-10-01")
    assert ".xlsx, .csv or .jsonl" in rig.wrong("audit", "--to", "fleet.pdf")
    rig.wrong("audit", "--threads", "0")


def test_no_text_of_the_register_is_a_formula(rig):
    rig.out("init")
    for number, text in enumerate(['=1+1', '+1', '-1', '@x', "'=1", 'a,"b"; c']):
        rig.write("s.json", json.dumps(harness.small(id=f"s-{number}", client={"uid": f"c{number}", "name": text},
                                                     weighed={"at": "2026-10-03T08:40:00+02:00", "technician": text})))
        rig.out("import", "s.json")
    rig.out("audit", "--to", "register.csv")
    rows = list(csv.DictReader(io.StringIO((rig.folder / "register.csv").read_bytes().decode(), newline="")))
    assert len(rows) == 6
    for row in rows:
        for name in ("client", "technician"):
            assert not row[name] or row[name][0] not in "=+-@\t\r", row[name]
    assert rows[0]["client"] == "'=1+1" and rows[5]["client"] == 'a,"b"; c'


def test_overload_bands_sort_what_is_over(rig):
    with_fleet(rig)
    bands = harness.SOURCE / "sample_data" / "overload_bands.csv"
    rig.out("settings", "overload_bands", "--from", bands)
    audit = rig.json("audit")
    of_load = [one for one in audit["breaches"] if one["unit"] == "kg" and one["value"] > one["rating"]]
    assert of_load
    for one in of_load:
        expected = "slight"
        if one["value"] >= max(1.05 * one["rating"], one["rating"] + 100):
            expected = "marked"
        if one["value"] >= 1.2 * one["rating"]:
            expected = "gross"
        assert one["band"] == expected, one
    rig.write("bad.csv", "band,from_percent,source\na,90,x\n")
    assert "100 %" in rig.refused("settings", "overload_bands", "--from", "bad.csv")
    rig.write("none.csv", "band,from_percent\na,100\n")
    assert "source is missing" in rig.refused("settings", "overload_bands", "--from", "none.csv")


def test_tables_fit(rig):
    with_fleet(rig)
    assert all(len(line) <= 80 for line in rig.out("audit").splitlines())


def test_the_workbook_holds_the_figures_of_the_register(rig):
    import openpyxl
    with_fleet(rig)
    rig.out("audit", "--to", "fleet.xlsx")
    rig.out("audit", "--to", "fleet.jsonl")
    book = openpyxl.load_workbook(rig.folder / "fleet.xlsx")
    lines = [json.loads(line) for line in (rig.folder / "fleet.jsonl").read_text().splitlines()]
    sheet = book["Register"]
    rows = [[cell.value for cell in row] for row in sheet.iter_rows()]
    head = next(i for i, row in enumerate(rows) if row[0] == "Weighed")
    body = rows[head + 1:head + 1 + len(lines)]
    for row, one in zip(body, lines):
        assert row[15] == one["session"], (row, one)
        if one["nearest"]:
            assert abs(row[7] - one["nearest"]["value"]) <= 1e-12 * abs(one["nearest"]["value"])
        if one["coupling_load"]:
            assert abs(row[10] - one["coupling_load"]["value"]) <= 1e-12 * one["coupling_load"]["value"]
    for page in book:
        for row in page.iter_rows():
            for cell in row:
                assert cell.data_type != "f", (page.title, cell.coordinate)
                assert not (isinstance(cell.value, str) and cell.value.startswith("#")), cell.value


def test_libreoffice_reads_the_same(rig):
    import libreoffice
    import openpyxl
    if not libreoffice.is_there():
        return print("soffice is not there: the workbook was not read by it")
    with_fleet(rig)
    rig.out("audit", "--to", "fleet.xlsx")
    ours = libreoffice.cells_of(openpyxl.load_workbook(rig.folder / "fleet.xlsx"))
    libreoffice.check_same(ours, libreoffice.read_by_libreoffice(rig, "fleet.xlsx"))
    return None


harness.main(globals())
