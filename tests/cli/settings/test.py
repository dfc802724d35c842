"""steelyard settings: what is chosen once stands until something else is chosen."""
import harness


def test_the_latest_choice_stands(rig):
    rig.out("init")
    assert "Not set" in rig.out("settings") and "provider.name" in rig.out("settings")
    assert "set provider.name" in rig.out("settings", "provider.name", "Okoye & Adeyemi, weighers", "--by", "R. Okoye")
    rig.out("settings", "words", "uk")
    assert "for client tcwb" in rig.out("settings", "words", "au", "--client", "tcwb")
    shown = {(one["setting"], one["client"]): one["value"] for one in rig.lines("settings")}
    assert shown == {("provider.name", None): "Okoye & Adeyemi, weighers", ("words", None): "uk", ("words", "tcwb"): "au"}
    rig.out("settings", "words", "", "--client", "tcwb")
    assert ("words", "tcwb") not in {(one["setting"], one["client"]) for one in rig.lines("settings")}
    assert all(len(line) <= 80 for line in rig.out("settings").splitlines())
    assert rig.json("verify")["sound"] is True


def test_words_and_provider_stand_in_what_is_shown(rig):
    rig.out("init")
    rig.out("import", harness.sample("tcw-012-pump-trailer"), harness.sample("smo-011-two-pads-on-a-slope"))
    rig.out("settings", "words", "us", "--client", "tcwb")
    rig.out("settings", "provider.name", "Okoye & Adeyemi, weighers")
    ids = [one["session"] for one in rig.lines("list") if one["client"] == "Tallow Creek Water Board"]
    others = [one["session"] for one in rig.lines("list") if one["session"] not in ids]
    before = rig.out("reconcile", ids[0], "--json")
    assert "tongue weight" in rig.out("reconcile", ids[0]).lower()
    assert "tongue weight" not in rig.out("reconcile", others[0]).lower()
    assert "tongue weight" not in rig.out("reconcile", ids[0], "--words", "uk").lower()
    rig.out("report", ids[0], "--to", "report.html")
    page = (rig.folder / "report.html").read_text().lower()
    assert "tongue weight" in page and "okoye &amp; adeyemi, weighers" in page
    rig.out("settings", "words", "", "--client", "tcwb")
    assert rig.out("reconcile", ids[0], "--json") == before


def test_what_is_refused(rig):
    rig.out("init")
    assert "did you mean provider.name" in rig.wrong("settings", "provider.nam", "x")
    assert "au, uk, us, za or plain" in rig.wrong("settings", "words", "de")
    assert "one client alone" in rig.wrong("settings", "provider.name", "x", "--client", "tcwb")
    assert "one line" in rig.wrong("settings", "provider.name", "a\nb")
    rig.wrong("settings", "words")
    rig.wrong("settings", "words", "uk", "--from", "x")
    rig.wrong("settings", "--client", "tcwb")
    assert "cannot be read" in rig.refused("settings", "words", "--from", "nothing.csv")


def test_hostile_text_stays_text(rig):
    rig.out("init")
    rig.out("settings", "provider.name", "=1+1 \x1b[2J")
    assert "\x1b" not in rig.out("settings")


harness.main(globals())
