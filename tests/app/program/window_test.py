#!/usr/bin/env python3
"""The touch program in a real window: Xvfb shows it, xdotool types and taps, the desk program reads what was kept.

usage: window_test.py LIGULE LIGULE_DESK SOURCE_TREE

Everything else about screens is tested headless; this one shows that the window opens, that places on the glass are the
places the headless program lists, and that a person's keys and pointer reach it. Needs Xvfb and xdotool.
"""

import csv
import datetime
import json
import pathlib
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[2]))
from x_display import Display, ticks  # noqa: E402

LIGULE, DESK, TREE = (pathlib.Path(word).resolve() for word in sys.argv[1:4])
SIZE = (1280, 800)
PATIENCE = 60  # seconds a step may take on a busy machine


def wait_for(what, ask):
    """Asks again until there is an answer."""
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        answer = ask()
        if answer:
            return answer
        time.sleep(0.1)
    raise AssertionError(f"{what} did not happen within {PATIENCE} s")


def rest(program):
    """Waits until the program has used no processor time for a second: it draws only what changed, then stands still."""
    used = [None]

    def still():
        before, used[0] = used[0], ticks(program)
        time.sleep(1)
        return before == used[0]

    wait_for("standing still", still)


class Hands(Display):
    """The display, and somebody who types and taps on it."""

    def hand(self, *words):
        """One run of xdotool; None when it found nothing."""
        done = subprocess.run(["xdotool", *map(str, words)], env={"DISPLAY": self.name, "PATH": "/usr/bin:/bin"},
                              capture_output=True, text=True, check=False)
        return done.stdout.strip() if done.returncode == 0 else None

    def tap(self, place):
        x, y = place
        self.hand("mousemove", x, y)
        self.hand("mousedown", 1)
        time.sleep(0.1)
        self.hand("mouseup", 1)


class Window(unittest.TestCase):
    def setUp(self):
        for tool in ("Xvfb", "xdotool"):
            self.assertTrue(shutil.which(tool), f"{tool} is not installed; tests/run.sh installs it")
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="ligule-window-"))
        self.addCleanup(shutil.rmtree, self.folder)
        # The real clock runs here: the rating is to be due on the day of the test.
        self.plan = shutil.copytree(TREE / "demo-plots/plans/SS26", self.folder / "SS26")
        occasions = self.plan / "occasions.csv"
        occasions.write_text(occasions.read_text().replace("2026-05-20", datetime.date.today().isoformat()))
        self.ledger = self.folder / "tablet.ledger"
        self.enrol(self.ledger)

    def enrol(self, ledger):
        self.desk("enrol", self.plan, "--ledger", ledger, "--device", "Window")

    def desk(self, *words):
        done = subprocess.run([DESK, *words], capture_output=True, text=True, check=False)
        self.assertEqual(done.returncode, 0, done.stderr)
        return done.stdout

    def places(self):
        """Where the headless program draws the rating's key on Today, the first stake, and the tile 85 on the card."""
        other = self.folder / "headless"
        other.mkdir()
        ledger = other / "tablet.ledger"
        self.enrol(ledger)
        drive = other / "look.drive"
        drive.write_text('type "AB\\n"\nlist today.json\ntap "SS26/2026-seedlings/Rate"\nlist stake.json\n'
                         'tap "Stake/101"\nlist rate.json\n')
        done = subprocess.run([LIGULE, "--ledger", ledger, "--headless", "--size", "{}x{}".format(*SIZE), "--ppi", "189",
                               "--drive", drive], cwd=other, capture_output=True, text=True, check=False)
        self.assertEqual(done.returncode, 0, done.stderr)
        return (self.middle(other / "today.json", "SS26/2026-seedlings/Rate"),
                self.middle(other / "stake.json", "Stake/101"), self.middle(other / "rate.json", "85"))

    def middle(self, listing, label):
        """The middle of the one widget whose label, with or without its group, ends so."""
        found = [w for w in json.loads(listing.read_text())
                 if (w["group"] + "/" + w["label"]).endswith("/" + label)]
        self.assertEqual(len(found), 1, f"{label} in {listing.name}")
        rect = found[0]["drawn"]
        return (rect["x"] + rect["width"] / 2, rect["y"] + rect["height"] / 2)

    def kept(self):
        """Values of the plots in the ledger, as a season file tells them."""
        out = self.folder / "sealed"
        shutil.rmtree(out, ignore_errors=True)
        self.desk("seal", "--ledger", self.ledger, "--out", out)
        archive = next(out.glob("season-*.zip"))
        shutil.unpack_archive(archive, out / "open")
        with next((out / "open").rglob("records.csv")).open(newline="", encoding="utf-8") as table:
            return [row["entered"] for row in csv.DictReader(table) if row["kind"] == "reading"]

    def test_a_value_tapped_in_the_window_is_kept(self):
        rate, stake, tile = self.places()
        with Hands(*SIZE) as display:
            program = subprocess.Popen(
                [LIGULE, "--ledger", self.ledger, "--size", "{}x{}".format(*SIZE), "--ppi", "189"],
                env={"DISPLAY": display.name, "PATH": "/usr/bin:/bin", "HOME": str(self.folder), "SDL_AUDIODRIVER": "dummy",
                     "SDL_VIDEODRIVER": "x11"},
                stderr=subprocess.PIPE, text=True)
            try:
                window = wait_for("the window", lambda: display.hand("search", "--onlyvisible", "--name", "Ligule"))
                display.hand("windowfocus", window.split()[0])
                rest(program)
                display.hand("type", "AB")
                display.hand("key", "Return")
                rest(program)
                display.tap(rate)
                rest(program)
                display.tap(stake)
                rest(program)
                display.tap(tile)
                rest(program)
                self.assertIsNone(program.poll(), "the program ended by itself")
                program.send_signal(signal.SIGTERM)
                errors = program.communicate(timeout=PATIENCE)[1]
            finally:
                program.kill()
                program.wait()
        self.assertEqual(program.returncode, 0, errors)
        self.assertEqual(self.kept(), ["85"])


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
