"""steelyard register: what sheets say of clients, vehicles and scales, and notes beside it."""
import harness


def with_store(rig):
    rig.out("init")
    rig.out("import", harness.sample("tcw-012-pump-trailer"), harness.sample("tcw-018-before-springs"))


def entries(rig, *words):
    return {(one["kind"], one["uid"]): one for one in rig.lines("register", *words)}


def test_what_the_sheets_say(rig):
    assert rig.out("init") and "nothing yet" in rig.out("register")
    rig.out("import", harness.sample("tcw-012-pump-trailer"))
    sheet = harness.sheet("tcw-012-pump-trailer")
    known = entries(rig)
    vehicle = sheet["rig"]["tow_vehicle"]
    assert known[("tow_vehicle", vehicle["uid"])]["registration"] == vehicle["registration"]
    assert known[("client", sheet["client"]["uid"])]["name"] == sheet["client"]["name"]
    assert {uid for kind, uid in known if kind == "scale"} == {s["uid"] for s in sheet["scales"] if "uid" in s}
    assert known[("trailer", "tcw-t03")]["sessions"] == 1
    assert set(entries(rig, "scale")) == {key for key in known if key[0] == "scale"}


def test_notes(rig):
    with_store(rig)
    out = rig.out("register", "client", "tcwb", "--contact", "stores@tcwb.example", "--by", "R. Okoye")
    assert "stores@tcwb.example" in out, out
    assert entries(rig)[("client", "tcwb")]["contact"] == "stores@tcwb.example"
    rig.out("register", "client", "tcwb", "--contact", "")
    assert entries(rig)[("client", "tcwb")]["contact"] is None
    rig.out("register", "scale", "scale-0411", "--due", "2020-01-01")
    assert entries(rig)[("scale", "scale-0411")]["out_of_date"] is True
    assert "! out of date since 2020-01-01" in rig.out("register", "scale")
    rig.out("register", "vehicle", "tcw-099", "--label", "a new one")
    assert entries(rig)[("tow_vehicle", "tcw-099")]["sessions"] == 0
    for line in rig.out("register").splitlines():
        assert len(line) <= 80, line


def test_what_is_refused(rig):
    with_store(rig)
    assert "keeps no vin of a trailer" in rig.refused("register", "trailer", "tcw-t03", "--vin", "1")
    rig.wrong("register", "lorry")
    rig.wrong("register", "client", "tcwb")
    rig.wrong("register", "--name", "nobody's")
    assert "must be a date" in rig.wrong("register", "scale", "scale-0411", "--due", "next year")


harness.main(globals())
