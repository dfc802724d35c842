"""How it starts, or says why not: addresses, ports, certificates, the line's options, the store."""
import json
import os
import shutil
import signal
import socket
import subprocess

import harness
from served import Page, served, with_store


def refused(rig, *words, code=1):
    out, err = rig.run("field", *words, code=code)
    assert out == "" and all(len(line) < 2000 for line in err.splitlines()), (out, err)
    return err


def test_the_json_line(rig):
    rig.run("init")
    with served(rig) as page:
        assert page.said == {"pages": [f"http://127.0.0.1:{page.port}/"], "port": page.port, "code": None}
    with served(rig, "--listen", "0.0.0.0") as page:
        assert page.said["pages"] and all(address.endswith(f":{page.port}/") for address in page.said["pages"])
        assert "0.0.0.0" not in str(page.said["pages"]) and page.code
    with served(rig, "--listen", "::1", host="::1") as page:
        assert page.said["pages"] == [f"http://[::1]:{page.port}/"]


def test_what_a_person_reads(rig):
    rig.run("init")
    process = subprocess.Popen([harness.PROGRAM, "field", "--port", "0", "--listen", "127.0.0.1"], cwd=rig.folder,
                               env=rig.environment | {"LC_ALL": "C.UTF-8"}, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    lines = []
    while not lines or not lines[-1].startswith("Ctrl-C"):
        lines.append(process.stdout.readline().decode().rstrip("\n"))
        assert len(lines) < 60
    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=30)
    assert process.returncode == 0 and out == b"ended\n"
    assert lines[0].startswith("the page is at http://127.0.0.1:") and lines[1].startswith("access code: ")
    assert all(len(line) <= 80 for line in lines)
    assert any(line.strip() and not line.isascii() for line in lines), "a QR code is shown"
    assert err.decode().startswith(harness.WARNING) and "--certificate" in err.decode()


def test_no_store(rig):
    said = refused(rig, "--port", "0")
    assert "steelyard.db" in said and "init" in said
    rig.write("steelyard.db", "no store at all")
    assert "steelyard.db" in refused(rig, "--port", "0")
    assert rig.run("field", "--port", "0", "--store", "elsewhere.db", code=1)[1].count("elsewhere.db")


def test_addresses_and_ports(rig):
    rig.run("init")
    with served(rig) as page:
        said = refused(rig, "--port", page.port)
        assert str(page.port) in said and "choose another port" in said
    assert "192.0.2.7" in refused(rig, "--port", "0", "--listen", "192.0.2.7")
    assert "van" in refused(rig, "--port", "0", "--listen", "van")
    for port in ("70000", "-1", "x", "1.5"):
        assert "--port" in refused(rig, f"--port={port}", code=2)
    assert "usage" in refused(rig, "one", "word", code=2)
    assert "--words" in refused(rig, "--words", "moon", code=2)
    if os.geteuid() != 0:  # a port that only the administrator has
        assert "--port" in refused(rig, "--port", "80")


def test_a_further_name(rig):
    rig.run("init")
    with served(rig, "--host", "van.test") as page:
        page.get("/", Host=f"van.test:{page.port}").says(200)
        page.get("/", Host=f"other.test:{page.port}").says(421, "open the address")


def test_certificates(rig):
    rig.run("init")
    rig.write("none.pem", "no certificate")
    assert "go together" in refused(rig, "--certificate", "none.pem", code=2)
    assert "go together" in refused(rig, "--key", "none.pem", code=2)
    assert "none.pem" in refused(rig, "--port", "0", "--certificate", "none.pem", "--key", "none.pem")
    assert "gone.pem" in refused(rig, "--port", "0", "--certificate", "gone.pem", "--key", "gone.pem")


def test_the_options_of_the_line(rig):
    rig.run("init")
    assert "--line DEVICE" in refused(rig, "--line-speed", "9600", code=2)
    for option, value in (("--line-speed", "9601"), ("--line-speed", "fast"), ("--line-framing", "9N1"), ("--line-unit", "stone"),
                          ("--line-end", "tab"), ("--line-decimal", "dot"), ("--line-stable-for", "-1"), ("--line-stable-for", "x"),
                          ("--line-stable-within", "-1"), ("--line-pattern", "(?<load>[0-9]+"), ("--line-pattern", "[0-9]+")):
        assert option in refused(rig, "--line", "/dev/null", f"{option}={value}", code=2), (option, value)


def test_a_port_is_free_again_after_the_end(rig):
    rig.run("init")
    with served(rig) as page:
        port = page.port
        line = socket.create_connection(("127.0.0.1", port))
    line.close()
    process = subprocess.Popen([harness.PROGRAM, "field", "--port", str(port), "--json"], cwd=rig.folder, env=rig.environment,
                               stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    said = json.loads(process.stdout.readline() or process.stderr.readline())
    again = Page(process, said, "127.0.0.1")
    again.get("/").says(200)
    process.terminate()
    process.communicate(timeout=30)
    assert process.returncode == 0


def test_a_store_that_may_only_be_read(rig):
    """Nothing is forbidden to the administrator, so that one asks as somebody else; the program goes where both reach it."""
    with_store(rig)
    store, program = rig.folder / "steelyard.db", rig.folder / "steelyard"
    shutil.copy(harness.PROGRAM, program)
    store.chmod(0o444)
    rig.folder.chmod(0o755)
    nobody = {"user": 65534, "group": 65534, "extra_groups": []} if os.geteuid() == 0 else {}
    before = store.read_bytes()
    done = subprocess.run([program, "field", "--port", "0"], cwd=rig.folder, env=rig.environment, capture_output=True,
                          timeout=60, **nobody)
    assert (done.returncode, done.stdout) == (1, b""), done
    assert b"steelyard.db" in done.stderr and store.read_bytes() == before


harness.main(globals())
