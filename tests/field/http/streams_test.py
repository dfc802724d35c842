"""Streams of events: what arrives, what a slow reader misses, how many there may be, and what is left when readers go
or the server stops."""
import json
import socket
import sys
import time

from client import Server, answer, check, done, ends, exactly, get_bytes, head, until

program = sys.argv[1]


def opened(server, peer="127.0.0.1", buffer=None):
    one = socket.socket()
    if buffer:
        one.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, buffer)
    one.bind((peer, 0))
    one.settimeout(10)
    one.connect(("127.0.0.1", server.port))
    one.sendall(get_bytes("/events"))
    status, fields = head(one)
    return one, status, fields


def event(one):
    """The next event, comments left out; None at the end."""
    text = b""
    while not text.endswith(b"\n\n"):
        byte = one.recv(1)
        if not byte:
            return None
        text += byte
        if text == b":\n\n":
            text = b""
    return text.decode()


def what_arrives(server):
    one, status, fields = opened(server)
    check("head", (status, fields["content-type"], fields["cache-control"], fields["x-kind"], fields["x-content-type-options"]),
          (200, "text/event-stream", "no-store", "events", "nosniff"))
    check("sent before the head was", event(one), "event: view\ndata: first\n\n")
    server.get("/publish?count=3&size=2")
    check("in order", [event(one) for _ in range(3)], [f"event: view\ndata: {i} xx\n\n" for i in range(3)])
    began = time.monotonic()
    check("a comment in silence", exactly(one, 6), b":\n\n:\n\n")
    check("at its time", 0.5 < time.monotonic() - began < 4)  # keep_alive=400: the second after 800 ms
    one.close()
    check("the end of a reader is noticed", until(lambda: server.counted()["open"] == 0))
    check("and told once", server.counted()["closed"], 1)


def head_only(server):
    before = server.counted()
    with server.connect() as one:
        one.sendall(get_bytes("/events").replace(b"GET", b"HEAD"))
        status, fields = head(one)
        check("HEAD of a stream", (status, fields["content-type"]), (200, "text/event-stream"))
        check("ends", ends(one))
    check("no stream", server.counted()["closed"], before["closed"] + 1)


def slow_readers(server):
    """Four times 2 MiB a round are more than the sockets hold: the newest four arrive, and the newest is the last."""
    slow, _, _ = opened(server, buffer=4096)
    quick, _, _ = opened(server, "127.0.0.2")
    check("first", event(quick), "event: view\ndata: first\n\n")
    count = 40
    began = time.monotonic()
    told = json.loads(server.get(f"/publish?count={count}&size=200000")[2])
    check("sending does not wait", time.monotonic() - began < 1)
    check("some are dropped", told["dropped"] >= count - 4 - 3)
    check("others are served meanwhile", server.get("/x", peer="127.0.0.3")[0], 200)
    numbers = []
    while not numbers or numbers[-1] != count - 1:
        text = event_in_bulk(slow)
        if "data: first" not in text:
            numbers.append(int(text.split("data: ")[1].split(" ")[0]))
    check("in order, the newest last", numbers, sorted(set(numbers)))
    check("the last four are all there", numbers[-4:], list(range(count - 4, count)))
    check("the oldest are missing", len(numbers) < count // 2)
    slow.close()
    quick.close()
    check("both are gone", until(lambda: server.counted()["open"] == 0))


def event_in_bulk(one):
    """Like event(), for long ones: every event ends with the only empty line in it."""
    kept = getattr(event_in_bulk, "kept", b"")
    while b"\n\n" not in kept:
        part = one.recv(65536)
        check("the stream goes on", part != b"")
        kept += part
    text, event_in_bulk.kept = kept.split(b"\n\n", 1)
    return text.decode()


def stuck_reader():
    """Who reads nothing at all is let go when an event has not gone out in its time."""
    with Server(program, "writing=500", "keep_alive=100") as server:
        stuck, _, _ = opened(server, buffer=4096)
        server.get("/publish?count=4&size=4000000")
        check("let go", until(lambda: server.counted()["open"] == 0))
        check("told", server.counted()["closed"], 1)
        stuck.close()


def numbers(server):
    """streams=6 in all, streams_a_peer=4."""
    own = [opened(server) for _ in range(4)]
    check("four of one device", [status for _, status, _ in own], [200] * 4)
    one, status, fields = opened(server)
    check("a fifth", (status, "retry-after" in fields), (429, True))
    one.close()
    others = [opened(server, "127.0.0.2") for _ in range(2)]
    check("two of another", [status for _, status, _ in others], [200] * 2)
    one, status, fields = opened(server, "127.0.0.3")
    check("a seventh in all", (status, "retry-after" in fields), (503, True))
    one.close()
    own[0][0].close()
    check("one place is free", until(lambda: server.counted()["open"] == 5))
    one, status, _ = opened(server, "127.0.0.3")
    check("and taken", status, 200)
    for each, _, _ in own + others:
        each.close()
    one.close()
    check("all gone", until(lambda: server.counted()["open"] == 0))


def ended_by_the_service(server):
    one, _, _ = opened(server)
    server.get("/publish?count=2&size=1")
    server.get("/end-streams")
    found = [event(one) for _ in range(4)]
    check("what was sent arrives, then the end", found,
          ["event: view\ndata: first\n\n", "event: view\ndata: 0 x\n\n", "event: view\ndata: 1 x\n\n", None])


def stopping():
    """Streams end at once, an answer under way is finished, a request that is held is given up after its time."""
    server = Server(program, "stopping=700")
    streams = [opened(server)[0] for _ in range(5)]
    idle = server.connect()
    half = server.connect()
    half.sendall(b"GET / HT")
    held = server.connect()
    held.sendall(get_bytes("/hold"))
    late = server.connect()
    late.sendall(get_bytes("/late"))
    check("all are there", server.counted()["open"], 5)
    told = server.stop()
    check("in time", 600 <= told["stopped_ms"] < 1900)
    check("every stream was told", told["streams"], {"open": 0, "dropped": 0, "closed": 5})
    check("the late answer came", answer(late)[2], b'"late"')
    check("all have ended", [ends(one) for one in (*streams, idle, half, held)], [True] * 8)

    server = Server(program)
    streams = [opened(server)[0] for _ in range(5)]
    told = server.stop()
    check("with streams only, at once", told["stopped_ms"] < 1000)
    check("told", told["streams"]["closed"], 5)
    again = Server(program, f"port={server.port}")
    check("the port is free at once", again.get()[0], 200)
    again.stop()


with Server(program, "keep_alive=400", "streams=6", "streams_a_peer=4") as running:
    for part in (what_arrives, head_only, slow_readers, numbers, ended_by_the_service):
        part(running)
stuck_reader()
stopping()
done(40)
