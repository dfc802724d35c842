import harness
from harness import small


def stored(rig, *sheets):
    rig.run("init")
    for n, one in enumerate(sheets):
        rig.run("import", rig.write(f"{n}.json", one))


def test_empty_store(rig):
    rig.run("init")
    assert "no sessions yet" in rig.out("list")
    assert rig.out("list", "--json") == ""


def test_order_of_weighing_and_counts(rig):
    late = small(id="late-0001", weighed={"at": "2026-10-03T08:00:00+02:00"}, client={"name": "Tallow Creek"})
    early = small(id="early-0001", weighed={"at": "2026-09-03T08:00:00+02:00"})
    stored(rig, late, early)
    first, second = rig.lines("list")
    assert first == {"session": "early-0001", "revision": 1, "sealed": False, "rivals": 0, "weighed_at": "2026-09-03T08:00:00+02:00",
                     "place": None, "client": None, "tow_vehicle": "test wagon", "trailer": "test trailer",
                     "states": 1, "readings": 3, "struck": 0}
    assert second["client"] == "Tallow Creek"
    lines = rig.out("list").splitlines()
    assert lines[0].split() == ["session", "weighed", "seal", "client", "tow", "vehicle", "trailer", "readings"]
    assert lines[1].startswith("early-00") and "2026-09-03" in lines[1]
    assert all(len(line) <= 80 for line in lines)


def test_what_is_shown_of_an_id_tells_it_from_the_others(rig):
    stored(rig, small(id="2026-10-03-a"), small(id="2026-10-03-b"))
    shown = [line.split()[0] for line in rig.out("list").splitlines()[1:]]
    assert shown == ["2026-10-03-a", "2026-10-03-b"]
    for prefix in shown:
        rig.run("show", prefix)
    assert "2026-10-03-a" in rig.refused("show", "2026-10")


def test_no_store(rig):
    assert "steelyard.db" in rig.refused("list")
    assert not (rig.folder / "steelyard.db").exists()


harness.main(globals())
