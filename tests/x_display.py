"""An X server of our own, for tests and benches that look at a real window."""

import pathlib
import subprocess


class Display:
    """Xvfb on a free number while the block lasts; `name` is what DISPLAY is to be."""

    def __init__(self, width, height):
        self.screen = f"{width}x{height}x24"

    def __enter__(self):
        self.server = subprocess.Popen(["Xvfb", "-displayfd", "1", "-screen", "0", self.screen, "-nolisten", "tcp"],
                                       stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
        self.name = ":" + self.server.stdout.readline().strip()
        return self

    def __exit__(self, *_):
        self.server.terminate()
        self.server.wait()
        self.server.stdout.close()


def ticks(process):
    """Processor time that a process has used, in the ticks of /proc (user, system)."""
    stat = pathlib.Path(f"/proc/{process.pid}/stat").read_text(encoding="ascii").rsplit(")", 1)[1].split()
    return int(stat[11]) + int(stat[12])
