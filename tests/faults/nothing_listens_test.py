#!/usr/bin/env python3
"""Nothing listens on the network: neither program can (it asks the system for no such call), and none does while it runs.

usage: nothing_listens_test.py LIGULE LIGULE_DESK TREE
Of libraries that could (the archive's, the window's) it is seen at run time only: the sockets that the running programs hold
are looked up in /proc/net. The touch program runs without a display and, where there is Xvfb, in a window.
"""

import os
import pathlib
import shutil
import socket
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1]))
from x_display import Display  # noqa: E402

SKIPPED = 77
CALLS = {"listen", "accept", "accept4", "bind", "socket", "connect", "getaddrinfo"}


def asked_of_the_system(program):
    """Calls of the network that the program itself names."""
    listed = subprocess.run(["nm", "-D", "--undefined-only", program], check=True, capture_output=True, text=True).stdout
    return sorted({line.split()[-1].split("@")[0] for line in listed.splitlines()} & CALLS)


def sockets_of(process):
    """Inodes of the sockets that a process holds."""
    folder = pathlib.Path(f"/proc/{process}/fd")
    found = set()
    try:
        for each in folder.iterdir():
            try:
                to = os.readlink(each)
            except OSError:
                continue
            if to.startswith("socket:["):
                found.add(to[8:-1])
    except OSError:  # it has ended
        pass
    return found


def open_to_others(inodes):
    """Those of them that are on a network, or wait for somebody to connect on this machine."""
    found = []
    for table in ("tcp", "tcp6", "udp", "udp6", "raw", "raw6"):
        path = pathlib.Path("/proc/net") / table
        if path.exists():
            found += [f"{table} {line.split()[1]}" for line in path.read_text().splitlines()[1:] if line.split()[9] in inodes]
    for line in pathlib.Path("/proc/net/unix").read_text().splitlines()[1:]:
        cells = line.split()
        if cells[6] in inodes and int(cells[3], 16) & 0x10000:  # __SO_ACCEPTCON
            found.append("unix " + " ".join(cells[7:]))
    return found


class Watch:
    """What was seen of running programs."""

    def __init__(self):
        self.looks = 0
        self.open = set()

    def run(self, command, **more):
        """Runs it and looks at its sockets all the while; how many it held at most."""
        running = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, **more)
        most = 0
        while running.poll() is None:
            sockets = sockets_of(running.pid)
            self.open |= set(open_to_others(sockets))
            self.looks += 1
            most = max(most, len(sockets))
            time.sleep(0.005)
        if running.returncode != 0:
            sys.exit(f"{command}: exit {running.returncode}: {running.stderr.read()}")
        return most


def in_a_window(watch, command):
    """The same on an X server of its own; whether there is one."""
    if shutil.which("Xvfb") is None:
        return False
    with Display(1280, 800) as display:
        held = watch.run(command, env={**os.environ, "DISPLAY": display.name, "SDL_VIDEODRIVER": "x11"})
    if held == 0:
        sys.exit("a window without a socket to its display: nothing was looked at")
    return True


def main():
    ligule, desk, tree = sys.argv[1:]
    if shutil.which("nm") is None:
        print("SKIPPED: nm is not here")
        return SKIPPED
    # Whoever does listen is caught.
    with socket.socket() as listening:
        listening.bind(("127.0.0.1", 0))
        listening.listen()
        if not open_to_others(sockets_of(os.getpid())):
            sys.exit("a socket that listens is not seen: this test could not fail")
    for program in (ligule, desk):
        if calls := asked_of_the_system(program):
            sys.exit(f"{program} asks for {', '.join(calls)}")
    with tempfile.TemporaryDirectory() as folder:
        here = pathlib.Path(folder)
        plan = str(pathlib.Path(tree) / "demo-plots/plans/SS26")
        ledger = str(here / "north.ledger")
        watch = Watch()
        watch.run([desk, "enrol", "--ledger", ledger, plan, "--device", "North", "--demo", "--today", "2026-05-04"])
        drive = here / "day.drive"
        drive.write_text('type "AB\\n"\n' + 'tap "Trials"\ntap "Back"\n' * 60)
        touch = [ligule, "--ledger", ledger, "--today", "2026-05-04", "--drive", str(drive)]
        watch.run([*touch, "--headless"])
        drive.write_text('type "AB\\n"\n' + 'tap "Trials"\ntap "Back"\n' * 15)
        window = in_a_window(watch, touch)
        watch.run([desk, "seal", "--ledger", ledger, "--out", str(here / "out")])
        files = [str(each) for each in (here / "out").iterdir()]
        watch.run([desk, "trust", "--ledger", str(here / "desk.ledger"), ledger + ".pub"])
        watch.run([desk, "gather", "--ledger", str(here / "desk.ledger"), *files])
    if watch.open:
        sys.exit(f"open to others: {', '.join(sorted(watch.open))}")
    if watch.looks < 20:
        sys.exit(f"looked {watch.looks} times only")
    print(f"looked {watch.looks} times at the sockets of running programs, {'a window' if window else 'no window (no Xvfb)'} among "
          "them: none was open to others")
    return 0


if __name__ == "__main__":
    sys.exit(main())
