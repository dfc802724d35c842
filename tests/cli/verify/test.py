"""steelyard verify: sound or not, by exit code and in its JSON, which keeps to its schema; what it cannot exclude. What
it finds in altered stores is fault_tampering's."""
import json

import harness
import jsonschema

SCHEMA = json.loads((harness.SOURCE / "schema/steelyard-verify-1.schema.json").read_text(encoding="utf-8"))


def verified(rig, *words, code=0):
    out, err = rig.run("verify", *words, "--json", code=code)
    answer = json.loads(out)
    jsonschema.validate(answer, SCHEMA)
    return answer


def with_store(rig):
    rig.out("init")
    rig.out("import", harness.sample("tcw-012-pump-trailer"), harness.sample("tcw-018-before-springs"))


def test_a_sound_store(rig):
    with_store(rig)
    empty = verified(rig)
    assert empty["sound"] and empty["unsealed"] == 2 and empty["chains"][0]["head"] is None
    head = rig.json("seal", "1bb6")["chain"]["head"]
    answer = verified(rig)
    assert answer["recomputed"] == {"results": 1, "exactly": 1, "to_tolerance": 0, "differ": 0}
    assert any("old copy" in what for what in answer["not_excluded"])
    with_head = verified(rig, "--head", head)
    # As reports print it, in four groups, and as somebody may type it off paper.
    grouped = " ".join(head[i:i + 16] for i in range(0, 64, 16))
    assert verified(rig, "--head", grouped.upper())["head"] == with_head["head"]
    assert with_head["head"] == {"given": head, "found": True, "seals_after": 0}
    assert not any("old copy" in what for what in with_head["not_excluded"])
    rig.out("seal", "--all")
    assert verified(rig, "--head", head)["head"]["seals_after"] == 1
    quick = verified(rig, "--quick")
    assert quick["sound"] and quick["recomputed"] is None
    for line in rig.out("verify").splitlines():
        assert len(line) <= 80, line


def test_what_is_not_sound(rig):
    with_store(rig)
    rig.out("seal", "--all")
    answer = verified(rig, "--head", "0" * 64, code=1)
    assert [fault["kind"] for fault in answer["faults"]] == ["head_unknown"] and not answer["sound"]
    (rig.folder / "text.db").write_text("no store\n" * 30)
    answer = verified(rig, "--store", "text.db", code=1)
    assert answer["opened"] is False and answer["faults"][0]["kind"] == "not_opened"
    assert "not sound" in rig.refused("verify", "--store", "none.db")


def test_wrong_words(rig):
    with_store(rig)
    rig.wrong("verify", "1bb6")
    rig.wrong("verify", "--head", "")
    rig.wrong("verify", "--head", "12")


harness.main(globals())
