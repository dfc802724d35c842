"""Where the program runs: other locales and time zones, clocks set back, full and closed outputs.

Pass rule: results are the same bytes in every locale; a clock set back loses and reorders nothing, and verify says that
it was; what cannot be written is told with exit code 1, and nothing is acknowledged that is not stored.
"""
import json
import os
import sqlite3
import subprocess

import harness


def run_in(rig, environment, *words, **options):
    return subprocess.run([harness.PROGRAM, *map(str, words)], cwd=rig.folder, env={**rig.environment, **environment},
                          capture_output=True, timeout=120, **options)


def locales(folder):
    """de_DE and tr_TR (comma for a point; i and I apart), compiled where the sources are installed; else C.UTF-8 alone
    is compared, which is no check, so that their absence is told."""
    made = []
    for name in ("de_DE", "tr_TR"):
        done = subprocess.run(["localedef", "-i", name, "-f", "UTF-8", str(folder / f"{name}.UTF-8")], capture_output=True)
        if (folder / f"{name}.UTF-8").exists():
            made.append(f"{name}.UTF-8")
        else:
            raise AssertionError(f"locale {name} cannot be made (package locales): {done.stderr.decode()}")
    return made


def test_every_locale_gives_the_same_bytes(rig):
    rig.out("init")
    rig.out("import", harness.sample("tcw-012-pump-trailer"))
    folder = rig.folder / "locales"
    folder.mkdir()
    commands = [["show", "1bb6"], ["show", "1bb6", "--json"], ["reconcile", "1bb6"], ["reconcile", "1bb6", "--json"],
                ["list"], ["plan", harness.SAMPLES / "to_weigh/tcw-052-water-cart.json"]]
    for name in locales(folder):
        plain = [run_in(rig, {"LC_ALL": "C"}, *words).stdout for words in commands]
        assert all(plain)
        environment = {"LC_ALL": name, "LANG": name, "LOCPATH": str(folder)}
        for words, wanted in zip(commands, plain):
            assert run_in(rig, environment, *words).stdout == wanted, (name, words)
        done = run_in(rig, environment, "record", "1bb6", "together", "tow.1", "1250.5", "--json")
        assert b'1250.5' in run_in(rig, environment, "show", "1bb6", "--json").stdout and done.returncode == 0
        books = []
        for number, one in enumerate(({"LC_ALL": "C"}, environment)):
            run_in(rig, one, "report", "1bb6", "--to", f"{number}.xlsx", "--issued", "2026-10-04")
            books.append((rig.folder / f"{number}.xlsx").read_bytes())
        assert books[0] == books[1], name


def test_time_zones_and_clocks_set_back(rig):
    rig.out("init")
    for name in ("tcw-012-pump-trailer", "tcw-018-before-springs", "tcw-018-after-springs"):
        rig.out("import", harness.sample(name))
    order = [one["session"] for one in rig.lines("list")]
    for zone in ("UTC", "Pacific/Kiritimati", "America/St_Johns", "nonsense", ":/etc/none"):
        out = run_in(rig, {"TZ": zone}, "list", "--json").stdout.decode()
        assert [json.loads(line)["session"] for line in out.splitlines()] == order, zone
        assert run_in(rig, {"TZ": zone}, "strike", order[0], f"r{len(zone)}", "--why", zone).returncode == 0
    # The program's clock, an hour back for the second seal: a library of the test's own stands before the system's.
    clock = rig.folder / "clock.c"
    clock.write_text("#define _GNU_SOURCE\n#include <dlfcn.h>\n#include <time.h>\n"
                     "time_t time(time_t *to) {\n"
                     "  time_t (*real)(time_t *) = (time_t (*)(time_t *))dlsym(RTLD_NEXT, \"time\");\n"
                     "  time_t now = real(0) - 3600; if (to) *to = now; return now; }\n")
    subprocess.run(["gcc", "-shared", "-fPIC", "-o", rig.folder / "clock.so", clock, "-ldl"], check=True)
    rig.out("seal", order[0])
    sanitized = b"__asan_init" in open(harness.PROGRAM, "rb").read()  # wants to be the first library itself
    if sanitized:
        return
    done = run_in(rig, {"LD_PRELOAD": str(rig.folder / "clock.so")}, "seal", order[1])
    assert done.returncode == 0, done
    answer = rig.json("verify")
    assert answer["sound"] is True
    assert [notice["kind"] for notice in answer["notices"]] == ["clock_set_back"], answer["notices"]
    db = sqlite3.connect(rig.folder / "steelyard.db")
    assert [n for (n,) in db.execute("SELECT number FROM seal ORDER BY number")] == [1, 2]
    db.close()


def test_an_output_that_is_full_or_closed(rig):
    rig.out("init")
    rig.out("import", harness.sample("tcw-012-pump-trailer"))
    for words in (["list"], ["show", "1bb6"], ["reconcile", "1bb6"], ["verify"], ["register"], ["history", "tcw-012"],
                  ["export", "--all", "--to", "-"], ["help"]):
        with open("/dev/full", "wb") as full:
            done = subprocess.run([harness.PROGRAM, *words], cwd=rig.folder, env=rig.environment, stdout=full,
                                  stderr=subprocess.PIPE, timeout=60)
        assert done.returncode == 1 and b"could not be written" in done.stderr, (words, done)
        done = subprocess.run(["bash", "-c", '"$0" "$@" >&-', harness.PROGRAM, *words], cwd=rig.folder,
                              env=rig.environment, stderr=subprocess.PIPE, timeout=60)
        assert done.returncode == 1, (words, done)
        done = subprocess.run(["bash", "-c", '"$0" "$@" 2>&- <&-', harness.PROGRAM, *words], cwd=rig.folder,
                              env=rig.environment, stdout=subprocess.PIPE, timeout=60)
        assert done.returncode == 0 and done.stdout, (words, done)
    subprocess.run(["bash", "-c", 'set -o pipefail; "$0" reconcile --all --json | head -c 1 >/dev/null', harness.PROGRAM],
                   cwd=rig.folder, env=rig.environment, timeout=60, check=False)
    assert rig.json("verify")["sound"] is True


def test_without_home_and_with_a_narrow_umask(rig):
    environment = {key: value for key, value in rig.environment.items() if key not in ("HOME", "TMPDIR")}
    done = subprocess.run(["bash", "-c", 'umask 077; "$0" init', harness.PROGRAM], cwd=rig.folder, env=environment,
                          capture_output=True, timeout=60)
    assert done.returncode == 0, done
    assert (rig.folder / "steelyard.db").stat().st_mode & 0o777 == 0o600
    sheet = harness.sample("tcw-012-pump-trailer")
    for temporary in ("/nowhere/at/all", "/dev/full"):
        done = run_in(rig, {"TMPDIR": temporary}, "report", sheet, "--to", "out.xlsx")
        assert done.returncode == 0, done
        os.remove(rig.folder / "out.xlsx")
    (rig.folder / "closed").mkdir(mode=0o500)
    if os.geteuid() != 0:
        assert b"closed" in run_in(rig, {}, "report", sheet, "--to", "closed/out.xlsx").stderr


harness.main(globals())
