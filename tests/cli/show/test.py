import harness
from harness import sample, sheet, small


def test_a_sheet_as_a_table(rig):
    out = rig.out("show", sample("tcw-036-known-gain-struck-reading"))
    for said in ["drill utility 36 (TCW 036)", "gain 0.0042", "set aside: door open, man on the step", "dc_value, 17.5 kN",
                 "on P1", '"together": hitched', "travels like this"]:
        assert said in out, said
    assert all(len(line) <= 80 for line in out.splitlines())


def test_figures_stay_as_entered(rig):
    pounds = rig.out("show", sample("bfs-204-generator-trailer-pounds"))
    assert "144.5 in" in pounds and "7200 lb" in pounds
    mixed = rig.out("show", sample("kr-103-fifth-wheel-stock-trailer"))
    assert "3000 lb" in mixed and "5500 kg" in mixed


def test_json_is_the_sheet(rig):
    one = rig.json("show", sample("tcw-012-pump-trailer"))
    entered = sheet("tcw-012-pump-trailer")
    assert one["id"] == entered["id"] and one["x-job-card"] == entered["x-job-card"]
    assert [r["load"] for s in one["states"] for r in s["readings"]] == \
           [r["load"] for s in entered["states"] for r in s["readings"]]


def test_a_prefix_is_enough(rig):
    rig.run("init")
    rig.run("import", rig.write("a.json", small(id="abcdef-1")))
    assert rig.json("show", "abcd")["id"] == "abcdef-1"
    assert "4 characters" in rig.refused("show", "abc")
    assert "zzzz" in rig.refused("show", "zzzz")


def test_one_session_at_a_time(rig):
    rig.write("fleet.jsonl", "")
    assert "fleet" in rig.refused("show", "fleet.jsonl")
    assert "something is missing" in rig.wrong("show")
    assert "one word too many" in rig.wrong("show", "a", "b")


harness.main(globals())
