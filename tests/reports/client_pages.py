"""The client's workbook as another program prints it: it opens, on the right paper, each page numbered.

usage: client_pages.py CLIENT_WRITER SOFFICE PDFINFO (pdftotext is beside pdfinfo)
"""
import re
import subprocess
import sys
import tempfile
from pathlib import Path

PAPERS = {"A4": (595.3, 841.9), "Letter": (612.0, 792.0)}


def check(condition, *message):
    if not condition:
        raise SystemExit("FAILED: " + " ".join(str(part) for part in message))


def run(*command):
    return subprocess.run(list(map(str, command)), check=True, capture_output=True, text=True).stdout


def pages_of(pdf, pdfinfo, paper):
    count = int(re.search(r"Pages:\s+(\d+)", run(pdfinfo, pdf)).group(1))
    sizes = re.findall(r"Page\s+\d+ size:\s+([\d.]+) x ([\d.]+)", run(pdfinfo, "-f", 1, "-l", count, pdf))
    check(len(sizes) == count, "sizes of", len(sizes), "of", count, "pages")
    short, long = PAPERS[paper]
    for size in sizes:
        low, high = sorted(map(float, size))
        check(abs(low - short) < 1 and abs(high - long) < 1, "a page of", paper, "is", size)
    check(float(sizes[0][0]) < float(sizes[0][1]), "the Summary is not upright")
    check(any(float(wide) > float(high) for wide, high in sizes), "no page lies across for the tables")
    return count


def check_texts(pdf, pdftotext, count, number):
    for page in range(1, count + 1):
        text = run(pdftotext, "-f", page, "-l", page, "-layout", pdf, "-")
        check(f"Page {page} of {count}" in text, "page", page, "is not numbered")
        check(f"Report {number}" in text, "page", page, "has no report number")
        check("###" not in text, "page", page, "has a column too narrow")
        check(("End of report" in text) == (page == count), "the end is not on the last page:", page)


def check_first_page(text, case):
    """The outcome, what decides it, its bars and the rig's picture stand on one page."""
    for part in ("Weighing report", "As the rig travels" if case != "alone" else "As weighed", "Outcome",
                 "Load as a part of its rating", "The rig as it travels" if case != "alone" else "The vehicle as weighed"):
        check(part in text, case, "does not have on its first page:", part)


def main(writer, soffice=None, pdfinfo=None):
    """Without the other programs (the sanitized build) only that every workbook is written without a fault."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        cases = [("whole", "A4", "kg"), ("over", "Letter", "lb"), ("hostile", "A4", "kg"), ("alone", "Letter", "kg"),
                 ("sealed", "A4", "kg"), ("conflict", "Letter", "kg")]
        numbers = {"over": "7c1a52f0-2", "sealed": "7c1a52f0-2 · sealed, seal 3",
                   "conflict": "7c1a52f0-1.aaaa1111 · not sealed"}
        files = []
        for case, paper, units in cases:
            files.append(folder / f"{case}.xlsx")
            run(writer, case, paper, units, files[-1])
        if soffice is None:
            print("written, not laid out")
            return
        pdftotext = Path(pdfinfo).with_name("pdftotext")
        run(soffice, f"-env:UserInstallation=file://{folder}/profile", "--headless", "--convert-to", "pdf", "--outdir", folder,
            *files)
        for (case, paper, _), file in zip(cases, files):
            pdf = file.with_suffix(".pdf")
            check(pdf.exists(), case, "could not be opened")
            count = pages_of(pdf, pdfinfo, paper)
            check(8 <= count <= 15, case, "has", count, "pages")
            if case != "hostile":  # its names fill the page
                check_first_page(run(pdftotext, "-f", 1, "-l", 1, "-layout", pdf, "-"), case)
            check_texts(pdf, pdftotext, count, numbers.get(case, "7c1a52f0-1"))
    print("pages as they should be")


main(*sys.argv[1:])
