#!/usr/bin/env python3
"""What a ledger's size costs: taps, plot cards, start, standing still, sealing, verifying, gathering, making anew.

usage: speed_bench.py BUILD FOLDER [RECORDS ...]

BUILD holds the programs, FOLDER is on the disk to be measured; RECORDS are 10000 and 1000000 unless given. Every figure
stands beside a peer that was measured in the same run, taking turns with it: the median, the lowest and highest of the
rounds, and the ratio with its spread. The peers: a bare insert into a table of as many rows with the same settings (a value
durably kept), the smallest ledger of the run (a rating, a plot card, a history opened), a bare window of SDL and the
drawing library (start), and `zip -0` plus `sha512sum` on the members of the season file (sealing, verifying, gathering,
making a ledger anew; a ledger of more records than a season file can hold is only checked). Start and standing still are measured on an X server; where there is no Xvfb they are left out.
"""

import os
import pathlib
import shutil
import statistics
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1]))
from x_display import Display, ticks  # noqa: E402

ROUNDS = 5
ROUNDS_OF_WHOLE = 3  # of what takes tens of seconds
MOST_SEALED = 1_000_000  # records: their season file is below the 512 MiB that one may have
STILL_SECONDS = 60
MOST_TO_BUILD = 2  # milliseconds
SIZE = (1280, 800)
GOALS = {"kept": 1.25, "plot card": 1.5, "rating opened": 1.5, "plot's history": 1.5, "first frame": 1.5, "seal": 2.0,
         "verify": 2.0, "gather": 2.0, "rebuild": 2.0}


def fail(what):
    sys.exit(f"speed_bench.py: {what}")


def said(name, own, peer, peer_name, more=""):
    """One line: medians, spreads, ratio of the rounds."""
    ratios = [a / b for a, b in zip(own, peer)]
    ratio, goal = statistics.median(ratios), GOALS.get(name)
    judged = "" if goal is None else f", wished {goal:g}" + ("" if ratio <= goal else ": NOT REACHED")
    print(f"  {name:<15} {statistics.median(own):10.3f} ms ({min(own):.3f} to {max(own):.3f})  {peer_name} "
          f"{statistics.median(peer):.3f} ms  ratio {ratio:.2f} ({min(ratios):.2f} to {max(ratios):.2f}){judged}{more}", flush=True)


def run(command, **more):
    """Milliseconds, peak MiB of a whole process and of what it started."""
    began = time.monotonic()
    with subprocess.Popen([str(word) for word in command], stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True,
                          **more) as process:
        errors = process.stderr.read()
        _, status, usage = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode != 0:
        fail(f"{command[0]} ended with {process.returncode}: {errors.strip()[-500:]}")
    return (time.monotonic() - began) * 1000, usage.ru_maxrss / 1024


class OnDisplay:
    """A program on the display, and when its frames were handed to the glass."""

    def __init__(self, build, display, command):
        self.times = pathlib.Path(tempfile.mkstemp(prefix="ligule-frames-")[1])
        there = dict(os.environ, DISPLAY=display.name, LD_PRELOAD=str(build / "tests/bench/libframe_times.so"),
                     LIGULE_FRAME_TIMES=str(self.times), SDL_AUDIODRIVER="dummy")
        self.began = time.monotonic_ns()
        self.process = subprocess.Popen([str(word) for word in command], env=there, stdout=subprocess.DEVNULL,
                                        stderr=subprocess.PIPE, text=True)

    def frames(self):
        return [(int(line) - self.began) / 1e6 for line in self.times.read_text(encoding="ascii").split()]

    def ticks(self):
        return ticks(self.process)

    def first_frame(self):
        while not self.times.stat().st_size:
            if self.process.poll() is not None:
                fail(f"a program ended before its first frame: {self.process.stderr.read().strip()[-500:]}")
            time.sleep(0.002)
        return self.frames()[0]

    def rest(self):
        """Waits until no frame came and no processor was used for half a second."""
        before, now = None, (len(self.frames()), self.ticks())
        while before != now:
            time.sleep(0.5)
            before, now = now, (len(self.frames()), self.ticks())

    def end(self):
        self.process.kill()
        self.process.wait()
        self.times.unlink()


def figures(build, ledger):
    """name -> medians of the rounds, milliseconds; and 99 of 100 under."""
    done = subprocess.run([build / "records_bench", "measure", ledger], capture_output=True, text=True, check=False)
    if done.returncode != 0:
        fail(f"records_bench: {done.stderr.strip()}")
    table = {}
    for line in done.stdout.splitlines():
        name, _, *numbers = line.split("\t")
        table[name] = ([float(number) for number in numbers[:-1]], float(numbers[-1]))
    return table


def built(name, figure):
    """A frame of the real program up to its triangles, which no peer has."""
    rounds, most = figure
    took = statistics.median(rounds)
    print(f"  {name:<15} {took:10.3f} ms ({min(rounds):.3f} to {max(rounds):.3f}), wished below {MOST_TO_BUILD:g}"
          f"{'' if took < MOST_TO_BUILD else ': NOT REACHED'}; 99 of 100 under {most:.3f} ms", flush=True)


def start(build, ledger):
    ligule = [build / "ligule", "--ledger", ledger, "--size", f"{SIZE[0]}x{SIZE[1]}"]
    with Display(*SIZE) as display:
        own, whole, peer = [], [], []
        for _ in range(ROUNDS):
            tablet = OnDisplay(build, display, ligule)
            own.append(tablet.first_frame())
            tablet.rest()
            whole.append(tablet.frames()[-1])
            tablet.end()
            bare = OnDisplay(build, display, [build / "bare_window", *SIZE])
            peer.append(bare.first_frame())
            bare.end()
        said("first frame", own, peer, "bare window")
        said("ledger shown", whole, peer, "bare window")
        tablet = OnDisplay(build, display, ligule)
        tablet.first_frame()
        tablet.rest()
        frames, used_before = len(tablet.frames()), tablet.ticks()
        time.sleep(STILL_SECONDS)
        used = (tablet.ticks() - used_before) / os.sysconf("SC_CLK_TCK") / STILL_SECONDS * 100
        print(f"  standing still  {len(tablet.frames()) - frames} frames in {STILL_SECONDS} s (the clock on the screen shows minutes), "
              f"processor {used:.3f} % (wished below 0.1)", flush=True)
        tablet.end()


def checked(build, ledger):
    """Looking at all of a ledger that is too large to be sealed."""
    took, held = run([build / "ligule-desk", "ledger-check", "--ledger", ledger])
    print(f"  ledger {ledger.stat().st_size / 1e6:.1f} MB: more than a season file holds, not sealed; ledger-check {took / 1000:.0f} s, "
          f"{held:.0f} MiB at most", flush=True)


def whole(build, ledger, folder):
    """Sealing and what follows, each beside zip and sha512sum on the members of the file."""
    desk = build / "ligule-desk"
    names = ("zip and sha512sum", "seal", "verify", "gather", "rebuild", "ledger-check")
    times, memory = {name: [] for name in names}, {name: 0.0 for name in names}
    for turn in range(ROUNDS_OF_WHOLE):
        place = folder / f"turn-{turn}"
        place.mkdir()

        def timed(name, command, **more):
            took, held = run(command, **more)
            times[name].append(took)
            memory[name] = max(memory[name], held)

        timed("seal", [desk, "seal", "--ledger", ledger, "--out", place])
        season = next(place.glob("*.zip"))
        subprocess.run(["unzip", "-q", season, "-d", place / "members"], check=True)
        timed("zip and sha512sum",
              ["sh", "-c", "zip -0 -q -r ../members.zip . && find . -type f -exec sha512sum {} + >../members.sha512"],
              cwd=place / "members")
        timed("verify", [desk, "verify", season])
        run([desk, "trust", f"{ledger}.pub", "--ledger", place / "desk.ledger", "--label", "tablet"])
        timed("gather", [desk, "gather", "--ledger", place / "desk.ledger", season])
        timed("rebuild", [desk, "rebuild", "--ledger", place / "anew.ledger", "--key", f"{ledger}.pub", season])
        timed("ledger-check", [desk, "ledger-check", "--ledger", ledger])
        if turn == 0:
            print(f"  season file {season.stat().st_size / 1e6:.1f} MB, ledger {ledger.stat().st_size / 1e6:.1f} MB")
        shutil.rmtree(place)
    for name in names[1:]:
        said(name, times[name], times["zip and sha512sum"], "zip and sha512sum", f"; {memory[name]:.0f} MiB at most")


def main():
    if len(sys.argv) < 3:
        sys.exit(__doc__.split("\n\n")[1])
    build, place = pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2]).resolve()
    sizes = sorted(int(word) for word in sys.argv[3:]) or [10_000, 1_000_000]
    with tempfile.TemporaryDirectory(prefix="ligule-speed-bench-", dir=place) as name:
        folder = pathlib.Path(name)
        smallest = None
        for records in sizes:
            ledger = folder / f"{records}.ledger"
            took, held = run([build / "records_bench", "make", ledger, records])
            print(f"a ledger of {records} records (made in {took / 1000:.0f} s, {held:.0f} MiB at most)", flush=True)
            table = figures(build, ledger)
            said("kept", table["kept"][0], table["bare insert"][0], "bare insert",
                 f"; 99 of 100 under {table['kept'][1]:.3f} ms, of inserts {table['bare insert'][1]:.3f}")
            smallest = smallest or (records, table)
            for figure in ("rating opened", "plot card", "plot's history"):
                said(figure, table[figure][0], smallest[1][figure][0], f"with {smallest[0]} records")
            for figure in ("card built", "map built"):
                built(figure, table[figure])
            if shutil.which("Xvfb"):
                start(build, ledger)
            else:
                print("  no Xvfb here: start and standing still are not measured")
            if records <= MOST_SEALED:
                whole(build, ledger, folder)
            else:
                checked(build, ledger)
            ledger.unlink()


if __name__ == "__main__":
    main()
