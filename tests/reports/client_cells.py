"""The client's workbook read back by another program: every figure equal, every text a text, no formula.

usage: client_cells.py CLIENT_WRITER
"""
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as tree
import zipfile
from pathlib import Path

import openpyxl

POUND = 0.45359237
INCH = 25.4
# Measures in the order of reconcile::Measure: kg, mm, 1, kg/mm, kg·mm, kN.
FACTOR = {"kg": [1] * 6, "lb": [1 / POUND, 1 / INCH, 1, INCH / POUND, 1 / POUND / INCH, 1]}

checks = 0


def check(condition, *message):
    global checks
    checks += 1
    if not condition:
        raise SystemExit("FAILED: " + " ".join(str(part) for part in message))


def near(a, b, exact):
    # The library writes 16 significant digits; a conversion adds the rounding of its own multiplications.
    return abs(a - b) <= (1e-15 if exact else 1e-14) * max(abs(a), abs(b))


def table(sheet, first_heading):
    """Rows under each head whose first cell is `first_heading`, down to a row that is empty or only a heading."""
    rows, reading = [], False
    for row in sheet.iter_rows():
        if row[0].value == first_heading:
            reading = True
            continue
        if reading:
            if row[0].value is None or all(cell.value is None for cell in row[1:]):
                reading = False
            else:
                rows.append([cell.value for cell in row])
    return rows


def expected_of(path):
    kinds = {}
    for line in Path(str(path) + ".tsv").read_text().splitlines():
        kind, *figures = line.split("\t")
        kinds.setdefault(kind, []).append([float(figure) for figure in figures])
    return kinds


def check_figures(book, expected, units):
    exact, factor = units == "kg", FACTOR[units]
    rows = [row for row in table(book["Results"], "Quantity") if row[3] != "unknown"]
    check(len(rows) == len(expected["quantity"]), "number of results", len(rows))
    for row, (value, u, measure) in zip(rows, expected["quantity"]):
        scale = factor[int(measure)]
        for found, wanted in ((row[3], value * scale), (row[4], u * scale), (row[5], 2 * u * scale)):
            check(near(found, wanted, exact), "Results", row, wanted)
    limits = table(book["Limits"], "Limit") + table(book["Advice"], "Limit")
    wanted_rows = expected.get("rating", []) + expected.get("advice", [])
    limits = [row for row in limits if row[3] != "unknown"]
    check(len(limits) == len(wanted_rows), "number of limits", len(limits))
    for row, (rating, value, u, margin, chance, measure) in zip(limits, wanted_rows):
        scale = factor[int(measure)]
        for found, wanted in ((row[2], rating * scale), (row[3], value * scale), (row[4], 2 * u * scale),
                              (row[5], margin * scale)):
            check(near(found, wanted, exact), "Limits", row, wanted)
        check(near(row[6], chance, True), "chance of breach", row)
    readings = table(book["Readings"], "State")[-len(expected["reading"]):]
    for row, (figure,) in zip(readings, expected["reading"]):
        check(row[2] == figure, "reading as entered", row)
    observations = table(book["Fit"], "Observation")
    check(len(observations) == len(expected.get("observation", [])), "number of observations")


def check_no_formulas(book, path):
    for sheet in book.worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                check(cell.data_type != "f", "a formula in", sheet.title, cell.coordinate)
    with zipfile.ZipFile(path) as archive:
        check(archive.testzip() is None, "damaged archive")
        for name in archive.namelist():
            if name.endswith((".xml", ".rels")):
                tree.fromstring(archive.read(name))
            if name.startswith("xl/worksheets/"):
                check(b"<f>" not in archive.read(name), "a formula in", name)
        check(sum(name.startswith("xl/charts/") for name in archive.namelist()) >= 1, "no chart")


def check_hostile(book):
    text = [cell.value for sheet in book.worksheets for row in sheet.iter_rows() for cell in row
            if isinstance(cell.value, str)]
    joined = "\n".join(text)
    for part in ("=1+1, <b>bold</b> & \"quoted\"", "\u05e9\u05dc\u05d5\u05dd \ufffdevil", "nul\u2400bell\u2407\ufffd\ufffd broken",
                 "_x0041_ stays, +cmd|' /C calc'!A0", "\t=2+3", "&P &N &[Page] \U0001f69a"):
        check(part in joined, "text not kept:", repr(part))
    check('=HYPERLINK("http://example.invalid")' in text, "a state's name is not a text")
    check(any("WWW … [cut] (@SUM(A1))" in one for one in text), "the long name is not cut with a mark")
    check(max(map(len, text)) <= 32767, "a text too long")


def main(writer):
    with tempfile.TemporaryDirectory() as folder:
        for case, units in (("whole", "kg"), ("whole", "lb"), ("over", "kg"), ("incomplete", "kg"), ("alone", "kg"),
                            ("hostile", "kg"), ("pounds", "sheet")):
            path = Path(folder) / f"{case}-{units}.xlsx"
            subprocess.run([writer, case, "A4", units, path], check=True, stderr=subprocess.STDOUT)
            book = openpyxl.load_workbook(path)
            visible = [sheet.title for sheet in book.worksheets if sheet.sheet_state == "visible"]
            check(visible == ["Summary", "Readings", "Results", "Fit", "Limits", "Advice", "Room", "Method"], visible)
            check_figures(book, expected_of(path), "lb" if case == "pounds" else units)
            check_no_formulas(book, path)
            if case == "hostile":
                check_hostile(book)
    check(checks > 500, "too few checks ran:", checks)
    print(checks, "checks")


main(sys.argv[1])
