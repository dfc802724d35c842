"""CSV files: the sample sheets through CSV are the same sessions; faults by file, row and column; nothing half stored."""
import json
import pathlib
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))

import csv_sheets
import harness
from harness import sheet, small


def samples(rig):
    """The sample sheets, each with the id that the program gives it."""
    sheets = []
    for name in sorted(harness.SAMPLES.glob("*.json")):
        one = csv_sheets.carried(json.loads(name.read_text(encoding="utf-8")))
        rig.write("one.json", one)
        shown = rig.json("show", "one.json")
        one["id"] = shown["id"]
        sheets.append((one, shown))
    assert len(sheets) == 20
    return sheets


def same_sessions(rig, **how):
    sheets = samples(rig)
    files = csv_sheets.write(rig.folder, [one for one, _ in sheets], **how)
    rig.run("init")
    answer = rig.json("import", *files, warned=True)  # one scale is out of date
    assert answer["files"] == files and len(answer["added"]) == 20
    for one, shown in sheets:
        assert rig.json("show", one["id"]) == shown
    # the JSON sheets are recognised: the same content, byte for byte
    for one, _ in sheets:
        rig.write("one.json", one)
        assert rig.json("import", "one.json")["already_there"] == [one["id"]]


def test_every_sample_is_the_same_session_by_csv(rig):
    same_sessions(rig)


def test_the_same_with_semicolons_decimal_commas_and_a_byte_order_mark(rig):
    same_sessions(rig, separator=";", decimal=",", mark="\ufeff", repeated=False)


def test_the_same_with_tabs_and_plain_line_ends(rig):
    same_sessions(rig, separator="\t", end="\n", repeated=False)


def filed(rig, sheets=None, **changes):
    """Files of small sessions, with cells changed: (kind, row from 1 below the header, column) to text."""
    tables = csv_sheets.rows(sheets or [small()])
    for (kind, number, column), value in changes.pop("cells", {}).items():
        tables[kind][number - 1][column] = value
    names = []
    for kind, table in tables.items():
        if table:
            rig.write(f"{kind}.csv", csv_sheets.text(table, **changes))
            names.append(f"{kind}.csv")
    return names


def column(rig, kind, name):
    """The letter of a column, counted here from the file's header."""
    header = (rig.folder / f"{kind}.csv").read_text().splitlines()[0].split(",")
    return "ABCDEFGHIJKLMNOPQRSTUVWXYZ"[header.index(name)]


def test_every_fault_of_every_file_with_row_and_column(rig):
    rig.run("init")
    names = filed(rig, cells={("readings", 2, "load"): -12, ("readings", 3, "at"): "trailer.7",
                              ("vehicles", 2, "axles"): "many", ("limits", 1, "of"): "combinatoin",
                              ("sessions", 1, "unit_load"): "stone"})
    err = rig.refused("import", *names)
    said = {}
    for line in err.splitlines():
        said[line.split(": ", 2)[1]] = line
    for kind, row, name, words in (("readings", 3, "load", "is -12"), ("vehicles", 3, "axles", '"many"'),
                                   ("limits", 2, "of", 'did you mean "combination"'),
                                   ("sessions", 2, "unit_load", "kg or lb")):
        place = f"{kind}.csv, row {row}, column {column(rig, kind, name)} ({name})"
        assert words in said[place], (place, err)
    assert "the CSV files: refused, nothing of them stored" in err
    assert len(err.splitlines()) == 5, err  # trailer.7 cannot be judged while the axles are not known
    assert rig.lines("list") == []


def test_rows_are_counted_as_the_spreadsheet_counts_them(rig):
    rig.run("init")
    one = small(conditions={"note": "first line\nsecond line\n\nfourth"})
    filed(rig, [one, small(id="small-0002")])
    # two sessions: the note of the first covers four lines of the file but one row of the spreadsheet; an empty row
    # below the header counts as one
    text = (rig.folder / "sessions.csv").read_text()
    head, rest = text.split("\n", 1)
    (rig.folder / "sessions.csv").write_text(head + "\n,,,\n" + rest.replace(",tow vehicle 1", ",nobody"))
    err = rig.refused("import", *("readings.csv sessions.csv vehicles.csv limits.csv".split()))
    letter = column(rig, "sessions", "tow_vehicle")
    assert f'sessions.csv, row 4, column {letter} (tow_vehicle): "nobody" is no vehicle' in err, err


def test_one_faulty_session_stores_none(rig):
    rig.run("init")
    names = filed(rig, [small(id=f"small-{n:04}") for n in range(5)], cells={("readings", 14, "load"): "1,790"})
    err = rig.refused("import", *names)
    assert "readings.csv, row 15, column" in err and "no mark between thousands" in err
    assert rig.lines("list") == []
    names = filed(rig, [small(id=f"small-{n:04}") for n in range(5)])
    assert rig.out("import", *names) == "the CSV files: 5 sessions added\n"
    assert rig.out("import", *reversed(names)) == "the CSV files: 5 sessions already there\n"
    names = filed(rig, [small(id=f"small-{n:04}") for n in range(6)], cells={("readings", 2, "load"): 1201})
    err = rig.refused("import", *names)  # other content of a known id
    assert "small-0000" in err and "1201" in err
    assert len(rig.lines("list")) == 5


def test_what_may_be_thousands_or_decimals_is_refused(rig):
    rig.run("init")
    for text, sound in (("1200,5", True), ("1200.5", True), ("1,200", False), ("1.200", False), ("1.200,5", False),
                        ("0,125", True), ("1 200", False), ("1200 kg", False)):
        names = filed(rig, [small(id=f"by {text}")], separator=";", cells={("readings", 2, "load"): text})
        if sound:
            rig.run("import", *names)
            shown = rig.json("show", f"by {text}")
            assert shown["states"][0]["readings"][1]["load"] == float(text.replace(",", "."))
        else:
            assert "row 3" in rig.refused("import", *names)


def test_files_of_another_coding_are_refused_with_the_remedy(rig):
    rig.run("init")
    names = filed(rig, cells={("sessions", 1, "place"): "Südhof"})
    good = (rig.folder / "sessions.csv").read_bytes()
    for coding in ("latin-1", "utf-16"):
        (rig.folder / "sessions.csv").write_bytes(good.decode().encode(coding))
        err = rig.refused("import", *names)
        assert "sessions.csv" in err and 'CSV UTF-8' in err, err
    (rig.folder / "sessions.csv").write_bytes(b"")
    assert "is empty" in rig.refused("import", *names)


def test_cells_are_data_and_never_formulas(rig):
    rig.run("init")
    hostile = ["=1+1", "'0417", "@SUM(A1)", '=HYPERLINK("x","y")', "+49 30", "-x", "a;b,c\td"]
    for text in hostile:
        names = filed(rig, [small(id=f"n{hostile.index(text)}")], cells={("sessions", 1, "place"): text})
        if "\t" in text:
            assert "control character" in rig.refused("import", *names)
            continue
        rig.run("import", *names)
        assert rig.json("show", f"n{hostile.index(text)}")["weighed"]["place"] == text


def test_a_state_says_the_same_on_all_its_rows(rig):
    rig.run("init")
    names = filed(rig, cells={("readings", 3, "hitched"): "no"})
    err = rig.refused("import", *names)
    assert 'row 4, column' in err and '(hitched): is "no", but "yes" in row 2, of the same state' in err


def test_headers_are_told_and_missing_files_too(rig):
    rig.run("init")
    names = filed(rig)
    assert "there is no vehicles file among these" in rig.refused("import", "readings.csv", "sessions.csv")
    for wrong, words in (("laod", 'did you mean "load"'), ("bay", "remove it")):
        text = (rig.folder / "readings.csv").read_text().split("\n", 1)
        rig.write("other.csv", text[0].replace("load", wrong, 1) + "\n" + text[1])
        err = rig.refused("import", "other.csv", *names[:-1])
        assert words in err and 'has no column "load"' in err, err
    rig.write("other.csv", "one,two\n1,2\n")
    assert "steelyard template" in rig.refused("import", "other.csv", *names)
    assert "add it there, or mend the name" in rig.refused(
        "import", *filed(rig, cells={("readings", 2, "session"): "nobody"}))
    assert rig.lines("list") == []


def test_a_row_of_two_units_is_refused(rig):
    rig.run("init")
    pounds = small(id="lb", units={"load": "lb", "length": "in"})
    tables = csv_sheets.rows([small(id="kg"), pounds])
    tables["scales"] = [{"id": "P1", "capacity": 5000}]
    for row in tables["readings"]:
        row["scale"] = "P1"
    tables["sessions"][1]["trailer"] = "trailer 0"  # one trailer, measured in mm and in inches
    tables["vehicles"][1]["coupling_to_axles"] = 3400
    for kind, table in tables.items():
        rig.write(f"{kind}.csv", csv_sheets.text(table))
    err = rig.refused("import", *(f"{kind}.csv" for kind in tables))
    assert "scales.csv, row 2" in err and "sessions in kg and in lb" in err
    assert "vehicles.csv, row 3" in err and "sessions in mm and in in" in err


def test_a_common_scale_goes_with_the_sessions_that_name_it(rig):
    rig.run("init")
    tables = csv_sheets.rows([small(id="one"), small(id="two")])
    tables["scales"] = [{"id": "P1", "capacity": 5000}, {"id": "P2", "capacity": 3000}]
    tables["readings"][0]["scale"] = "P1"
    tables["readings"][1]["scale"] = "P1; P2"
    for kind, table in tables.items():
        rig.write(f"{kind}.csv", csv_sheets.text(table))
    rig.run("import", *(f"{kind}.csv" for kind in tables))
    one, two = rig.json("show", "one"), rig.json("show", "two")
    assert [scale["id"] for scale in one["scales"]] == ["P1", "P2"] and "scales" not in two
    assert one["states"][0]["readings"][1]["scale"] == ["P1", "P2"]


def test_csv_goes_to_import_alone(rig):
    names = filed(rig)
    rig.run("init")
    err = rig.refused("import", "nothing.csv")
    assert "there is no such file" in err
    rig.write("good.json", small(id="json-0001"))
    out, err = rig.run("import", "good.json", "readings.csv", code=1)  # a sheet goes on where the CSV files cannot
    assert out == "good.json: 1 session added\n" and "no sessions file" in err


harness.main(globals())
