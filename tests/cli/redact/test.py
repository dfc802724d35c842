"""steelyard redact: says what it would erase, erases it with --yes, and the seals still stand."""
import harness


def with_store(rig):
    rig.out("init")
    rig.out("import", harness.sample("tcw-012-pump-trailer"), harness.sample("tcw-018-before-springs"),
            harness.sample("smo-011-two-pads-on-a-slope"))
    rig.out("seal", "--all")


def test_nothing_is_erased_without_yes(rig):
    with_store(rig)
    before = (rig.folder / "steelyard.db").read_bytes()
    out = rig.out("redact", "--client", "tcwb", "--why", "asked for")
    assert "nothing was erased" in out and "of 2 sessions" in out, out
    assert (rig.folder / "steelyard.db").read_bytes() == before


def test_what_is_erased_is_gone_and_the_seals_stand(rig):
    with_store(rig)
    head = rig.json("verify", "--quick")["chains"][0]["head"]
    name = harness.sheet("tcw-012-pump-trailer")["client"]["name"].encode()
    assert name in (rig.folder / "steelyard.db").read_bytes()
    done = rig.json("redact", "--client", "tcwb", "--why", "asked for", "--by", "R. Okoye", "--yes")
    assert len(done["sessions"]) == 2
    assert name not in (rig.folder / "steelyard.db").read_bytes()
    assert rig.json("verify", "--head", head)["sound"] is True
    kept = {one["session"]: one for one in rig.lines("list")}
    assert len(kept) == 3
    assert "nothing to erase" in rig.out("redact", "--client", "tcwb", "--why", "asked for", "--yes")
    assert harness.sheet("smo-011-two-pads-on-a-slope")["client"]["name"] in rig.out("register", "client")


def test_what_is_refused(rig):
    with_store(rig)
    assert "no client with the uid nobody" in rig.refused("redact", "--client", "nobody", "--why", "x", "--yes")
    rig.wrong("redact", "1bb6", "--yes")
    rig.wrong("redact", "--client", "tcwb", "1bb6", "--why", "x")
    rig.wrong("redact", "--why", "x")


harness.main(globals())
