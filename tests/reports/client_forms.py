"""The client's report as workbook, page and text: the same figures in each, and nothing hostile in any.

The workbook's cells are shown here by an interpreter of their own number formats, so that the page and the text are
held against what a spreadsheet program would show.

usage: client_forms.py CLIENT_WRITER
"""
import decimal
import html.parser
import re
import subprocess
import sys
import tempfile
import unicodedata
import xml.etree.ElementTree as tree
from pathlib import Path

import openpyxl

checks = 0


def check(condition, *message):
    global checks
    checks += 1
    if not condition:
        raise SystemExit("FAILED: " + " ".join(str(part) for part in message))


def rounded(value, places):
    # A spreadsheet rounds the fifteen digits that it shows, half away from zero.
    digits = decimal.Decimal(f"{abs(value):.15g}")
    return str(digits.quantize(decimal.Decimal(1).scaleb(-places), rounding=decimal.ROUND_HALF_UP))


def shown(value, number_format):
    """What a cell shows; formats as the report makes them: positive;negative;zero, texts in quotation marks."""
    if number_format.startswith("[<0.0001]"):
        return "< 0.01 %" if value < 0.0001 else "> 99.99 %" if value > 0.9999 else rounded(100 * value, 2) + " %"
    if number_format == "General":
        return str(int(value)) if value == int(value) else repr(value)
    sections = re.split(r";(?=(?:[^\"]*\"[^\"]*\")*[^\"]*$)", number_format)
    section = sections[1] if value < 0 and len(sections) > 1 else sections[2] if value == 0 and len(sections) > 2 else sections[0]
    figure = re.search(r"0(\.0+)?", re.sub(r'"[^"]*"', lambda text: "\x01" * len(text.group()), section))
    places = len(figure.group(1) or ".") - 1
    percent = "%" in section
    text = section[:figure.start()] + rounded(100 * value if percent else value, places) + section[figure.end():]
    return text.replace('"', "").replace("\\ ", " ")


def figures_of_workbook(path):
    return [(cell.value, shown(cell.value, cell.number_format))
            for sheet in openpyxl.load_workbook(path).worksheets if sheet.sheet_state == "visible"
            for row in sheet.iter_rows() for cell in row if isinstance(cell.value, (int, float))]


class Page(html.parser.HTMLParser):
    """Elements open and close in order; what <data> holds; every text and attribute."""

    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.open, self.figures, self.tags, self.texts, self.attributes = [], [], [], [], []
        self.figure = None

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += attrs
        if tag != "meta":
            self.open.append(tag)
        if tag == "data":
            self.figure = (float(dict(attrs)["value"]), "")

    def handle_startendtag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += attrs

    def handle_endtag(self, tag):
        check(self.open and self.open.pop() == tag, "elements are not closed in order:", tag)
        if tag == "data":
            self.figures.append(self.figure)
            self.figure = None

    def handle_data(self, data):
        self.texts.append(data)
        if self.figure:
            self.figure = (self.figure[0], self.figure[1] + data)


def check_page(text, case, figures):
    tree.fromstring(text)  # well-formed
    page = Page()
    page.feed(text)
    page.close()
    check(page.open == [], case, "is left open:", page.open)
    check([words for _, words in page.figures] == [words for _, words in figures], case, "page shows other figures",
          [pair for pair in zip(page.figures, figures) if pair[0][1] != pair[1][1]][:3])
    for (whole, _), (cell, _) in zip(page.figures, figures):
        check(abs(whole - cell) <= 1e-15 * abs(cell), case, "holds", whole, "for", cell)
    check(page.tags.count("h1") == 1, case, "has not one first heading")
    names = dict(page.attributes)
    check(names.get("lang") == "en-GB", "no language")
    check(page.tags.count("caption") == page.tags.count("table"), "a table without a caption")
    for head in re.findall(r"<th(?: [^>]*)?>", text):
        check('scope="' in head, "a head without scope:", head)
    # Nothing is asked for from outside, nothing runs.
    check(not {"script", "link", "img", "iframe", "object", "form", "input", "b", "i"} & set(page.tags), page.tags)
    for name, value in page.attributes:
        check(not name.startswith("on") and name != "src", name)
        check(name != "href" or value.startswith("#part-"), value)
    check("url(" not in text and "@import" not in text, "something is loaded by the style")


def check_text(text, case, figures):
    at = 0
    for _, words in figures:
        found = text.find(words, at)
        check(found >= 0, case, "text does not show", words)
        at = found + len(words)
    for line in text.split("\n"):
        width = sum(0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in line)
        check(width <= 80, case, "has a line of", width, "columns:", line)
    check(not re.search("[\x00-\x09\x0b-\x1f\x7f\u200e\u200f\u202a-\u202e\u2066-\u2069]", text), case, "has controls")


def check_hostile(page_text, text):
    page = Page()
    page.feed(page_text)
    said = "".join(page.texts)
    for part in ("=1+1", '<b>bold</b> & "quoted"', "\u05e9\u05dc\u05d5\u05dd \ufffdevil", "nul\u2400bell\u2407\ufffd\ufffd broken",
                 "</style><script>alert(1)</script>", "&P &N &[Page] \U0001f69a"):
        check(part in said, "the page does not keep", repr(part))
        check(part in re.sub(r"\s+", " ", text), "the text does not keep", repr(part))
    check("<script" not in page_text.lower(), "a script got through")
    check(not re.search("[\u202a-\u202e\u2066-\u2069]", page_text), "direction is turned")


def main(writer):
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for case, units in (("whole", "kg"), ("over", "lb"), ("incomplete", "kg"), ("alone", "kg"), ("hostile", "kg"),
                            ("sealed", "kg"), ("conflict", "kg"), ("pounds", "sheet")):
            forms = {}
            for form in ("xlsx", "html", "txt"):
                forms[form] = folder / f"{case}.{form}"
                subprocess.run([writer, case, "A4", units, forms[form]], check=True)
            figures = figures_of_workbook(forms["xlsx"])
            check(len(figures) > 20, case, "has only", len(figures), "figures")
            page, text = forms["html"].read_text("utf-8"), forms["txt"].read_text("utf-8")
            check_page(page, case, figures)
            check_text(text, case, figures)
            if case == "hostile":
                check_hostile(page, text)
    check(checks > 2000, "too few checks ran:", checks)
    print(checks, "checks")


main(sys.argv[1])
