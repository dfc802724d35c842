import zipfile

import harness
from harness import sample, sheet


def test_writes_a_workbook_of_a_sheet_and_of_a_session(rig):
    assert rig.out("report", sample("tcw-012-pump-trailer"), "--to", "a.xlsx") == "wrote a.xlsx\n"
    assert zipfile.ZipFile(rig.folder / "a.xlsx").testzip() is None
    rig.run("init")
    rig.run("import", sample("tcw-012-pump-trailer"))
    session = sheet("tcw-012-pump-trailer")["id"]
    answer = rig.json("report", session[:8], "--to", "b.xlsx", "--paper", "letter")
    assert answer == {"session": session, "report": "b.xlsx"}
    assert zipfile.ZipFile(rig.folder / "b.xlsx").testzip() is None


def test_same_input_same_bytes(rig):
    for name in ("a.xlsx", "b.xlsx"):
        rig.run("report", sample("tcw-041-tanker-truck-alone"), "--to", name, "--issued", "2026-10-05")
    assert (rig.folder / "a.xlsx").read_bytes() == (rig.folder / "b.xlsx").read_bytes()


def test_nothing_is_left_where_it_cannot_write(rig):
    assert "nowhere" in rig.refused("report", sample("tcw-041-tanker-truck-alone"), "--to", "nowhere/a.xlsx")
    assert list(rig.folder.iterdir()) == []


def test_the_files_name_says_its_form(rig):
    for name in ("a.html", "a.txt"):
        assert rig.out("report", sample("tcw-015-excavator-trailer-over"), "--to", name) == f"wrote {name}\n"
    page, text = (rig.folder / "a.html").read_text("utf-8"), (rig.folder / "a.txt").read_text("utf-8")
    for form in (page, text):  # 6138.6 kg against 6000 kg, and what the figures are shown as is the same in each
        assert "OUTSIDE A RATING: DO NOT TOW" in form and "6138.6 kg" in form and "−138.6 kg" in form
    assert page.startswith("<!DOCTYPE html>\n<html lang=\"en-GB\">") and page.endswith("</html>\n")
    assert max(map(len, text.split("\n"))) <= 80


def test_a_page_replaces_another_and_only_when_it_is_whole(rig):
    rig.run("report", sample("tcw-041-tanker-truck-alone"), "--to", "a.html", "--issued", "2026-10-05")
    before = (rig.folder / "a.html").read_bytes()
    rig.run("report", sample("tcw-041-tanker-truck-alone"), "--to", "a.html", "--issued", "2026-10-05")
    assert (rig.folder / "a.html").read_bytes() == before
    rig.run("report", sample("tcw-041-tanker-truck-alone"), "--to", "a.html", "--issued", "2026-10-06")
    assert (rig.folder / "a.html").read_bytes() != before
    assert "nowhere" in rig.refused("report", sample("tcw-041-tanker-truck-alone"), "--to", "nowhere/a.txt")
    assert [one.name for one in rig.folder.iterdir()] == ["a.html"]


def test_wrong_words(rig):
    assert "--to" in rig.wrong("report", "a.json")
    assert ".xlsx, .html or .txt" in rig.wrong("report", "a.json", "--to", "a.pdf")
    assert "a4 or letter" in rig.wrong("report", "a.json", "--to", "a.xlsx", "--paper", "b5")
    assert "missing" in rig.wrong("report", "--to", "a.xlsx")


harness.main(globals())
