"""The glossary: one region's words, their meaning, and canonical names that are the same everywhere."""
import json

import harness

REGIONS = {"au": "Australia and New Zealand", "uk": "United Kingdom and Europe", "us": "North America",
           "za": "Southern Africa"}


def test_the_regions_words(rig):
    # What the abbreviations stand for, from the trade's table of words by region.
    us = {entry["term"]: entry for entry in rig.json("glossary", "--words", "us")["entries"]}
    assert us["GCWR"]["stands_for"] == "gross combination weight rating"
    assert us["tongue weight"]["canonical"] == "coupling_load, coupling"
    assert "tongue weight" in us["GVWR"]["meaning"]
    au = {entry["term"] for entry in rig.json("glossary", "--words", "au")["entries"]}
    assert {"GVM", "GCM", "ATM", "GTM", "tow-ball mass"} <= au


def test_canonical_names_are_the_same_everywhere(rig):
    def names(*words):
        return {entry["canonical"] for entry in rig.json("glossary", *words)["entries"]}
    plain = names()
    for region in REGIONS:
        assert names("--words", region) == plain, region


def test_for_people(rig):
    assert rig.out("glossary").startswith("Words: plain words\n")
    assert rig.out("glossary") == rig.out("glossary", "--words", "plain")
    for region, title in REGIONS.items():
        said = rig.out("glossary", "--words", region)
        assert said.startswith(f"Words: {title}\n")
        assert all(len(line) <= 80 for line in said.splitlines()), region
        for entry in json.loads(rig.out("glossary", "--words", region, "--json"))["entries"]:
            assert "\n" + entry["term"] in said, entry


def test_wrong_words(rig):
    assert "--words must be au, uk, us, za or plain, is fr" in rig.wrong("glossary", "--words", "fr")
    assert "one word too many" in rig.wrong("glossary", "us")


harness.main(globals())
