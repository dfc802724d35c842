"""Hostile text and numbers, through a sheet and through the command line.

Pass rule: a sheet is either refused with the place of the fault, or its texts come back byte for byte, no control,
escape or direction-changing character ever reaches the terminal, and a spreadsheet program sees text; a number is
refused with its place, or every figure in the result is finite. Always within a minute and 1 GB.
"""
import json
import re
import resource
import subprocess

import harness
import openpyxl

TEXTS = ["'; DROP TABLE session; --", '" OR 1=1 --', "=1+1", "+HYPERLINK(\"http://example.invalid\")", "@SUM(A1)", "-2+3",
         "\t=1+1", "<script>alert(1)</script>", "a\x1b[31mred\x1b[0m", "bell\x07 back\x08", "line\nbreak\r\n", "\u202Eevil\u202C",
         "\u2066x\u2069\u200b\ufeff", "ﷺ" * 30, "e\u0301" * 40, "\U0001F69A", "%s%n%d", "../../etc/passwd", "a" * 5000, " ",
         "\x7f\x80\x9f", "\ufffe"]
FORBIDDEN = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u200b\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff]")


def bounded():
    resource.setrlimit(resource.RLIMIT_DATA, (1 << 30, 1 << 30))


def run(rig, *words, code=0):
    """Without bounds on memory where the program is built with AddressSanitizer, which reserves it all."""
    sanitized = b"__asan_init" in open(harness.PROGRAM, "rb").read()
    return rig.run(*words, code=code, **({} if sanitized else {"preexec_fn": bounded}))


def filled(text):
    one = harness.sheet("tcw-012-pump-trailer")
    one["id"] = f"id {text}"
    one["weighed"] = {**one["weighed"], "place": text, "technician": text, "purpose": text}
    one["client"] = {"uid": text, "name": text, "reference": text}
    one["conditions"] = {"surface": text, "wind": text, "note": text}
    one["carried"] = {"note": text}
    one["modifications"] = [{"what": text, "mass": 1, "certificate": text}]
    vehicle, trailer = one["rig"]["tow_vehicle"], one["rig"]["trailer"]
    vehicle.update(uid=text, label=text, registration=text, vin=text)
    trailer.update(uid=text, label=text, registration=text)
    one["rig"]["limits"][0].update(source=text, edition=text, jurisdiction=text, read_by=text)
    one["scales"][0].update(serial=text, certificate=text)
    one["states"][0]["readings"][0]["struck"] = {"why": text or "w", "by": text, "at": "2026-10-03T09:02:00+02:00"}
    one["x-hostile"] = text
    return one


def texts_of(value):
    if isinstance(value, dict):
        return [t for key, v in value.items() if key != "id" for t in texts_of(v)]
    if isinstance(value, list):
        return [t for v in value for t in texts_of(v)]
    return [value] if isinstance(value, str) else []


def test_text_in_every_field_comes_back_or_is_refused(rig):
    rig.out("init")
    kept = 0
    for number, text in enumerate(TEXTS):
        sheet = filled(text)
        path = rig.write(f"{number}.json", json.dumps(sheet))
        try:
            rig.run("import", path)
        except AssertionError:
            told = rig.refused("import", path)
            assert re.search(r"(id|weighed|client|states|rig|scales|modifications|conditions|carried)", told), told
            assert not FORBIDDEN.search(told.replace("\n", "")), repr(told)
            continue
        kept += 1
        shown = rig.json("show", sheet["id"])
        assert texts_of(shown).count(text) >= 15 or text.strip() == "", (text, texts_of(shown).count(text))
        for words in (["list"], ["show", sheet["id"]], ["reconcile", sheet["id"]], ["register"]):
            out = rig.out(*words)
            assert not FORBIDDEN.search(out), (words, FORBIDDEN.search(out))
    assert kept >= 10, "nearly everything was refused"


def test_a_workbook_shows_text_as_text(rig):
    for number, text in enumerate(["=1+1", "+1", "@SUM(A1)", "<b>&amp;</b>", "'; DROP", "\u202Eevil"]):
        path = rig.write(f"{number}.json", json.dumps(filled(text)))
        try:
            rig.run("report", path, "--to", "out.xlsx")
        except AssertionError:
            rig.refused("report", path, "--to", "out.xlsx")
            continue
        book = openpyxl.load_workbook(rig.folder / "out.xlsx")
        cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row if cell.value is not None]
        assert not [cell for cell in cells if cell.data_type == "f"], "a formula"
        assert any(text[-3:] in str(cell.value) for cell in cells), text


def test_names_of_a_megabyte_and_broken_text(rig):
    rig.out("init")
    big = filled("x")
    big["client"]["name"] = "n" * (1 << 20)
    path = rig.write("big.json", json.dumps(big))
    done = subprocess.run([harness.PROGRAM, "import", str(path)], cwd=rig.folder, env=rig.environment, capture_output=True,
                          timeout=60)
    assert done.returncode in (0, 1), done
    if done.returncode == 0:
        assert max(map(len, rig.out("list").splitlines())) <= 80
    for raw in (b'{"format": "steelyard-session/1", "id": "\xff\xfe"}', b'{"id": "\xed\xa0\x80"}', b'{"id": "\\ud800"}',
                b'{"id": "a\x00b"}', b"[" * 100000, b'{"a":' * 50000, b"", b"\x00" * 100, b"\xef\xbb\xbf{}"):
        (rig.folder / "broken.json").write_bytes(raw)
        out, err = run(rig, "import", "broken.json", code=1)
        assert "broken.json" in err


NUMBERS = ["1e308", "1e-320", "-0", "1e400", "NaN", "Infinity", "-Infinity", "0x10", "1,5", "٣", "1" * 10000, "1e15", "0",
           "-1", "0.1e-300", '"12"', "null", "true", "[1]", "1e", "01", "+1", ".5"]


def no_nan(text):
    def refuse(word):
        raise AssertionError(f"{word} in a result")
    return json.loads(text, parse_constant=refuse)


def test_numbers_of_every_kind(rig):
    text = (harness.SAMPLES / "tcw-012-pump-trailer.json").read_text(encoding="utf-8")
    solved = refused = 0
    for key in ("load", "value", "capacity", "division", "gain_u", "u", "fuel_percent", "slope"):
        found = re.search(rf'"{key}"\s*:\s*-?[0-9.]+', text)
        if not found:
            continue
        for number in NUMBERS:
            (rig.folder / "n.json").write_text(text[:found.start()] + f'"{key}": {number}' + text[found.end():],
                                               encoding="utf-8")
            done = subprocess.run([harness.PROGRAM, "reconcile", "n.json", "--json"], cwd=rig.folder, env=rig.environment,
                                  capture_output=True, timeout=60)
            assert done.returncode in (0, 1), (key, number, done)
            if done.returncode == 0:
                solved += 1
                no_nan(done.stdout.decode())
            else:
                refused += 1
                assert b"n.json" in done.stderr or b"session" in done.stderr, (key, number, done.stderr)
    assert solved > 5 and refused > 50, (solved, refused)


def test_words_of_the_command_line(rig):
    rig.out("init")
    rig.out("import", harness.sample("tcw-012-pump-trailer"))
    for text in TEXTS:
        if "\x00" in text:
            continue
        told = rig.refused("show", "--", text)
        assert not FORBIDDEN.search(told.replace("\n", "")), repr(told)
    for number in ("1e400", "nan", "inf", "0x10", "1,5", "٣", "", "-5", "1e15"):
        done = rig.run("record", "1bb6", "together", "tow.1", "--", number, code=1 if number in ("1e15", "-5") else 2)
        assert done[1]
    rig.out("strike", "1bb6", "r1", "--why", "=1+1; DROP TABLE reading", "--by", "\x1b[31m")
    assert not FORBIDDEN.search(rig.out("reconcile", "1bb6"))
    for name in ("a b.db", "ü.db", "file:x?mode=ro", ":memory:", "-dash.db", "n" * 220 + ".db", "new\nline.db"):
        rig.out("init", "--store=" + name)
        assert (rig.folder / name).is_file(), name
        assert rig.out("list", "--store=" + name)


harness.main(globals())
