"""steelyard attach: keeps a file with a session, lists, gives it back; refuses what it should. The hash is held against
Python's hashlib, the media types against the formats' signatures (JPEG FF D8 FF, PNG 89 50 4E 47 0D 0A 1A 0A)."""
import hashlib

import harness

JPEG = b"\xff\xd8\xff\xe0" + bytes(range(256)) * 40
PNG = b"\x89PNG\r\n\x1a\n" + b"display"


def with_store(rig):
    rig.out("init")
    rig.out("import", harness.sample("tcw-012-pump-trailer"))
    (rig.folder / "plate.jpg").write_bytes(JPEG)
    (rig.folder / "display.png").write_bytes(PNG)


def test_a_file_is_kept_listed_and_given_back(rig):
    with_store(rig)
    assert rig.out("attach", "1bb6") == "nothing is attached\n"
    plate = rig.json("attach", "1bb6", "plate.jpg", "--limit", "1", "--what", "compliance plate", "--by", "R. Okoye")
    assert plate["sha256"] == hashlib.sha256(JPEG).hexdigest()
    assert (plate["number"], plate["limit"], plate["media_type"]) == (1, 1, "image/jpeg")
    display = rig.json("attach", "1bb6", "display.png", "--reading", "r1")
    assert (display["number"], display["reading"], display["media_type"]) == (2, "r1", "image/png")
    assert rig.json("attach", "1bb6") == [plate, display]
    listed = rig.out("attach", "1bb6")
    assert "compliance plate, limit 1; image/jpeg, 10 kB" in listed, listed
    assert rig.out("attach", "1bb6", "--get", "1", "--to", "back.jpg") == "wrote back.jpg\n"
    assert (rig.folder / "back.jpg").read_bytes() == JPEG
    assert "is there already" in rig.refused("attach", "1bb6", "--get", "1", "--to", "back.jpg")
    assert "plate.jpg" not in (rig.folder / "steelyard.db").read_bytes().decode("latin-1")


def test_what_is_refused(rig):
    with_store(rig)
    assert "no limit number 99" in rig.refused("attach", "1bb6", "plate.jpg", "--limit", "99")
    assert "no reading r99" in rig.refused("attach", "1bb6", "plate.jpg", "--reading", "r99")
    assert "there is no such file" in rig.refused("attach", "1bb6", "none.jpg")
    assert "is a folder" in rig.refused("attach", "1bb6", ".")
    (rig.folder / "empty.jpg").touch()
    assert "empty file" in rig.refused("attach", "1bb6", "empty.jpg")
    with open(rig.folder / "big.jpg", "wb") as big:
        big.truncate((24 << 20) + 1)
    assert "24 MiB" in rig.refused("attach", "1bb6", "big.jpg")
    assert "no attachment 1" in rig.refused("attach", "1bb6", "--get", "1", "--to", "x.jpg")
    assert not (rig.folder / "x.jpg").exists()
    rig.out("seal", "1bb6")
    assert "is sealed" in rig.refused("attach", "1bb6", "plate.jpg")
    rig.wrong("attach", "1bb6", "plate.jpg", "--limit", "1", "--reading", "r1")
    rig.wrong("attach", "1bb6", "--get", "1")
    rig.wrong("attach", "1bb6", "--limit", "1")


harness.main(globals())
