"""The tests' own server, and raw sockets to it: bytes as written in the test, answers taken apart by hand."""
import json
import socket
import subprocess
import sys
import time

checks = 0


def check(what, found, wanted=True):
    """Counts; the first difference ends the test with both sides."""
    global checks
    checks += 1
    if found != wanted:
        sys.exit(f"{what}:\n  found  {found!r}\n  wanted {wanted!r}")


def done(least):
    """A test that checked less than it has cases is no test."""
    check("number of checks", checks >= least)
    print(f"{checks} checks")


class Server:
    def __init__(self, program, *words):
        self.process = subprocess.Popen([program, *words], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                                        stderr=subprocess.PIPE, text=True)
        line = self.process.stdout.readline()
        if not line:
            sys.exit(f"the server did not start: {self.process.stderr.read()}")
        self.port = int(line)
        self.stopped = None

    def __enter__(self):
        return self

    def __exit__(self, kind, *_):
        if self.stopped is None:
            self.stop(kind is None)

    def stop(self, must_be_clean=True):
        """Ends it as the service would; what it says, and that nothing was found wrong on the way."""
        out, errors = self.process.communicate(timeout=30)
        self.stopped = json.loads(out) if out else {}
        if must_be_clean:
            check("exit code and standard error of the server", (self.process.returncode, errors), (0, ""))
        return self.stopped

    def connect(self, peer="127.0.0.1", patience=10):
        one = socket.create_connection(("127.0.0.1", self.port), timeout=patience, source_address=(peer, 0))
        return one

    def post_head(self, path="/echo", more=""):
        return (f"POST {path} HTTP/1.1\r\nHost: localhost:{self.port}\r\nOrigin: http://localhost:{self.port}\r\n"
                f"{more}\r\n").encode()

    def get(self, path="/x", more="", peer="127.0.0.1"):
        with self.connect(peer) as one:
            one.sendall(get_bytes(path, more))
            return answer(one)

    def counted(self):
        return json.loads(self.get("/count")[2])


def get_bytes(path="/x", more=""):
    return f"GET {path} HTTP/1.1\r\nHost: localhost\r\n{more}\r\n".encode()


def head(one):
    """Status and header fields of the next answer, byte by byte so that nothing behind them is taken."""
    text = b""
    while not text.endswith(b"\r\n\r\n"):
        byte = one.recv(1)
        if not byte:
            return (None, {}) if not text else sys.exit(f"half an answer: {text!r}")
        text += byte
    lines = text.decode().split("\r\n")[:-2]
    fields = [line.split(": ", 1) for line in lines[1:]]
    return int(lines[0].split(" ")[1]), {name.lower(): value for name, value in fields}


def exactly(one, size):
    body = bytearray()
    while len(body) < size:
        part = one.recv(min(65536, size - len(body)))
        if not part:
            sys.exit(f"an answer that ends after {len(body)} of {size} bytes")
        body += part
    return bytes(body)


def answer(one, has_body=True):
    status, fields = head(one)
    size = int(fields.get("content-length", 0)) if has_body else 0
    return status, fields, exactly(one, size)


def ends(one, within=5):
    """Whether the other end closes, whatever it says before."""
    one.settimeout(within)
    try:
        while one.recv(65536):
            pass
        return True
    except ConnectionError:
        return True
    except TimeoutError:
        return False


def until(true, within=5):
    """Waits for what another thread brings about."""
    end = time.monotonic() + within
    while not true():
        if time.monotonic() > end:
            return False
        time.sleep(0.02)
    return True
