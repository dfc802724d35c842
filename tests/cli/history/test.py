"""steelyard history: the weighings of one rig, with the figures that reconcile gives."""
import harness


def test_the_weighings_in_order(rig):
    rig.out("init")
    names = ["tcw-018-after-springs", "tcw-018-before-springs", "tcw-012-pump-trailer"]
    rig.out("import", *map(harness.sample, names))
    before, after = rig.lines("history", "tcw-018")
    assert before["weighed_at"] < after["weighed_at"]
    for one, name in ((before, names[1]), (after, names[0])):
        result = rig.json("reconcile", harness.sample(name))
        assert one["session"] == result["session"]
        assert one["outcome"] == result["outcome"]
        figures = {q["name"]: q for q in result["quantities"] if q["state"] is None}
        for name in ("combination_mass", "coupling_load"):
            wanted = figures[name]
            assert one[name] == {"value": wanted["value"], "u": wanted["u"], "unit": "kg"}, name
    assert len(rig.lines("history", "tcwb")) == 3
    assert len(rig.lines("history", "scale-0411")) >= 1
    for line in rig.out("history", "tcwb").splitlines():
        assert len(line) <= 80, line
    assert "steelyard register shows" in rig.refused("history", "nobody")
    rig.wrong("history")


harness.main(globals())
