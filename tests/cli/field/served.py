"""The page as a program that runs, asked over HTTP on loopback; and sessions to weigh in it."""
import contextlib
import hashlib
import http.client
import json
import signal
import socket
import subprocess
import time

import harness

SAMPLE = "tcw-012-pump-trailer"
ID = "field-0001-tallow-creek"
PATIENCE = 30  # s; what takes longer has failed


class Answer:
    def __init__(self, got):
        self.status, self.body, self.headers = got.status, got.read(), got.headers
        self.value = json.loads(self.body) if self.body and "json" in (got.headers["Content-Type"] or "") else None

    def says(self, status, *words):
        """The status, and words of the error with its remedy; gives the places of the faults."""
        assert self.status == status, f"{status} wanted: {self.status} {self.body[:500]}"
        if words:
            text = json.dumps(self.value, ensure_ascii=False)
            assert self.value["error"] and all(word in text for word in words), f"{words} wanted: {text}"
        return [fault["place"] for fault in (self.value or {}).get("faults", [])] if words else None


class Page:
    """One run of the program. `source`: the address that requests come from."""

    def __init__(self, process, said, host, source="127.0.0.1", cookie=None):
        self.process, self.said, self.host, self.source, self.cookie = process, said, host, source, cookie
        self.port, self.code = said["port"], said["code"]

    def from_phone(self, source):
        return Page(self.process, self.said, self.host, source)

    def connection(self):
        return http.client.HTTPConnection(self.host, self.port, timeout=PATIENCE, source_address=(self.source, 0))

    def ask(self, method, path, body=None, connection=None, **headers):
        text = body if body is None or isinstance(body, (str, bytes)) else json.dumps(body)
        sent = {"Cookie": self.cookie} if self.cookie else {}
        if method == "POST":
            sent |= {"Content-Type": "application/json", "Origin": f"http://{self.host}:{self.port}"}
        for name, value in headers.items():
            sent[name.replace("_", "-")] = value
        sent = {name: value for name, value in sent.items() if value is not None}
        own = connection or self.connection()
        try:
            own.request(method, path, body=text.encode() if isinstance(text, str) else text, headers=sent)
            return Answer(own.getresponse())
        finally:
            if not connection:
                own.close()

    def get(self, path, **headers):
        return self.ask("GET", path, **headers)

    def post(self, path, body, **headers):
        return self.ask("POST", path, body, **headers)

    def to(self, rest, body, **headers):
        return self.post(f"/api/sessions/{ID}/{rest}", body, **headers)

    def view(self, words="plain", session=ID):
        return self.get(f"/api/sessions/{session}?words={words}").value

    def sheet(self, session=ID):
        return self.get(f"/api/sessions/{session}/sheet").value

    def enter(self, code):
        answer = self.post("/api/enter", {"code": code})
        if answer.status == 204:
            self.cookie = answer.headers["Set-Cookie"].split(";")[0]
        return answer

    def stream(self, path):
        return Stream(self, path)


class Stream:
    """An open event stream, read one event after the other."""

    def __init__(self, page, path):
        self.socket = socket.create_connection((page.host, page.port), PATIENCE, (page.source, 0))
        cookie = f"Cookie: {page.cookie}\r\n" if page.cookie else ""
        self.socket.sendall(f"GET {path} HTTP/1.1\r\nHost: {page.host}:{page.port}\r\n{cookie}\r\n".encode())
        self.bytes = b""
        head = self.up_to(b"\r\n\r\n", PATIENCE)
        assert head.startswith(b"HTTP/1.1 200") and b"text/event-stream" in head, head

    def up_to(self, end, seconds):
        until = time.monotonic() + seconds
        while end not in self.bytes:
            self.socket.settimeout(max(0.001, until - time.monotonic()))
            more = self.socket.recv(65536)
            assert more, f"the stream ended: {self.bytes[-200:]}"
            self.bytes += more
        before, _, self.bytes = self.bytes.partition(end)
        return before

    def event(self, name, seconds=PATIENCE):
        """The next event's data, within `seconds`; comments are passed over. TimeoutError where none comes."""
        until = time.monotonic() + seconds
        while True:
            lines = self.up_to(b"\n\n", max(0.001, until - time.monotonic())).decode().strip("\r\n").split("\n")
            if lines[0] == f"event: {name}":
                assert len(lines) == 2 and lines[1].startswith("data: "), lines
                return json.loads(lines[1][6:])
            assert lines[0].startswith(":") or not lines[0] or lines[0].isalnum(), lines

    def until(self, name, wanted, seconds=PATIENCE):
        until = time.monotonic() + seconds
        while True:
            value = self.event(name, until - time.monotonic())
            if wanted(value):
                return value

    def close(self):
        self.socket.close()


@contextlib.contextmanager
def served(rig, *words, host="127.0.0.1", program=(), end=True):
    """Runs `steelyard field` on the rig's store at a free port; ends it politely, which must go well."""
    process = subprocess.Popen([*program, harness.PROGRAM, "field", "--port", "0", "--json", *map(str, words)], cwd=rig.folder,
                               env=rig.environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    try:
        line = process.stdout.readline()
        assert line, process.stderr.read().decode()
        yield Page(process, json.loads(line), host)
        if end:
            process.send_signal(signal.SIGTERM)
            out, err = process.communicate(timeout=PATIENCE)
            assert process.returncode == 0, f"ends with {process.returncode}: {err.decode()}"
            assert out == b"", out
    finally:
        process.kill()
        process.wait()
        process.stdout.close()
        process.stderr.close()


def to_weigh(**changes):
    """The sample rig with nothing read yet: the sheet that the page would make."""
    sheet = harness.sheet(SAMPLE)
    sheet["id"] = ID
    for state in sheet["states"]:
        state["readings"] = []
    return sheet | changes


def readings_of_sample():
    """(state, reading) of the sample in its order, with ids as a page makes them."""
    out = []
    for state in harness.sheet(SAMPLE)["states"]:
        for reading in state["readings"]:
            out.append({**reading, "state": state["name"], "id": entry_id(len(out)),
                        "taken_at": f"2026-10-03T09:{len(out):02}:10+02:00"})
    return out


def entry_id(number):
    letters, text = "0123456789abcdefghjkmnpqrstvwxyz", ""
    for _ in range(10):
        number, digit = divmod(number, 32)
        text = letters[digit] + text
    return f"{text[:5]}-{text[5:]}"


def reading(number=0, **changes):
    return readings_of_sample()[number] | changes


def ids_in(rig, session=ID):
    return [one["id"] for state in rig.json("show", session)["states"] for one in state.get("readings", [])]


def with_store(rig, sheet=None):
    rig.run("init")
    rig.run("import", rig.write("one.json", sheet or to_weigh()))


def content_of(rig):
    """The store's file, byte for byte, and whether anything lies beside it."""
    return {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in sorted(rig.folder.glob("steelyard.db*"))}
