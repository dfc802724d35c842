"""What happens in a van: another program at the store, power that goes, many phones at once."""
import concurrent.futures
import http.client
import signal
import sqlite3
import subprocess
import threading
import time

import harness
from served import ID, entry_id, ids_in, reading, served, to_weigh, with_store


def test_a_store_held_by_another_program_is_said_and_the_reading_kept_afterwards(rig):
    with_store(rig)
    with served(rig) as page:
        page.view()
        other = sqlite3.connect(rig.folder / "steelyard.db", isolation_level=None)
        other.execute("BEGIN EXCLUSIVE")
        page.to("readings", reading()).says(503, "steelyard.db")
        other.execute("ROLLBACK")
        other.close()
        page.to("readings", reading()).says(201)
        page.to("readings", reading()).says(200)
    assert ids_in(rig) == [reading()["id"]]


def test_what_had_to_wait_together_is_answered_each_by_itself(rig):
    with_store(rig)
    with served(rig) as page, concurrent.futures.ThreadPoolExecutor(40) as crowd:
        page.to("readings", reading(id=entry_id(100))).says(201)
        other = sqlite3.connect(rig.folder / "steelyard.db", isolation_level=None)
        other.execute("BEGIN IMMEDIATE")
        posts = [crowd.submit(page.to, "readings", reading(id=entry_id(n), load=600 + n)) for n in range(30)]
        again = crowd.submit(page.to, "readings", reading(id=entry_id(100)))
        otherwise = crowd.submit(page.to, "readings", reading(id=entry_id(100), load=1))
        faulty = crowd.submit(page.to, "readings", reading(id=entry_id(101), at="tow.9"))
        strike = crowd.submit(page.to, "strikes", {"reading": entry_id(100), "why": "wrong pad", "by": "R. Okoye"})
        nowhere = crowd.submit(page.post, "/api/sessions/nobody-knows-it/readings", reading())
        time.sleep(1)
        other.execute("ROLLBACK")
        other.close()
        assert [post.result().status for post in posts] == [201] * 30
        again.result().says(200)
        otherwise.result().says(409, entry_id(100))
        assert faulty.result().says(422, "nothing was stored") == ["at"]
        strike.result().says(201)
        nowhere.result().says(404, "nobody-knows-it")
    assert sorted(ids_in(rig)) == [entry_id(n) for n in [*range(30), 100]]
    rig.run("verify")


def test_what_another_program_records_is_seen_at_once(rig):
    with_store(rig)
    with served(rig) as page:
        stream = page.stream(f"/api/sessions/{ID}/events")
        stream.event("view")
        for number in range(3):
            rig.run("record", ID, "apart", "tow.1.left", 650 + number, "--scale", "P1")
            done = time.monotonic()
            stream.until("view", lambda view: len(view["states"][0]["places"][0]["readings"]) == number + 1)
            assert time.monotonic() - done < 1.5, time.monotonic() - done
        rig.run("record", ID, "apart", "tow.1.left", 655, "--scale", "P1")
        # Asked for by itself it is never older than the store.
        assert len(page.view()["states"][0]["places"][0]["readings"]) == 4
        stream.close()


def test_a_change_while_the_store_is_held_is_shown_when_it_can_be_read(rig):
    with_store(rig)
    with served(rig) as page:
        stream = page.stream(f"/api/sessions/{ID}/events")
        stream.event("view")
        rig.run("record", ID, "apart", "tow.1.left", 650, "--scale", "P1")
        other = sqlite3.connect(rig.folder / "steelyard.db", isolation_level=None)
        other.execute("BEGIN EXCLUSIVE")
        time.sleep(7)  # longer than the page waits for a store
        other.execute("ROLLBACK")
        other.close()
        stream.until("view", lambda view: len(view["states"][0]["places"][0]["readings"]) == 1)
        stream.close()


def test_every_phone_sees_every_reading(rig):
    with_store(rig)
    with served(rig) as page:
        streams = [page.stream(f"/api/sessions/{ID}/events?words={words}") for words in ("plain", "au", "us", "za", "plain")]
        with concurrent.futures.ThreadPoolExecutor(8) as crowd:
            answers = list(crowd.map(lambda n: page.to("readings", reading(id=entry_id(n), load=600 + n)).status, range(40)))
        assert answers == [201] * 40
        for stream in streams:
            view = stream.until("view", lambda view: len(view["states"][0]["places"][0]["readings"]) == 40)
            assert view["found"]["solved"]
            stream.close()
    assert sorted(ids_in(rig)) == [entry_id(n) for n in range(40)]


def test_what_was_acknowledged_survives_a_kill(rig):
    with_store(rig)
    acknowledged, enough = [], threading.Event()

    def send(page, first):
        line = page.connection()
        for number in range(first, 200, 4):
            try:
                answer = page.ask("POST", f"/api/sessions/{ID}/readings", reading(id=entry_id(number), load=500 + number), connection=line)
            except (http.client.HTTPException, OSError):
                return
            if answer.status == 201:
                acknowledged.append(entry_id(number))
            if len(acknowledged) >= 60:
                enough.set()

    with served(rig, end=False) as page:
        senders = [threading.Thread(target=send, args=(page, first)) for first in range(4)]
        for sender in senders:
            sender.start()
        assert enough.wait(60)
        page.process.send_signal(signal.SIGKILL)
        page.process.wait()
        for sender in senders:
            sender.join()
    assert 60 <= len(acknowledged) < 200
    kept = ids_in(rig)
    assert set(acknowledged) <= set(kept) and len(kept) == len(set(kept))
    rig.run("verify")
    with served(rig) as page:  # the next run takes all of them again: those that are there, and those that are not
        answers = [page.to("readings", reading(id=entry_id(n), load=500 + n)).status for n in range(200)]
    assert answers == [200 if entry_id(n) in kept else 201 for n in range(200)]
    assert sorted(ids_in(rig)) == [entry_id(n) for n in range(200)]


def test_it_ends_politely_with_streams_open(rig):
    with_store(rig)
    for how in (signal.SIGTERM, signal.SIGINT, signal.SIGHUP):
        with served(rig, end=False) as page:
            stream = page.stream(f"/api/sessions/{ID}/events")
            stream.event("view")
            page.process.send_signal(how)
            assert page.process.wait(timeout=15) == 0, how
            stream.close()


def test_sessions_are_weighed_side_by_side(rig):
    rig.run("init")
    names = [f"side-by-side-{number}" for number in range(4)]
    with served(rig) as page, concurrent.futures.ThreadPoolExecutor(4) as crowd:
        for name in names:
            page.post("/api/sessions", to_weigh(id=name)).says(201)
        statuses = list(crowd.map(lambda n: page.post(f"/api/sessions/{names[n % 4]}/readings", reading(id=entry_id(n), load=600 + n)).status,
                                  range(40)))
    assert statuses == [201] * 40
    for number, name in enumerate(names):
        assert sorted(ids_in(rig, name)) == [entry_id(n) for n in range(number, 40, 4)]


def test_the_disk_is_full(rig):
    with_store(rig)
    # No file of this program may grow: what SQLite meets on a full disk, but for the signal, which is ignored.
    with served(rig, program=["sh", "-c", "trap '' XFSZ; ulimit -f $(( $(stat -c %s steelyard.db) / 512 )); exec \"$@\"", "sh"]) as page:
        statuses = []
        for number in range(400):
            answer = page.to("readings", reading(id=entry_id(number), load=400 + number))
            statuses.append(answer.status)
            if answer.status != 201:
                answer.says(503, "steelyard.db")
                break
    assert statuses[-1] == 503 and len(ids_in(rig)) == len(statuses) - 1
    subprocess.run([harness.PROGRAM, "verify"], cwd=rig.folder, env=rig.environment, check=True, capture_output=True)


harness.main(globals())
