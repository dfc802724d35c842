"""A workbook through LibreOffice: what a program that is not ours reads in it."""
import shutil
import subprocess


def is_there():
    return shutil.which("soffice") is not None


def read_by_libreoffice(rig, name):
    """The workbook as LibreOffice saves it again: {(sheet, cell): value}."""
    import openpyxl
    out = rig.folder / "again"
    out.mkdir(exist_ok=True)
    subprocess.run(["soffice", "--headless", f"-env:UserInstallation=file://{rig.folder}/profile", "--convert-to", "xlsx",
                    "--outdir", out, rig.folder / name], check=True, capture_output=True, timeout=180,
                   env={**rig.environment, "HOME": str(rig.folder)})
    return cells_of(openpyxl.load_workbook(out / name))


def cells_of(book):
    return {(sheet.title, cell.coordinate): cell.value
            for sheet in book for row in sheet.iter_rows() for cell in row if cell.value is not None}


def check_same(ours, theirs):
    """Every figure equal to 15 digits, every text the same text, no error."""
    assert len(ours) > 100
    for place, value in ours.items():
        other = theirs.get(place)
        if isinstance(value, (int, float)):
            assert isinstance(other, (int, float)) and abs(other - value) <= 1e-14 * abs(value), (place, value, other)
        else:
            assert str(other) == str(value), (place, value, other)
            assert not str(other).startswith(("#", "Err:")), (place, other)
