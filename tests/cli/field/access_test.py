"""Who may in: the code, the waiting after wrong ones, the token; and that the page serves by TLS."""
import http.client
import secrets
import ssl
import subprocess
import time

import harness
from served import ID, ids_in, reading, served, with_store


def test_without_a_code_nothing_is_shown_but_the_page_itself(rig):
    with_store(rig)
    with served(rig, "--listen", "127.0.0.1") as page:
        assert len(page.code) == 9 and page.code[4] == "-"
        page.get("/").says(200)
        page.get("/app.js").says(200)
        for path in ("/api/desk", f"/api/sessions/{ID}", f"/api/sessions/{ID}/events", f"/api/sessions/{ID}/sheet",
                     f"/api/sessions/{ID}/report.txt", "/api/line/events", "/api/sessions", "/api/nothing"):
            page.get(path).says(401, "enter the code")
        for rest in ("readings", "strikes", "states", "additions", "completions", "corrections", "seal"):
            page.to(rest, reading()).says(401, "enter the code")
        page.post("/api/sessions", {}).says(401, "enter the code")
        page.get("/api/enter").says(405, "POST")
        page.enter("AAAA-AAAA").says(403, "not the code")
        page.post("/api/enter", "{").says(403, "not the code")
        page.post("/api/enter", {"code": page.code}, Origin="http://example.org").says(403, "page")
        for cookie in ("steelyard_field=" + secrets.token_hex(16), "steelyard_field=" + "0" * 32, "steelyard_field=",
                       "steelyard_field=" + page.code, "other=" + "0" * 32):
            page.get("/api/desk", Cookie=cookie).says(401, "enter the code")
        entered = page.enter(page.code.lower().replace("-", " "))  # as a phone's keyboard gives it
        entered.says(204)
        cookie = entered.headers["Set-Cookie"]
        assert "HttpOnly" in cookie and "SameSite=Strict" in cookie and "Secure" not in cookie
        assert page.code not in cookie and page.code.replace("-", "").lower() not in cookie.lower()
        page.get("/api/desk").says(200)
        page.to("readings", reading()).says(201)
    assert ids_in(rig) == [reading()["id"]]


def test_each_run_has_a_code_and_tokens_of_its_own(rig):
    rig.run("init")
    with served(rig, "--listen", "127.0.0.1") as first:
        first.enter(first.code).says(204)
    with served(rig, "--listen", "127.0.0.1") as second:
        assert second.code != first.code
        second.get("/api/desk", Cookie=first.cookie).says(401, "enter the code")


def test_whoever_guesses_waits_and_keeps_nobody_else_out(rig):
    with_store(rig)
    with served(rig, "--listen", "127.0.0.1") as page:
        guesser, phone = page.from_phone("127.0.0.5"), page.from_phone("127.0.0.6")
        line = guesser.connection()
        answers = [guesser.ask("POST", "/api/enter", {"code": f"AAAA-{number:04}"}, connection=line) for number in range(1000)]
        line.close()
        # access.hpp: ten wrong ones, then waiting.
        assert [answer.status for answer in answers[:10]] == [403] * 10
        assert {answer.status for answer in answers[10:]} <= {403, 429} and answers[-1].status == 429
        assert sum(answer.status == 403 for answer in answers) <= 12
        answers[-1].says(429, "wait")
        assert 1 <= int(answers[-1].headers["Retry-After"]) <= 900
        guesser.enter(guesser.code).says(429, "wait")  # the right one is not looked at either
        began = time.monotonic()
        phone.enter(phone.code).says(204)
        phone.to("readings", reading()).says(201)
        assert time.monotonic() - began < 5
        guesser.get("/api/desk").says(401, "enter the code")
    assert ids_in(rig) == [reading()["id"]]


def certificate(rig):
    subprocess.run(["openssl", "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes", "-days", "2",
                    "-subj", "/CN=localhost", "-addext", "subjectAltName=IP:127.0.0.1", "-keyout", "key.pem", "-out", "chain.pem"],
                   cwd=rig.folder, check=True, capture_output=True)


def test_tls(rig):
    certificate(rig)
    with_store(rig)
    with served(rig, "--listen", "127.0.0.1", "--certificate", "chain.pem", "--key", "key.pem") as page:
        assert page.said["pages"] == [f"https://127.0.0.1:{page.port}/"]
        trusted = ssl.create_default_context(cafile=rig.folder / "chain.pem")
        line = http.client.HTTPSConnection("127.0.0.1", page.port, timeout=30, context=trusted)
        origin = f"https://127.0.0.1:{page.port}"
        page.ask("POST", "/api/enter", {"code": page.code}, connection=line, Origin=f"http://127.0.0.1:{page.port}").says(403, "page")
        entered = page.ask("POST", "/api/enter", {"code": page.code}, connection=line, Origin=origin)
        entered.says(204)
        assert "; Secure" in entered.headers["Set-Cookie"]
        page.cookie = entered.headers["Set-Cookie"].split(";")[0]
        page.ask("POST", f"/api/sessions/{ID}/readings", reading(), connection=line, Origin=origin).says(201)
        line.close()
        try:
            page.get("/")
            raise AssertionError("answered without TLS")
        except (http.client.HTTPException, OSError):
            pass  # nothing is answered in the clear
    assert ids_in(rig) == [reading()["id"]]


harness.main(globals())
