"""--words: every table in one region's words and units, whatever the sample; JSON the same bytes; plain without it."""
import re

import harness

# The regions that use a word, from the trade's table of words by region. Sample texts that people typed hold some of
# the plain words ("towbar plate"), which are not looked for.
WORDS = {"GVM": "au za", "GCM": "au za", "ATM": "au", "GTM": "au", "tow-ball mass": "au", "axle rating": "au",
         "MAM": "uk", "MTPLM": "uk", "noseweight": "uk", "plated axle weight": "uk", "gross train weight": "uk",
         "load levelling": "uk", "GVWR": "us", "GCWR": "us", "GAWR": "us", "tongue weight": "us", "tongue jack": "us",
         "pin weight": "us", "axle massload": "za", "nose weight": "za"}
REGIONS = ["au", "uk", "us", "za"]
SAMPLES = harness.spread(sorted(harness.SAMPLES.glob("*.json")))


def says(text, word):
    spaced = re.sub(r"\s+", " ", text)
    return re.search(rf"(?<!\w){re.escape(word)}(?!\w)", spaced, flags=re.I) is not None


def check(text, region, what):
    for word, regions in WORDS.items():
        assert region in regions.split() or not says(text, word), f"{what} in {region} says {word}"
    assert all(len(line) <= 80 for line in text.splitlines()), what


def test_one_regions_words_in_every_table(rig):
    assert len(SAMPLES) > (5 if harness.FEW else 10)
    for sample in SAMPLES:
        for command in [["reconcile", "--detail"], ["show"], ["plan"]]:
            for region in REGIONS:
                text = rig.out(*command, sample, "--words", region)
                check(text, region, f"{command} {sample.name}")
                # What was entered stays as it was entered, in a sheet and in the reading that a blunder names.
                if command != ["show"] and region == "us":
                    assert not re.search(r"\d kg\b", re.sub(r"\S+ kg read, [^;:]* meant", "", text)), text
                if command == ["plan"] and region != "us":
                    assert not re.search(r"\d lb\b", text), text


def test_each_region_has_its_words(rig):
    wanted = {"au": ["GVM", "GCM", "ATM", "tow-ball mass"], "uk": ["MAM", "gross train weight", "MTPLM", "noseweight"],
              "us": ["GVWR", "GCWR", "GAWR", "tongue weight"], "za": ["GVM", "axle massload", "nose weight"]}
    for region, words in wanted.items():
        text = rig.out("reconcile", harness.sample("tcw-012-pump-trailer"), "--words", region)
        for word in words:
            assert says(text, word), f"{region} lacks {word}"
        assert not says(text, "coupling load")


def test_a_fifth_wheel(rig):
    text = rig.out("reconcile", harness.sample("kr-103-fifth-wheel-stock-trailer"), "--words", "us")
    assert says(text, "pin weight") and not says(text, "tongue weight") and not says(text, "coupling load")
    assert not says(rig.out("reconcile", harness.sample("kr-103-fifth-wheel-stock-trailer"), "--words", "au"),
                    "tow-ball mass")


def test_json_never_changes(rig):
    sample = harness.sample("tcw-012-pump-trailer")
    for command in ["reconcile", "show", "plan"]:
        plain = rig.out(command, sample, "--json")
        for region in REGIONS:
            assert rig.out(command, sample, "--json", "--words", region) == plain, (command, region)


def test_figures_are_converted_exactly(rig):
    sample = harness.sample("tcw-012-pump-trailer")
    result = rig.json("reconcile", sample)
    load = harness.quantity(result, "trailer_mass")
    # 1 lb = 0.45359237 kg by definition.
    shown = re.search(r"^  trailer mass +([\d.]+) ± ([\d.]+) lb$", rig.out("reconcile", sample, "--words", "us"), flags=re.M)
    for figure, exact in [(shown[1], load["value"]), (shown[2], 2 * load["u"])]:
        places = len(figure.partition(".")[2])
        assert float(figure) == round(exact / 0.45359237, places)


def test_record_answers_in_the_words(rig):
    rig.out("init")
    rig.out("import", harness.sample("tcw-012-pump-trailer"))
    session = rig.lines("list")[0]["session"] if "session" in rig.lines("list")[0] else rig.lines("list")[0]["id"]
    assert says(rig.out("record", session, "apart", "coupling", "172", "--scale", "N1", "--words", "uk"), "noseweight")
    stored = rig.out("show", session, "--words", "us")
    check(stored, "us", "show")
    assert says(stored, "GVWR")


def test_plain_is_the_same_as_none(rig):
    for command in ["reconcile", "show", "plan"]:
        for sample in SAMPLES[:4]:
            assert rig.out(command, sample) == rig.out(command, sample, "--words", "plain")


def test_a_workbook(rig):
    sample = harness.sample("bfs-204-generator-trailer-pounds")
    rig.out("report", sample, "--to", "us.xlsx", "--words", "us")
    assert (rig.folder / "us.xlsx").stat().st_size > 10000


def test_wrong_words(rig):
    sample = harness.sample("tcw-012-pump-trailer")
    for command in [["reconcile", sample], ["show", sample], ["plan", sample], ["report", sample, "--to", "a.xlsx"],
                    ["record", "abcd", "apart", "coupling", "172"]]:
        assert "--words must be au, uk, us, za or plain, is eu" in rig.wrong(*command, "--words", "eu")


harness.main(globals())
