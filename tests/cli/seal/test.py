"""steelyard seal: seals, says who and the chain's head; afterwards nothing more goes in."""
import harness
from harness import small


def with_store(rig):
    rig.out("init")
    rig.out("import", harness.sample("tcw-012-pump-trailer"),
            rig.write("s.json", small(id="small-0001", weighed={"at": "2026-10-03T08:00:00+02:00"})))


def test_one_after_the_other(rig):
    with_store(rig)
    first = rig.json("seal", "1bb6")
    assert first["sealed"][0]["by"] == "R. Okoye" and first["sealed"][0]["number"] == 1 and first["sealed"][0]["figures"]
    second = rig.json("seal", "small-0001", "--by", "M. Adeyemi")
    assert second["chain"]["seals"] == 2 and second["chain"]["head"] == second["sealed"][0]["head"]
    assert second["chain"]["origin"] == first["chain"]["origin"]
    assert [one["sealed"] for one in rig.lines("list")] == [True, True]
    out = rig.out("seal", "--all")
    assert "0 sessions sealed now, 2 before" in out and second["chain"]["head"] in out, out
    record = rig.json("show", "1bb6", "--record")
    assert record["chain"]["head"] == second["chain"]["head"]
    for line in (rig.out("show", "1bb6") + out).splitlines():
        assert len(line) <= 80, line


def test_nothing_more_goes_into_what_is_sealed(rig):
    with_store(rig)
    rig.out("seal", "1bb6")
    for words in (["record", "1bb6", "together", "tow.1", "900"], ["strike", "1bb6", "r1", "--why", "x"], ["seal", "1bb6"]):
        told = rig.refused(*words)
        assert "is sealed" in told and "steelyard amend" in told, told


def test_all_or_none(rig):
    with_store(rig)
    rig.out("seal", "1bb6")
    assert "sealed already" in rig.refused("seal", "small-0001", "1bb6", "--by", "M. Adeyemi")
    assert [one["sealed"] for one in rig.lines("list")].count(True) == 1


def test_wrong_words(rig):
    with_store(rig)
    assert "--by" in rig.wrong("seal", "small-0001")  # the sheet does not say who weighed
    rig.wrong("seal")
    rig.wrong("seal", "--all", "1bb6")
    assert "no session" in rig.refused("seal", "nobody")


harness.main(globals())
