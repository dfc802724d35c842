"""The workbook to fill in: its headers and lists, and what is imported from it once it is filled in."""
import csv
import json
import pathlib
import shutil
import subprocess
import sys

import openpyxl

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))

import csv_sheets
import harness
from harness import sheet

SHEETS = {kind: kind.capitalize() for kind in csv_sheets.KINDS}


def book_of(rig, *words):
    rig.run("template", "--to", "blank.xlsx", *words)
    return openpyxl.load_workbook(rig.folder / "blank.xlsx")


def header(page):
    return [cell.value for cell in page[1]]


def test_sheets_are_empty_but_for_a_header_that_stays_in_sight(rig):
    assert rig.out("template", "--to", "a.xlsx") == "wrote a.xlsx\n"
    book = openpyxl.load_workbook(rig.folder / "a.xlsx")
    assert book.sheetnames == ["Instructions", *SHEETS.values(), "Lists"]
    assert book["Lists"].sheet_state == "hidden"
    for name in SHEETS.values():
        page = book[name]
        assert page.max_row == 1 and page.freeze_panes == "A2"
        assert len(set(header(page))) == len(header(page)) >= 15


def test_the_contracts_columns_of_a_reading_are_there(rig):
    named = header(book_of(rig)["Readings"])
    for column in "session state hitched weight_distribution support at load unit scale taken_at".split():
        assert column in named


def test_csv_files_have_the_same_headers(rig):
    book = book_of(rig)
    answer = rig.json("template", "--csv-to", "empty")
    assert answer == {"files": [f"empty/{kind}.csv" for kind in SHEETS]}
    for kind, name in SHEETS.items():
        text = (rig.folder / "empty" / f"{kind}.csv").read_text(encoding="utf-8-sig")
        assert next(csv.reader([text])) == header(book[name])


def lists(book, page):
    """The words that each column offers, by its header."""
    out = {}
    for rule in page.data_validations.dataValidation:
        assert rule.type == "list"
        if rule.formula1.startswith('"'):
            words = rule.formula1.strip('"').split(",")
        else:
            name, cells = rule.formula1.split("!")
            words = [row[0].value for row in book[name.strip("'")][cells.replace("$", "")]]
        for area in rule.sqref.ranges:
            assert area.min_row == 2 and area.min_col == area.max_col and area.max_row > 4000
            out[page.cell(1, area.min_col).value] = (words, rule.errorStyle or "stop")
    return out


def test_lists_are_the_contracts_words(rig):
    book = book_of(rig)
    schema = json.loads((harness.SOURCE / "schema" / "steelyard-session-1.schema.json").read_text())
    text = json.dumps(schema)
    readings = lists(book, book["Readings"])
    for column in ("hitched", "weight_distribution", "travels"):
        assert readings[column] == (["yes", "no"], "stop")
    assert readings["support"][0] == ["coupling", "jockey"] and readings["unit"][0] == ["kg", "lb"]
    assert readings["at"][1] == "warning" and {"tow.1.left", "trailer.2", "tow", "coupling", "jockey"} <= set(
        readings["at"][0])
    assert set(lists(book, book["Vehicles"])) == {"kind", "unit_length", "suspension", "self_supporting"}
    assert lists(book, book["Vehicles"])["suspension"][0] == ["single", "independent", "load_sharing"]
    for words in (lists(book, book["Vehicles"])["suspension"][0], readings["support"][0]):
        assert all(f'"{word}"' in text for word in words)
    assert "state" not in readings and "scale" not in readings


def test_every_limit_of_the_list_is_taken(rig):
    words, style = lists(*(lambda book: (book, book["Limits"]))(book_of(rig)))["of"]
    assert style == "warning" and len(words) > 25 and sum(map(len, words)) > 255  # too long to stand in the rule
    rig.run("init")
    one = harness.small(id="limits")
    one["rig"]["tow_vehicle"]["axles"].append({"at": 4300, "group": "rear"})
    one["rig"]["trailer"]["axles"] = 3
    value = lambda of: {"value": 0.5} if "share" in of or "ratio" in of or "restoration" in of or of.startswith(
        "side") else {"value": 20}
    one["rig"]["limits"] = [{"of": of, **value(of)} for of in words]
    rig.run("import", *csv_sheets.write(rig.folder, [one]))
    assert [limit["of"] for limit in rig.json("show", "limits")["rig"]["limits"]] == words


def fill(page, table):
    """Types the rows into the sheet's columns, figures as figures."""
    place = {name: i + 1 for i, name in enumerate(header(page))}
    for number, row in enumerate(table, start=2):
        for name, value in row.items():
            if value not in (None, ""):
                page.cell(number, place[name], csv_sheets.word(value) if isinstance(value, bool) else value)


def saved_as_csv(page, to):
    with open(to, "w", newline="", encoding="utf-8-sig") as out:
        csv.writer(out).writerows([["" if v is None else v for v in row] for row in page.iter_rows(values_only=True)])


def figures(result):
    return {(q["name"], q["state"], q["at"]): (q["value"], q["u"]) for q in result["quantities"]}


def filled(rig, one):
    book = book_of(rig)
    for kind, table in csv_sheets.rows([one]).items():
        fill(book[SHEETS[kind]], table)
    book.save(rig.folder / "filled.xlsx")
    return book


def reconciles_alike(rig, one):
    rig.run("init")
    rig.run("import", *(f"{kind}.csv" for kind in SHEETS))
    rig.write("one.json", one)
    by_csv, by_sheet = rig.json("reconcile", one["id"]), rig.json("reconcile", "one.json")
    assert len(figures(by_csv)) > 20 and figures(by_csv) == figures(by_sheet)
    assert by_csv["outcome"] == by_sheet["outcome"]


def test_a_filled_in_template_reconciles_as_the_json_sheet(rig):
    one = csv_sheets.carried(sheet("tcw-026-two-coupling-heights"))
    book = filled(rig, one)
    for kind, name in SHEETS.items():
        saved_as_csv(book[name], rig.folder / f"{kind}.csv")
    reconciles_alike(rig, one)


def test_the_same_saved_by_a_spreadsheet_program(rig):
    office = shutil.which("soffice")
    if not office:
        print("no spreadsheet program here: not tried")
        return
    one = csv_sheets.carried(sheet("tcw-026-two-coupling-heights"))
    filled(rig, one)
    # 44,34,76: comma, double quote, UTF-8; the last -1: every sheet in a file of its own
    subprocess.run([office, f"-env:UserInstallation=file://{rig.folder}/profile", "--headless", "--convert-to",
                    "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,-1", "--outdir",
                    str(rig.folder), str(rig.folder / "filled.xlsx")], check=True, capture_output=True, timeout=200)
    for kind, name in SHEETS.items():
        (rig.folder / f"filled-{name}.csv").rename(rig.folder / f"{kind}.csv")
    reconciles_alike(rig, one)


def test_the_example_of_the_instructions_can_be_imported(rig):
    page = book_of(rig)["Instructions"]
    rows = [[value for value in row] for row in page.iter_rows(values_only=True)]
    for number, row in enumerate(rows):
        if not str(row[0] or "").startswith("Example: "):
            continue
        width = max(i for i, value in enumerate(rows[number + 1]) if value) + 1
        table = []
        for one in rows[number + 1:]:
            if not one[0] and not any(one) or str(one[0]).startswith(("Example", "Sheet")):
                break
            table.append([one[i] or "" for i in range(0, width, 2)])
        with open(rig.folder / f"{row[0].split()[1].lower()}.csv", "w", newline="", encoding="utf-8") as out:
            csv.writer(out).writerows(table)
    rig.run("init")
    assert rig.out("import", *(f"{kind}.csv" for kind in SHEETS)) == "the CSV files: 1 session added\n"
    result = rig.json("reconcile", "TCW 012, 3 October")
    assert result["fit"]["consistent"] and result["outcome"] == "pass", (result["fit"], result["outcome"])


def test_a_file_that_is_there_is_not_written_over(rig):
    rig.write("a.xlsx", "filled in")
    assert "is there already" in rig.refused("template", "--to", "a.xlsx")
    assert (rig.folder / "a.xlsx").read_text() == "filled in"
    (rig.folder / "b").mkdir()
    rig.write("b/limits.csv", "filled in")
    assert "is there already" in rig.refused("template", "--csv-to", "b")
    assert [one.name for one in (rig.folder / "b").iterdir()] == ["limits.csv"]


def test_same_bytes_each_time(rig):
    for name in ("a.xlsx", "b.xlsx"):
        rig.run("template", "--to", name, "--paper", "letter")
    assert (rig.folder / "a.xlsx").read_bytes() == (rig.folder / "b.xlsx").read_bytes()


def test_wrong_words(rig):
    assert "--csv-to" in rig.wrong("template")
    assert "--csv-to" in rig.wrong("template", "--to", "a.xlsx", "--csv-to", "b")
    assert ".xlsx" in rig.wrong("template", "--to", "a.csv")
    assert "a4 or letter" in rig.wrong("template", "--to", "a.xlsx", "--paper", "b5")


harness.main(globals())
