"""steelyard backup: a verified copy of the store in use."""
import harness


def test_a_copy_that_verifies(rig):
    rig.out("init")
    rig.out("import", harness.sample("tcw-012-pump-trailer"))
    head = rig.json("seal", "1bb6")["chain"]["head"]
    out = rig.out("backup", "copy.db")
    assert out.startswith("wrote copy.db, verified\n") and head in out, out
    assert rig.json("verify", "--store", "copy.db", "--head", head)["sound"] is True
    assert rig.lines("list", "--store", "copy.db") == rig.lines("list")
    before = (rig.folder / "copy.db").read_bytes()
    assert "is there already" in rig.refused("backup", "copy.db")
    assert (rig.folder / "copy.db").read_bytes() == before
    rig.out("import", harness.sample("tcw-018-before-springs"))
    assert rig.json("backup", "copy.db", "--replace")["chain"]["head"] == head
    assert len(rig.lines("list", "--store", "copy.db")) == 2
    assert "is the store itself" in rig.refused("backup", "steelyard.db", "--replace")
    assert "cannot be made" in rig.refused("backup", "none/copy.db")
    assert sorted(path.name for path in rig.folder.iterdir()) == ["copy.db", "steelyard.db"]
    rig.wrong("backup")


harness.main(globals())
