import harness


def test_makes_a_store_where_told(rig):
    assert rig.out("init") == "made the store steelyard.db\n"
    assert (rig.folder / "steelyard.db").stat().st_size > 0
    assert rig.json("init", "--store", "other.db") == {"store": "other.db"}
    rig.environment["STEELYARD_STORE"] = "third.db"
    assert rig.out("init") == "made the store third.db\n"
    assert (rig.folder / "third.db").exists()


def test_leaves_what_is_there(rig):
    kept = rig.write("steelyard.db", "not a store")
    assert "steelyard.db" in rig.refused("init")
    assert kept.read_text() == "not a store"


def test_refuses_a_folder_that_is_not_there(rig):
    assert "nowhere" in rig.refused("init", "--store", "nowhere/a.db")


def test_takes_no_words(rig):
    assert "one word too many: a.db" in rig.wrong("init", "a.db")


harness.main(globals())
