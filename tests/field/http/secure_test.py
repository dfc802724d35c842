"""TLS with a certificate made on the spot; and files that do not do, refused with the remedy."""
import json
import os
import ssl
import subprocess
import sys
import tempfile

from client import Server, answer, check, done, ends, exactly, get_bytes, head, until

program = sys.argv[1]
folder = tempfile.TemporaryDirectory()


def path(name):
    return os.path.join(folder.name, name)


def openssl(*words):
    subprocess.run(["openssl", *words], check=True, capture_output=True, timeout=60)


def make(name):
    openssl("req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes", "-days", "2", "-keyout",
            path(name + ".key"), "-out", path(name + ".pem"), "-subj", "/CN=localhost", "-addext",
            "subjectAltName=DNS:localhost")


def trusting(least=None, most=None):
    context = ssl.create_default_context(cafile=path("van.pem"))
    # The test says which versions it offers, whatever this computer's own rules are.
    context.set_ciphers("DEFAULT:@SECLEVEL=0")
    if least:
        context.minimum_version = least
    if most:
        context.maximum_version = most
    return context


def connected(server, context=None, peer="127.0.0.1"):
    return (context or trusting()).wrap_socket(server.connect(peer), server_hostname="localhost")


def requests(server):
    with connected(server) as one:
        for _ in range(2):
            one.sendall(get_bytes())
            check("over TLS", json.loads(answer(one)[2])["secure"])
        post = server.post_head(more="Content-Length: 2\r\n") + b"{}"
        one.sendall(post.replace(b"Origin: http:", b"Origin: https:"))
        check("https origin", answer(one)[0], 200)
        one.sendall(get_bytes("/big"))
        check("8 MiB", answer(one)[2] == b"b" * (8 << 20))
        one.sendall(post)
        check("http origin", answer(one)[0], 403)
        check("ends with a farewell", one.recv(10), b"")
    with connected(server) as one:
        one.sendall(server.post_head(more="Content-Length: 2000000\r\n"))
        check("too long", answer(one)[0], 413)


def versions(server):
    for version in (ssl.TLSVersion.TLSv1_2, ssl.TLSVersion.TLSv1_3):
        with connected(server, trusting(version, version)) as one:
            one.sendall(get_bytes())
            check(f"{version.name}", answer(one)[0], 200)
    for version in (ssl.TLSVersion.TLSv1, ssl.TLSVersion.TLSv1_1):
        refused = subprocess.run(["openssl", "s_client", "-connect", f"127.0.0.1:{server.port}", "-cipher",
                                  "DEFAULT:@SECLEVEL=0", "-tls1" if version == ssl.TLSVersion.TLSv1 else "-tls1_1"],
                                 stdin=subprocess.DEVNULL, capture_output=True, text=True, timeout=20)
        # The server's own refusal, not that of the one who asks.
        check(f"{version.name} is refused", (refused.returncode != 0, "alert protocol version" in refused.stderr),
              (True, True))


def others(server):
    with server.connect() as one:
        one.sendall(get_bytes())
        check("in the clear", ends(one))
    with server.connect("127.0.0.2") as silent:  # no handshake within request=1500
        with connected(server) as one:
            one.sendall(get_bytes())
            check("others meanwhile", answer(one)[0], 200)
        check("silence ends", ends(silent, 4))


def streams(server):
    one = connected(server)
    one.sendall(get_bytes("/events"))
    check("a stream", head(one)[0], 200)
    check("its event", exactly(one, 25), b"event: view\ndata: first\n\n")
    with connected(server) as other:
        other.sendall(get_bytes("/publish?count=2&size=1"))
        answer(other)
    check("more", exactly(one, 46), b"event: view\ndata: 0 x\n\nevent: view\ndata: 1 x\n\n")
    one.close()

    def all_gone():
        with connected(server) as other:
            other.sendall(get_bytes("/count"))
            return json.loads(answer(other)[2])["open"] == 0
    check("its end is noticed", until(all_gone))


def slow_request(server):
    with connected(server) as one:
        one.sendall(b"GET /")
        check("half a request", answer(one)[0], 408)
        check("and the end", ends(one))


def bad_files():
    openssl("ec", "-in", path("van.key"), "-out", path("locked.key"), "-aes128", "-passout", "pass:word")
    with open(path("text.pem"), "w") as file:
        file.write("no certificate\n")
    for chain, key, blamed, remedy in (
            ("none.pem", "van.key", "none.pem", "name a readable PEM file"),
            ("text.pem", "van.key", "text.pem", "name a readable PEM file"),
            ("van.pem", "none.key", "none.key", "name a readable PEM file that needs no password"),
            ("van.pem", "text.pem", "text.pem", "name a readable PEM file that needs no password"),
            ("van.pem", "locked.key", "locked.key", "name a readable PEM file that needs no password"),
            ("van.pem", "other.key", "other.key", "name the key that the certificate was made with")):
        run = subprocess.run([program, f"chain={path(chain)}", f"key={path(key)}"], stdin=subprocess.DEVNULL,
                             capture_output=True, text=True, timeout=10)
        check(f"{chain} with {key}", (run.returncode, run.stdout, run.stderr.startswith(path(blamed) + ": "),
                                      remedy in run.stderr), (1, "", True, True))


make("van")
make("other")
with Server(program, f"chain={path('van.pem')}", f"key={path('van.key')}", "request=1500") as running:
    for part in (requests, versions, others, streams, slow_request):
        part(running)
bad_files()
done(25)
