"""Loads off a serial line: a pair of pseudo-terminals stands in for the scale, with a pattern of the test's own."""
import contextlib
import os
import threading

import harness
from served import served


@contextlib.contextmanager
def scale():
    """What a scale writes to, and the device's name."""
    ours, theirs = os.openpty()
    try:
        yield ours, os.ttyname(theirs)
    finally:
        os.close(ours)
        os.close(theirs)


class Sending:
    """Sends the same line again and again, as a scale does, until it is told another or to be silent."""

    def __init__(self, handle, line):
        self.handle, self.line, self.ended = handle, line, threading.Event()
        self.thread = threading.Thread(target=self.run)
        self.thread.start()

    def run(self):
        while not self.ended.wait(0.05):
            if self.line:
                os.write(self.handle, self.line)

    def end(self):
        self.ended.set()
        self.thread.join()


PATTERN = r"^(?<stable>ST)?\s*W=(?<load>-?[0-9.]+)\s*(?<unit>kg|lb)$"


def test_loads_as_the_pattern_finds_them(rig):
    rig.run("init")
    with scale() as (handle, device), served(rig, "--line", device, "--line-pattern", PATTERN) as page:
        assert page.get("/api/desk").value["line"] == {"name": "scale on line"}
        sending = Sending(handle, b"   W=  641.5 kg\r\n".replace(b"=  ", b"="))
        try:
            stream = page.stream("/api/line/events")
            load = stream.until("load", lambda load: load["load"] == 641.5)
            assert load == {"load": 641.5, "unit": "kg", "stable": False, "why": None}
            sending.line = b"ST W=642 kg\r\n"
            assert stream.until("load", lambda load: load["stable"])["load"] == 642
            sending.line = b"ST W=-1415 lb\r\n"
            assert stream.until("load", lambda load: load["load"] == -1415)["unit"] == "lb"
            # Whoever comes later sees the last load at once.
            later = page.stream("/api/line/events")
            assert later.event("load", 5)["load"] == -1415
            later.close()
            sending.line = b"\x00\xff hello\r\n"
            told = stream.until("load", lambda load: load["load"] is None)
            assert told["why"] and told["stable"] is False
            sending.line = b"ST W=643 kg\r\n"
            stream.until("load", lambda load: load["load"] == 643)
            sending.line = b""
            told = stream.until("load", lambda load: load["load"] is None)
            assert "5 s" in told["why"], told
            stream.close()
        finally:
            sending.end()


def test_stable_when_it_has_stayed(rig):
    rig.run("init")
    with scale() as (handle, device), served(rig, "--line", device, "--line-stable-for", "0.5") as page:
        sending = Sending(handle, b"641 kg\r\n")
        try:
            stream = page.stream("/api/line/events")
            assert stream.until("load", lambda load: load["load"] == 641 and load["stable"])["unit"] == "kg"
            stream.close()
        finally:
            sending.end()


def test_a_device_that_is_not_there_is_told_and_the_page_works(rig):
    rig.run("init")
    with served(rig, "--line", str(rig.folder / "no-device")) as page:
        stream = page.stream("/api/line/events")
        told = stream.event("load")
        assert told["load"] is None and "no-device" in told["why"], told
        stream.close()
        page.get("/api/desk").says(200)


harness.main(globals())
