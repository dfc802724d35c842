"""What the server answers by itself and what reaches a handler, over a real socket. What is right comes from RFC 9110
and RFC 9112, and from the limits in server.hpp."""
import gzip
import json
import socket
import subprocess
import sys

from client import Server, answer, check, done, ends, get_bytes, head

program = sys.argv[1]

SECURITY = {
    "content-security-policy": "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "
                               "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    "x-content-type-options": "nosniff", "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin", "cross-origin-resource-policy": "same-origin"}


def answered(server, sent, keeps=None):
    """Status and body of the answer to these bytes; whether the connection then ends."""
    with server.connect() as one:
        one.sendall(sent)
        status, fields, body = answer(one)
        if status is not None:
            check(f"security headers of {sent[:60]!r}", {name: fields.get(name) for name in SECURITY}, SECURITY)
            check("no banner", "server" in fields, False)
        if status is not None and status >= 400 and status != 500:
            check(f"an error of {sent[:60]!r} says the remedy", "; " in json.loads(body)["error"])
            check("an error may not be kept", fields["cache-control"], "no-store")
        if keeps is not None:
            check(f"connection after {sent[:60]!r} ends", fields.get("connection") == "close", not keeps)
            if not keeps:
                check("it does end", ends(one))
        return status, body


def plain_requests(server):
    with server.connect("127.0.0.9") as one:  # several on one connection, and two sent at once
        one.sendall(get_bytes("/a%20b?x=1&y=%C3%A9", "Cookie: code=K7\r\nIf-None-Match: \"t\"\r\n"))
        status, _, body = answer(one)
        seen = json.loads(body)
        check("status", status, 200)
        check("what the handler sees", seen, {
            "method": "GET", "path": "/a b", "query": {"x": "1", "y": "é"}, "body": "", "peer": "127.0.0.9",
            "host": "localhost", "type": "", "tag": "\"t\"", "cookies": {"code": "K7"}, "secure": False})
        one.sendall(get_bytes("/one") + get_bytes("/two"))
        check("pipelined", [json.loads(answer(one)[2])["path"] for _ in range(2)], ["/one", "/two"])
        one.sendall(get_bytes("/big").replace(b"GET", b"HEAD"))
        status, fields, _ = answer(one, has_body=False)
        check("HEAD", (status, fields["content-length"], fields["cache-control"]), (200, str(8 << 20), "max-age=60"))
        one.sendall(get_bytes("/late"))
        check("from another thread", answer(one)[2], b'"late"')
        one.sendall(get_bytes("/nothing"))
        status, fields, _ = answer(one)
        check("204", (status, "content-length" in fields, fields["set-cookie"]), (204, False, "code=1; HttpOnly"))
        one.sendall(get_bytes("/big"))
        check("8 MiB", answer(one)[2] == b"b" * (8 << 20))
        one.sendall(server.post_head(more="Content-Length: 2\r\nContent-Type: application/json; charset=utf-8\r\n") + b"{}")
        seen = json.loads(answer(one)[2])
        check("POST", (seen["method"], seen["body"], seen["type"]), ("POST", "{}", "application/json"))


def versions(server):
    old = b"GET /x HTTP/1.0\r\nHost: localhost\r\n"
    check("HTTP/1.0", answered(server, old + b"\r\n", keeps=False)[0], 200)
    check("HTTP/1.0 kept", answered(server, old + b"Connection: keep-alive\r\n\r\n", keeps=True)[0], 200)
    check("HTTP/1.1", answered(server, get_bytes(), keeps=True)[0], 200)
    check("close", answered(server, get_bytes(more="Connection: close\r\n"), keeps=False)[0], 200)
    check("HTTP/2", answered(server, b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n", keeps=False)[0], 505)
    check("TLS where none is", answered(server, b"\x16\x03\x01\x02\x00\x01\x00", keeps=False)[0], 400)


def handlers(server):
    check("unanswered", answered(server, get_bytes("/never"), keeps=True)[0], 500)
    check("thrown", answered(server, get_bytes("/throw"), keeps=True)[0], 500)
    check("header in a header", answered(server, get_bytes("/split"))[0], 500)


def names(server):
    def with_host(text):
        return answered(server, f"GET /x HTTP/1.1\r\n{text}\r\n".encode())[0]
    check("name", with_host("Host: van.local:8080\r\n"), 200)
    check("loopback", with_host("Host: [::1]:1\r\n"), 200)
    check("rebinding", with_host("Host: evil.example\r\n"), 421)
    check("no host", with_host(""), 400)
    check("two hosts", with_host("Host: localhost\r\nHost: localhost\r\n"), 400)
    check("absolute", answered(server, b"GET http://localhost/x HTTP/1.1\r\nHost: localhost\r\n\r\n")[0], 400)
    check("a name is checked before a body is read",
          answered(server, b"POST /x HTTP/1.1\r\nHost: evil.example\r\nContent-Length: 9\r\n\r\n", keeps=False)[0], 421)


def origins(server):
    here = f"http://localhost:{server.port}"
    def with_origin(origin, more=""):
        return answered(server, f"POST /x HTTP/1.1\r\nHost: localhost:{server.port}\r\nContent-Length: 2\r\n{origin}{more}"
                                "\r\n{}".encode())[0]
    check("ours", with_origin(f"Origin: {here}\r\n"), 200)
    check("none", with_origin(""), 403)
    for other in ("null", "http://evil.example", here + "0", here.replace("http", "https"), "http://127.0.0.1:1"):
        check(f"origin {other}", with_origin(f"Origin: {other}\r\n"), 403)
    check("cross-site", with_origin(f"Origin: {here}\r\n", "Sec-Fetch-Site: cross-site\r\n"), 403)
    check("read from another site", answered(server, get_bytes(more="Sec-Fetch-Site: cross-site\r\n"))[0], 403)
    for method in ("PUT", "DELETE", "OPTIONS", "TRACE", "CONNECT", "BREW"):
        check(method, answered(server, get_bytes().replace(b"GET", method.encode()))[0], 405)


def paths(server):
    for path in ("/../etc/passwd", "/a/..", "/%2e%2e/x", "/..%2fx", "/a%2fb", "//x", "/a\\b", "/a%5cb", "/%00", "/%zz",
                 "/%c0%ae", "/%ff", "/?a=1&a=2", "*", "x"):
        check(f"path {path}", answered(server, get_bytes(path))[0], 400)


def bodies(server):
    limit = 1 << 20
    whole = b"w" * limit
    status, body = answered(server, server.post_head(more=f"Content-Length: {limit}\r\n") + whole)
    check("a body of the limit", (status, len(json.loads(body)["body"])), (200, limit))
    chunked = server.post_head(more="Transfer-Encoding: chunked\r\n")
    status, body = answered(server, chunked + b"%x\r\n" % limit + whole + b"\r\n0\r\n\r\n")
    check("a chunked body of the limit", (status, len(json.loads(body)["body"])), (200, limit))
    # Refused by the header alone: nothing of the body is sent.
    check("one more", answered(server, server.post_head(more=f"Content-Length: {limit + 1}\r\n"), keeps=False)[0], 413)
    pieces = b"".join(b"10000\r\n" + b"p" * 65536 + b"\r\n" for _ in range(16))  # 16 times 64 KiB: the limit
    check("one more, chunked", answered(server, chunked + pieces + b"1\r\n", keeps=False)[0], 413)
    tiny = b"1\r\na\r\n" * 200_000 + b"0\r\n\r\n"  # 1.2 MB that carry 200 kB
    status, body = answered(server, chunked + tiny)
    check("tiny chunks", (status, len(json.loads(body)["body"])), (200, 200_000))
    check("tiny chunks past what may carry a body", answered(server, chunked + b"1\r\na\r\n" * 400_000, keeps=False)[0], 413)
    packed = gzip.compress(b"0" * (100 << 20))
    check("a bomb", answered(server, server.post_head(more=f"Content-Encoding: gzip\r\nContent-Length: {len(packed)}\r\n") +
                             packed, keeps=False)[0], 415)
    check("no length", answered(server, server.post_head(), keeps=False)[0], 411)
    check("GET with a body", answered(server, get_bytes(more="Content-Length: 4\r\n") + b"body", keeps=False)[0], 400)


def headers(server):
    check("long value", answered(server, get_bytes(more="X: " + "x" * 9000 + "\r\n"), keeps=False)[0], 431)
    check("many fields", answered(server, get_bytes(more="X: y\r\n" * 2000), keeps=False)[0], 431)
    check("long target", answered(server, get_bytes("/" + "x" * 9000), keeps=False)[0], 431)
    check("as many as fit", answered(server, get_bytes(more="X: y\r\n" * 1300))[0], 200)
    check("endless extension", answered(server, server.post_head(more="Transfer-Encoding: chunked\r\n") + b"1;" + b"e" * 20_000,
                                        keeps=False)[0], 431)
    check("endless trailer", answered(server, server.post_head(more="Transfer-Encoding: chunked\r\n") + b"0\r\n" +
                                      b"X: y\r\n" * 4000, keeps=False)[0], 431)


def smuggling(server):
    """Each would let a second request hide in the first's body for somebody who counts otherwise."""
    hidden = get_bytes("/hidden")
    shapes = [
        f"Content-Length: {len(hidden)}\r\nTransfer-Encoding: chunked\r\n",
        f"Transfer-Encoding: chunked\r\nContent-Length: {len(hidden)}\r\n",
        "Content-Length: 0\r\nContent-Length: 9\r\n", "Content-Length: 0\r\nContent-Length: 0\r\n",
        "Content-Length: 0, 0\r\n", "Content-Length: +0\r\n", "Content-Length: 0x0\r\n", "Content-Length: 0 0\r\n",
        "Content-Length : 0\r\n", "Content-Length:\r\n", "Transfer-Encoding: xchunked\r\n",
        "Transfer-Encoding: chunked, identity\r\n", "Transfer-Encoding: gzip, chunked\r\n", "Transfer-Encoding : chunked\r\n",
        "Transfer-Encoding: chunked\r\nTransfer-Encoding: identity\r\n",
        "Transfer-Encoding: identity\r\nTransfer-Encoding: chunked\r\n", "Transfer-Encoding:\x0bchunked\r\n",
        "X: y\nTransfer-Encoding: chunked\r\nContent-Length: 0\r\n"]
    for shape in shapes:
        with server.connect() as one:
            one.sendall(server.post_head(more=shape) + b"0\r\n\r\n" + hidden)
            status, fields, _ = answer(one)
            check(f"shape {shape!r}", (status, fields["connection"]), (400, "close"))
            check(f"nothing is answered behind {shape!r}", head(one)[0], None)


def expectations(server):
    with server.connect() as one:
        one.sendall(server.post_head(more="Expect: 100-continue\r\nContent-Length: 4\r\n"))
        check("goes on", head(one)[0], 100)
        one.sendall(b"body")
        check("body after 100", json.loads(answer(one)[2])["body"], "body")
        one.sendall(server.post_head(more="Expect: 100-continue\r\nContent-Length: 4\r\n") + b"soon")
        check("no 100 where the body is there", json.loads(answer(one)[2])["body"], "soon")
        one.sendall(server.post_head(more="Expect: 100-continue\r\nContent-Length: 2000000\r\n"))
        check("refused before it is sent", answer(one)[0], 413)
    check("other", answered(server, server.post_head(more="Expect: more\r\nContent-Length: 2\r\n") + b"{}", keeps=False)[0], 417)


def starting(server):
    def refusal(*words):
        run = subprocess.run([program, *words], stdin=subprocess.DEVNULL, capture_output=True, text=True, timeout=10)
        check(f"exit code of {words}", (run.returncode, run.stdout), (1, ""))
        return run.stderr
    check("port taken", refusal(f"port={server.port}"), f"port {server.port} on 127.0.0.1 is taken by another program; "
          "stop that one, or choose another port\n")
    # 192.0.2.0/24 is for documents (RFC 5737): nobody's own.
    check("not ours", refusal("address=192.0.2.1"),
          "192.0.2.1 is not an address of this computer; \"ip address\" lists those that are\n")
    check("no address", "is not an address; give one" in refusal("address=van"))


def other_addresses():
    with Server(program, "address=0.0.0.0") as server:
        with socket.create_connection(("127.0.0.2", server.port), timeout=5) as one:
            one.sendall(b"GET /x HTTP/1.1\r\nHost: 127.0.0.2\r\n\r\n")
            check("all addresses", answer(one)[0], 200)
    try:
        socket.socket(socket.AF_INET6).bind(("::1", 0))
    except OSError:
        return  # a computer without IPv6
    with Server(program, "address=::1") as server:
        with socket.create_connection(("::1", server.port), timeout=5) as one:
            one.sendall(b"GET /x HTTP/1.1\r\nHost: [::1]\r\n\r\n")
            check("IPv6 peer", json.loads(answer(one)[2])["peer"], "::1")


with Server(program, "host=van.local") as running:
    for part in (plain_requests, versions, handlers, names, origins, paths, bodies, headers, smuggling, expectations,
                 starting):
        part(running)
other_addresses()
done(250)
