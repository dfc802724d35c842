"""Runs the program in a folder of its own and checks what it says.

Every test.py is called with the program's path and the source folder; it defines functions test_… that take a Rig
(program, folder, samples) and ends with harness.main(globals()). No sleeps, no network, parallel-safe: each function
gets a new temporary folder and no STEELYARD_STORE from outside.
"""
import copy
import json
import os
import pathlib
import subprocess
import sys
import tempfile
import traceback

PROGRAM = os.path.abspath(sys.argv[1])
SOURCE = pathlib.Path(sys.argv[2]).resolve()
SAMPLES = SOURCE / "sample_data"
WARNING = "steelyard: warning: "
# Set under the sanitizers, where the program is several times as slow.
FEW = bool(os.environ.get("STEELYARD_FEW"))


class Rig:
    def __init__(self, folder):
        self.folder = pathlib.Path(folder)
        self.environment = {k: v for k, v in os.environ.items() if k != "STEELYARD_STORE"}
        self.environment["TZ"] = "UTC-2"  # local time with the offset +02:00

    def run(self, *words, code=0, warned=False, **options):
        """Runs the program; checks the exit code, and that standard error is empty exactly when that is 0 or 3. With
        `warned` standard error must hold warnings and nothing else, whatever the exit code."""
        done = subprocess.run([PROGRAM, *map(str, words)], cwd=self.folder, env=self.environment,
                              capture_output=True, timeout=300, **options)
        out, err = done.stdout.decode(), done.stderr.decode()
        said = f"steelyard {' '.join(map(str, words))}\n--- exit {done.returncode}\n{out}\n---\n{err}"
        assert done.returncode == code, f"exit code {code} wanted: {said}"
        if warned:
            assert err and all(line.startswith(WARNING) for line in err.splitlines()), f"only warnings wanted: {said}"
        else:
            assert bool(err) == (code in (1, 2)), f"standard error: {said}"
        return out, err

    def out(self, *words, code=0, warned=False):
        return self.run(*words, code=code, warned=warned)[0]

    def json(self, *words, code=0, warned=False):
        return json.loads(self.out(*words, "--json", code=code, warned=warned))

    def lines(self, *words, code=0, warned=False):
        return [json.loads(line) for line in self.out(*words, "--json", code=code, warned=warned).splitlines()]

    def refused(self, *words):
        out, err = self.run(*words, code=1)
        return err

    def wrong(self, *words):
        out, err = self.run(*words, code=2)
        assert out == "", f"nothing goes to standard output on wrong usage: {out}"
        return err

    def write(self, name, content):
        path = self.folder / name
        path.write_text(content if isinstance(content, str) else json.dumps(content), encoding="utf-8")
        return path


def sample(name):
    return SAMPLES / f"{name}.json"


def sheet(name):
    return json.loads(sample(name).read_text(encoding="utf-8"))


def small(**changes):
    """A rig whose figures are sums of its readings: hitched only, so nothing checks anything."""
    one = {
        "format": "steelyard-session/1", "id": "small-0001",
        "rig": {"tow_vehicle": {"label": "test wagon", "axles": [{"at": 0, "group": "front"},
                                                                  {"at": 3000, "group": "rear"}]},
                "trailer": {"label": "test trailer", "axles": 1},
                "limits": [{"of": "combination", "value": 4000, "source": "test plate"}]},
        "states": [{"name": "together", "hitched": True,
                    "readings": [{"at": "tow.1", "load": 1000}, {"at": "tow.2", "load": 1200},
                                 {"at": "trailer.1", "load": 900}]}]}
    one = copy.deepcopy(one)
    one.update(changes)
    return one


def spread(samples):
    """For tests that ask the same of every sample; under the sanitizers of every third, since what they look for is
    words and figures, which the released build shows for all of them."""
    return samples[::3] if FEW else samples


def quantity(result, name, state=None, at=None):
    found = [q for q in result["quantities"] if (q["name"], q["state"], q["at"]) == (name, state, at)]
    assert len(found) == 1, f"{name} {state} {at}: {found}"
    return found[0]


def main(names):
    tests = [(name, test) for name, test in names.items() if name.startswith("test_")]
    assert tests, "no test in this file"
    failed = 0
    for name, test in tests:
        with tempfile.TemporaryDirectory() as folder:
            try:
                test(Rig(folder))
            except Exception:  # every failure is told, whatever it is, and the other tests go on
                failed += 1
                print(f"FAILED {name}")
                traceback.print_exc()
    print(f"{len(tests) - failed} passed, {failed} failed")
    sys.exit(1 if failed else 0)
