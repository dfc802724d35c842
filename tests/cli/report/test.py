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


def test_wrong_words(rig):
    assert "--to" in rig.wrong("report", "a.json")
    assert ".xlsx" in rig.wrong("report", "a.json", "--to", "a.pdf")
    assert "a4 or letter" in rig.wrong("report", "a.json", "--to", "a.xlsx", "--paper", "b5")
    assert "missing" in rig.wrong("report", "--to", "a.xlsx")


harness.main(globals())
