"""Every address of the page: what it does, what it refuses and what it says then, and that asking twice counts once."""
import concurrent.futures
import json

import harness
from harness import sheet
from served import ID, SAMPLE, content_of, entry_id, ids_in, reading, readings_of_sample, served, to_weigh, with_store


def test_a_whole_weighing(rig):
    rig.run("init")
    with served(rig) as page:
        assert page.get("/api/desk").value["sessions"] == []
        page.post("/api/sessions", to_weigh()).says(201)
        stream = page.stream(f"/api/sessions/{ID}/events?words=plain")
        assert stream.event("view")["found"] is None
        entries = readings_of_sample()
        for one in entries:
            answer = page.to("readings", one)
            answer.says(201)
            assert answer.value == {"id": one["id"], "already": False}
        last = stream.until("view", lambda view: sum(
            len(place["readings"]) for state in view["states"] for place in state["places"]) == len(entries))
        assert last["found"]["solved"] and last["session"]["sealed"] is None
        stream.close()
        # The same figures as the program's other way from the same readings.
        session = rig.json("show", ID)
        assert [len(state["readings"]) for state in session["states"]] == [18, 16, 16]
        result = rig.json("reconcile", ID)
        mass = harness.quantity(result, "combination_mass")
        [shown] = [one["text"] for one in last["found"]["loads"] if one["name"] == "combination_mass"]
        assert abs(float(shown.split()[0]) - mass["value"]) <= mass["u"], (shown, mass)
        sealed = page.to("seal", {"by": "R. Okoye", "received_by": "J. Ferreira"})
        sealed.says(201)
        assert page.view()["session"]["sealed"]["head"] == sealed.value["head"]
        for form, begins in (("xlsx", b"PK"), ("html", b"<!"), ("txt", b"")):
            report = page.get(f"/api/sessions/{ID}/report.{form}?words=au")
            report.says(200)
            assert report.body.startswith(begins) and len(report.body) > 1000, form
            assert report.headers["Content-Disposition"].endswith(f'2026-10-03.{form}"')
    rig.run("verify")
    assert "receipt of the findings" in rig.out("attach", ID)


def test_desk(rig):
    fitted = [{"what": "long-range tank", "mass": 38, "at": 2600}]
    with_store(rig, sheet(SAMPLE) | {"modifications": fitted})
    with served(rig) as page:
        desk = page.get("/api/desk?words=au").value
    assert desk["store"] == "steelyard.db" and desk["line"] is None and desk["cautions"]
    assert [region["code"] for region in desk["regions"]] == ["plain", "au", "uk", "us", "za"]
    [session] = desk["sessions"]
    assert (session["readings"], session["sealed"], session["client"]) == (50, False, "Tallow Creek Water Board")
    assert session["title"] == "survey utility 12 with pump trailer 3"
    assert [scale["scale"]["id"] for scale in desk["scales"]] == ["P1", "P2", "P3", "P4", "N1"]
    assert all("zero_before" not in one["scale"] and one["due_passed"] is False for one in desk["scales"])
    [rig_known] = desk["rigs"]
    as_given = sheet(SAMPLE)["rig"]
    del as_given["limits"][14]["tyres"]  # one tyre is what a sheet means that says nothing
    assert rig_known["modifications"] == fitted
    assert rig_known["rig"] == as_given and rig_known["units"] == {"load": "kg", "length": "mm"}
    assert desk["technicians"] == ["R. Okoye"] and desk["places"] == ["Depot 4, north apron"]
    assert {kind["of"] for kind in desk["limit_kinds"]} >= {"tow_gross", "coupling", "trailer_axle.N", "wheel.tow.N"}


def test_page_files(rig):
    rig.run("init")
    with served(rig) as page:
        answer = page.get("/")
        answer.says(200)
        assert answer.body.startswith(b"<!doctype html>") or answer.body.startswith(b"<!DOCTYPE html>")
        assert "default-src 'none'" in answer.headers["Content-Security-Policy"]
        assert page.get("/", If_None_Match=answer.headers["ETag"]).status == 304
        assert page.get("/app.js").headers["Content-Type"].startswith("text/javascript")
        page.get("/nothing.js").says(404, "the page is at /")
        page.post("/", {}).says(405, "only to be read")


def test_sessions(rig):
    rig.run("init")
    with served(rig) as page:
        page.post("/api/sessions", to_weigh()).says(201)
        again = page.post("/api/sessions", to_weigh())
        again.says(200)
        assert again.value == {"id": ID, "already": True}
        other = to_weigh()
        other["weighed"]["place"] = "another place"
        page.post("/api/sessions", other).says(409, ID)
        bad = to_weigh(id="field-0002")
        bad["rig"]["limits"][2]["value"] = -5
        assert page.post("/api/sessions", bad).says(422, "nothing was stored") == ["rig.limits[2].value"]
        assert page.post("/api/sessions", "{").says(422, "nothing was stored")
        assert page.post("/api/sessions", "[]").says(422, "nothing was stored")
        page.get("/api/sessions").says(404, "nothing at this address")
        assert [one["id"] for one in page.get("/api/desk").value["sessions"]] == [ID]


def test_ids_that_a_path_cannot_hold(rig):
    rig.run("init")
    # As page/api.js writes them: once for the id in a segment, once more for the address.
    ids = {"depot/2026-10/012": "depot%252F2026-10%252F012", "50% load": "50%2525%20load", "a\\b": "a%255Cb", "..": "%252E%252E",
           "%2F": "%25252F", "Brücke 3": "Br%C3%BCcke%203"}
    with served(rig) as page:
        for name, segment in ids.items():
            page.post("/api/sessions", to_weigh(id=name)).says(201)
            assert page.view(session=segment)["session"]["id"] == name
            page.post(f"/api/sessions/{segment}/readings", reading()).says(201)
            assert page.stream(f"/api/sessions/{segment}/events").event("view")["session"]["id"] == name
            assert page.sheet(session=segment)["id"] == name
            page.get(f"/api/sessions/{segment}/report.txt").says(200)
        assert sorted(one["session"] for one in rig.lines("list")) == sorted(ids)
        for segment in ("50%25", "a%252", "a%25zz", "a%25FF", "%2525", "depot%2F2026-10"):
            assert page.get(f"/api/sessions/{segment}").status in (400, 404)


def test_what_is_not_there(rig):
    with_store(rig)
    with served(rig) as page:
        for rest in ("", "/events", "/sheet", "/report.txt"):
            page.get(f"/api/sessions/nobody-knows-it{rest}").says(404, "nobody-knows-it")
        for rest, body in (("readings", reading()), ("strikes", {"reading": "r1", "why": "x", "by": "y"}),
                           ("states", {"name": "x", "hitched": True}), ("additions", {"limits": []}),
                           ("completions", {"states": {}}), ("seal", {"by": "x"}),
                           ("corrections", {"sheet": to_weigh(id="nobody-knows-it"), "base": to_weigh(id="nobody-knows-it"),
                                            "why": "x", "by": "y"})):
            page.post(f"/api/sessions/nobody-knows-it/{rest}", body).says(404, "nobody-knows-it")
        page.get(f"/api/sessions/{ID}/nothing").says(404, "nothing at this address")
        page.get(f"/api/sessions/{ID}/report.pdf").says(404, ".xlsx")
        page.get(f"/api/sessions/{ID}@1").says(404, "whole id")
        page.to("nothing", {}).says(404, "nothing at this address")
        page.get("/api/line/events").says(404, "--line DEVICE")
        page.get("/api/nothing").says(404, "nothing at this address")
        for method in ("PUT", "DELETE", "PATCH", "OPTIONS"):
            page.ask(method, f"/api/sessions/{ID}").says(405, "GET")


def test_readings(rig):
    with_store(rig)
    with served(rig) as page:
        one = reading()
        page.to("readings", one).says(201)
        again = page.to("readings", one)
        again.says(200)
        assert again.value == {"id": one["id"], "already": True}
        page.to("readings", one | {"load": one["load"] + 1}).says(409, one["id"])
        page.to("readings", one | {"state": "together"}).says(409, one["id"])
        before = content_of(rig)
        for change, place in (({"state": "nowhere"}, "state"), ({"at": "tow.9.left"}, "at"), ({"load": -1}, "load"),
                              ({"load": "641"}, "load"), ({"load": 1e6}, "load"), ({"scale": "P9"}, "scale"),
                              ({"unit": "stone"}, "unit"), ({"taken_at": "yesterday"}, "taken_at"), ({"id": ""}, "id"),
                              ({"struck": {"why": "x", "by": "y", "at": "2026-10-03T09:00:00+02:00"}}, "struck"),
                              ({"at": "coupling", "state": "together"}, "at"), ({"nonsense": 1}, "nonsense")):
            body = reading(1) | change
            places = page.to("readings", body).says(422, "nothing was stored" if place not in ("state", "id", "struck") else "")
            assert any(one == place or one.startswith(place + "[") for one in places), (change, places)
        for body in ("", "{", "[]", "null", "7", '{"id": "a", "id": "b"}', "\xff"):
            page.to("readings", body.encode("latin-1")).says(422, "nothing was stored")
        assert content_of(rig) == before
    assert ids_in(rig) == [one["id"]]


def test_the_same_reading_from_many_at_once_counts_once(rig):
    with_store(rig)
    with served(rig) as page, concurrent.futures.ThreadPoolExecutor(16) as crowd:
        answers = list(crowd.map(lambda _: page.to("readings", reading()), range(48)))
    assert sorted(answer.status for answer in answers) == [200] * 47 + [201]
    assert ids_in(rig) == [reading()["id"]]


def test_strikes(rig):
    with_store(rig)
    strike = {"reading": reading()["id"], "why": "read off the wrong pad", "by": "R. Okoye", "at": "2026-10-03T10:00:00+02:00"}
    with served(rig) as page:
        page.to("readings", reading()).says(201)
        page.to("strikes", strike).says(201)
        again = page.to("strikes", strike)
        again.says(200)
        assert again.value["already"] is True
        page.to("strikes", strike | {"why": "another reason"}).says(200)  # the first stands
        page.to("readings", reading()).says(200)                         # it is there, struck or not
        page.to("strikes", strike | {"reading": "nnnnn-nnnnn"}).says(404, "nnnnn-nnnnn")
        assert set(page.to("strikes", {}).says(422, "nothing was stored")) == {"reading", "why"}
        [struck] = [one for place in page.view()["states"][0]["places"] for one in place["readings"]]
        assert struck["struck"] == {key: strike[key] for key in ("why", "by", "at")}


def test_states(rig):
    with_store(rig)
    state = {"name": "empty tank", "hitched": True, "coupling_height": {"value": 430, "u": 4}}
    with served(rig) as page:
        page.to("states", state).says(201)
        page.to("states", state).says(200)
        page.to("readings", reading(state="empty tank")).says(201)
        page.to("states", state).says(200)  # whatever was read in it since
        page.to("states", state | {"hitched": False, "support": "coupling"}).says(409, "empty tank", "another name")
        assert page.to("states", state | {"name": "b", "hitched": "yes"}).says(422, "nothing was stored") == ["hitched"]
        assert page.to("states", {"hitched": True}).says(422, "nothing was stored") == ["name"]
        assert [one["name"] for one in page.view()["states"]][-1] == "empty tank"


def test_additions(rig):
    with_store(rig)
    more = {"scales": [{"id": "P9", "capacity": 1500, "division": 1}], "limits": [{"of": "wheel.tow.1", "value": 900, "source": "tyre sidewall"}]}
    with served(rig) as page:
        page.to("additions", more).says(201)
        page.to("additions", more).says(200)  # as after a line that broke
        sheet_now = page.sheet()
        assert [one["id"] for one in sheet_now["scales"]] == ["P1", "P2", "P3", "P4", "N1", "P9"]
        assert len(sheet_now["rig"]["limits"]) == 18
        page.to("additions", {"scales": [{"id": "P9", "capacity": 1400}]}).says(409, "scales[5].capacity")
        both = {"scales": [{"id": "P8"}, {"id": "P7", "capacity": -3}], "limits": [{"of": "tow_gross", "value": -1, "source": "x"}]}
        assert sorted(page.to("additions", both).says(422, "nothing was stored")) == ["limits[0].value", "scales[1].capacity"]
        assert page.to("additions", {"rig": {}}).says(422, "lists") == ["rig"]
        assert page.sheet() == sheet_now
        weight = {"mass": 500, "load": 499, "taken_at": "2026-10-03T08:20:00+02:00"}
        fitted = {"what": "long-range tank", "mass": 38, "at": 2600, "certificate": "C-7"}
        page.to("additions", {"check_weights": {"P1": [weight]}, "modifications": [fitted]}).says(201)
        page.to("additions", {"check_weights": {"P1": [weight]}, "modifications": [fitted]}).says(200)
        assert page.sheet()["scales"][0]["check_weights"] == [weight] and page.sheet()["modifications"] == [fitted]
        shown = page.view()["scales"][0]
        assert shown["check_weights"] == [{"mass": {"load": 500, "unit": "kg"}, "load": {"load": 499, "unit": "kg"},
                                           "taken_at": weight["taken_at"]}]
        wrong = {"check_weights": {"P1": [{"mass": 500, "load": 1501}], "P10": [weight]}}
        assert page.to("additions", wrong).says(422, "no such scale") == ["check_weights.P10"]
        del wrong["check_weights"]["P10"]
        assert page.to("additions", wrong).says(422, "capacity") == ["check_weights.P1[0].load"]


def test_completions(rig):
    empty = to_weigh()
    del empty["states"][0]["coupling_height"], empty["states"][0]["slope"]
    with_store(rig, empty)
    more = {"zero_after": {"P1": 1}, "states": {"apart": {"coupling_height": {"value": 442, "u": 4}, "slope": {"value": 0, "u": 1.5}}}}
    with served(rig) as page:
        assert page.view()["states"][0]["needs"] == ["coupling_height", "slope"]
        page.to("completions", more).says(200)
        page.to("completions", more).says(200)
        assert page.view()["states"][0]["needs"] == []
        now = page.sheet()
        assert now["scales"][0]["zero_after"] == 1 and now["states"][0]["coupling_height"] == {"value": 442, "u": 4}
        heights = {"states": {"apart": {"ride_heights": {"rear_left": 538.5}}}}
        page.to("completions", heights).says(200)
        assert page.view()["states"][0]["ride_heights"] == [{"at": "rear_left", "text": "538.5 mm"}]
        assert page.sheet()["states"][0]["ride_heights"] == {"rear_left": 538.5}
        heights["states"]["apart"]["ride_heights"] = {"rear_left": 540}
        page.to("completions", heights).says(409, "ride_heights.rear_left")
        now = page.sheet()
        page.to("completions", {"zero_after": {"P1": 2}}).says(409, "zero_after")
        assert page.to("completions", {"zero_after": {"P9": 2}}).says(422, "no such scale") == ["zero_after.P9"]
        assert page.to("completions", {"states": {"nowhere": {}}}).says(422, "no such state") == ["states.nowhere"]
        assert page.to("completions", {"states": {"apart": {"hitched": True}}}).says(422, "cannot be added") == [
            "states.apart.hitched"]
        assert page.to("completions", {"states": {"together": {"coupling_height": {"value": "x"}}}}).says(422, "nothing was stored") == [
            "states.together.coupling_height.value"]
        assert page.to("completions", {"zero_after": {"P2": "x"}}).says(422, "nothing was stored") == ["zero_after.P2"]
        assert page.sheet() == now


def test_corrections(rig):
    with_store(rig)
    with served(rig) as page:
        page.to("readings", reading()).says(201)
        corrected = page.sheet()
        corrected["rig"]["trailer"]["coupling_to_axles"]["value"] = 3400
        body = {"sheet": corrected, "base": page.sheet(), "why": "tape read wrongly", "by": "R. Okoye"}
        answer = page.to("corrections", body)
        answer.says(201)
        assert answer.value == {"id": ID, "revision": 2}
        again = page.to("corrections", body)  # as after a line that broke
        again.says(200)
        assert again.value == {"id": ID, "revision": 2}
        assert page.sheet()["revision"] == 2 and page.view()["rig"]["trailer"]["coupling_to_axles"] == 3400
        without = page.sheet()
        without["states"][0]["readings"] = []
        page.to("corrections", body | {"sheet": without, "base": page.sheet()}).says(409, reading()["id"])
        assert page.to("corrections", {"sheet": 7}).says(422, "nothing was stored") == ["sheet", "why"]
        assert page.to("corrections", body | {"sheet": corrected | {"id": "other"}}).says(422, "own") == ["id"]
        bad = page.sheet()
        bad["rig"]["limits"][0]["value"] = -1
        assert page.to("corrections", body | {"sheet": bad}).says(422, "nothing was stored") == ["rig.limits[0].value"]
        assert page.sheet()["revision"] == 2


def test_a_correction_undoes_nothing_that_came_since(rig):
    with_store(rig)
    with served(rig) as page:
        seen = page.sheet()
        page.to("additions", {"limits": [{"of": "tow_gross", "value": 1000, "source": "door pillar"}]}).says(201)
        corrected = json.loads(json.dumps(seen))
        corrected["client"]["reference"] = "WO-1183"
        body = {"sheet": corrected, "base": seen, "why": "order number", "by": "R. Okoye"}
        page.to("corrections", body).says(409, "")
        assert page.to("corrections", {key: body[key] for key in ("sheet", "why", "by")}).says(422, "nothing") == ["base"]
        assert page.sheet()["rig"]["limits"][-1]["source"] == "door pillar" and "revision" not in page.sheet()


def test_what_is_sealed_is_what_was_looked_at(rig):
    with_store(rig)
    with served(rig) as page:
        page.to("readings", reading()).says(201)
        looked = page.view()["version"]
        page.to("readings", reading(1)).says(201)
        page.to("seal", {"by": "R. Okoye", "version": looked}).says(409, "look at them again")
        assert page.view()["session"]["sealed"] is None
        page.to("seal", {"by": "R. Okoye", "version": page.view()["version"]}).says(201)
    rig.run("verify")


def test_no_version_comes_twice(rig):
    """A phone that looks away knows by the version whether it has missed something; nobody watches here."""
    with_store(rig)
    seen = []
    for _ in range(2):
        with served(rig) as page:
            seen.append(page.view()["version"])
            rig.run("record", ID, "apart", "tow.1.left", 641, "--scale", "P1")
            seen.append(page.view()["version"])
    assert len(set(seen)) == 4 and seen == sorted(seen), seen


def test_a_sealed_session_takes_nothing_more_and_a_correction_opens_the_next(rig):
    with_store(rig)
    with served(rig) as page:
        page.to("readings", reading()).says(201)
        assert page.to("seal", {}).says(422, "who seals") == ["by"]
        first = page.to("seal", {"by": "R. Okoye", "received_by": ""})
        first.says(201)
        again = page.to("seal", {"by": "R. Okoye", "received_by": ""})  # as after a line that broke
        again.says(200)
        assert again.value["head"] == first.value["head"]
        before = content_of(rig)
        page.to("readings", reading()).says(200)  # it is there
        page.to("readings", reading(1)).says(409, "sealed")
        page.to("strikes", {"reading": reading()["id"], "why": "x", "by": "y"}).says(409, "sealed")
        page.to("states", {"name": "x", "hitched": True}).says(409, "sealed")
        page.to("additions", {"scales": [{"id": "P9"}]}).says(409, "sealed")
        page.to("completions", {"zero_after": {"P1": 1}}).says(409, "sealed")
        page.to("seal", {"by": "somebody else"}).says(409, "sealed")
        page.to("seal", {"by": "R. Okoye", "received_by": "J. Ferreira"}).says(409, "sealed")
        assert content_of(rig) == before
        view = page.view()
        assert view["session"]["changeable"] is False and view["next"] is None
        page.to("corrections", {"sheet": page.sheet(), "base": page.sheet(), "why": "one wheel is missing",
                                "by": "R. Okoye"}).says(201)
        assert page.view()["session"]["sealed"] is None
        page.to("readings", reading(1)).says(201)
    rig.run("verify")


def test_asking_changes_nothing(rig):
    with_store(rig, sheet(SAMPLE))
    name = sheet(SAMPLE)["id"]
    with served(rig) as page:
        before = content_of(rig)
        for path in ("/", "/app.js", "/api/desk", "/api/sessions", f"/api/sessions/{name}", f"/api/sessions/{name}/sheet",
                     f"/api/sessions/{name}/report.txt", f"/api/sessions/{name}/report.html", f"/api/sessions/{name}/report.xlsx",
                     f"/api/sessions/{name}/readings", f"/api/sessions/{name}/seal", f"/api/sessions/{name}/strikes",
                     f"/api/sessions/{name}/corrections", "/api/enter", "/api/line/events"):
            assert page.get(path).status in (200, 404, 405), path
            assert page.ask("HEAD", path).body == b""
        page.stream(f"/api/sessions/{name}/events").event("view")
        assert content_of(rig) == before
    assert content_of(rig) == before


def test_what_comes_from_elsewhere(rig):
    with_store(rig)
    with served(rig) as page:
        before = content_of(rig)
        for origin in ("http://example.org", f"https://127.0.0.1:{page.port}", f"http://127.0.0.1:{page.port + 1}", "null", ""):
            page.to("readings", reading(), Origin=origin).says(403, "use the page that this server shows")
        page.to("readings", reading(), Origin=None).says(403, "use the page that this server shows")
        page.to("readings", reading(), Host="example.org").says(421, "open the address")
        page.get("/api/desk", Host="example.org").says(421, "open the address")
        page.get("/api/desk", Sec_Fetch_Site="cross-site", Sec_Fetch_Mode="no-cors").says(403, "another page")
        page.to("readings", reading(), Content_Type="text/plain").says(415, "application/json")
        page.to("readings", reading(), Content_Type=None).says(415, "application/json")
        page.to("readings", b" " * (1024 * 1024 + 1)).says(413, "")
        page.get("/api/desk?words=au&words=uk").says(400, "")
        assert content_of(rig) == before


def test_names_that_would_break_a_page(rig):
    name = '</script><img src=x onerror=alert(1)> "\\\' \u2028 data: x\n\nevent: view'
    one = to_weigh()
    one["client"]["name"] = one["rig"]["tow_vehicle"]["label"] = one["states"][0]["name"] = name.replace("\n", " ")
    rig.run("init")
    with served(rig) as page:
        page.post("/api/sessions", one).says(201)
        page.to("readings", reading(state=one["states"][0]["name"])).says(201)
        view = page.view()
        assert view["session"]["client"] == one["client"]["name"] and view["states"][0]["name"] == one["states"][0]["name"]
        assert page.stream(f"/api/sessions/{ID}/events").event("view")["states"] == view["states"]
        report = page.get(f"/api/sessions/{ID}/report.html")
        report.says(200)
        assert b"<img src=x" not in report.body and "\n" not in report.headers["Content-Disposition"]


def test_words_and_units_of_a_region(rig):
    with_store(rig)
    with served(rig) as page:
        page.to("readings", reading()).says(201)
        assert page.view("us")["units"]["load"] == "lb" and page.view("plain")["units"]["load"] == "kg"
        assert page.get(f"/api/sessions/{ID}?words=klingon").value["words"] == "plain"
    with served(rig, "--words", "uk") as page:
        assert page.get(f"/api/sessions/{ID}").value["words"] == "uk"


def test_ids_of_readings_are_told_apart(rig):
    with_store(rig)
    assert entry_id(0) == "00000-00000" and entry_id(32) == "00000-00010"
    with served(rig) as page:
        for number in range(3):
            page.to("readings", reading(number)).says(201)
    assert ids_in(rig) == [entry_id(number) for number in range(3)]


harness.main(globals())
