#!/usr/bin/env python3
"""A scale's indicator without a scale: sends weights over a pseudo terminal, in the forms of assets/indicators.json.

usage: scale_simulator.py --link PATH [--form CODE] [--rate LINES] [--loads FILE.csv --trial CODE --crew FOLDER]

    --link PATH    where the touch program finds the port (a link to the pseudo terminal; taken away at the end). Start
                   the program with LIGULE_PORTS set to its folder, then choose the port on Tablet, Scale
    --form CODE    number, number_lb, number_unit, number_unit_comma, flags_first (as started), flag_last, asked
    --rate LINES   lines a second (10)

By hand, a line at a time:

    12.4           a load of 12.4 is put on: it swings, then stands
    (empty line)   the load is taken off
    shake          the machine shakes: the load never stands; once more: it stands again
    over, under    the indicator says overload or underload until the next load
    noise          sends bytes that are no line
    left 0.06      so much stays in the bin when the load is taken off; left -0.3: the zero has wandered
    unplug, plug   the adapter is pulled out and put in again
    end

--crew FOLDER plays a harvest crew for a scripted day: whenever a file PLOT.json appears there (a drive writes one with
`list`), the last load comes off and the load of that plot goes on, as the columns trial, plot and gross_kg of --loads
say; check.json puts a check weight of 20 kg on.
"""

import argparse
import csv
import os
import pathlib
import select
import sys
import termios
import time
import tty

SWING = (0.62, 1.21, 0.93, 1.04)  # shares of the load while it swings
SHAKE = (1.011, 0.987, 1.004, 0.995, 1.016, 0.991)
SETTLED_LINES = 2
CHECK_KG = 20.0


class Form:
    """How a weight is written. kg with two decimals, lb with one."""

    def __init__(self, code):
        self.code = code
        self.unit = "lb" if code == "number_lb" else "kg"
        self.digits = 1 if self.unit == "lb" else 2
        self.asked = code == "asked"

    def line(self, weight, stable):
        text = f"{abs(weight):.{self.digits}f}"
        sign = "-" if weight < 0 and float(text) else ""
        if self.code in ("number", "number_lb"):
            return sign + text
        if self.code == "number_unit_comma":
            return f"{sign}{text.replace('.', ',')} {self.unit}"
        if self.code == "flags_first":
            return f"{'S' if stable else 'D'} G {sign or '+'} {text:>8} {self.unit}"
        if self.code == "flag_last":
            return f"{sign}{text:>8} {self.unit}{'' if stable else ' M'}"
        return f"{sign}{text} {self.unit}"


class Scale:
    """What hangs on it, line by line."""

    def __init__(self, form):
        self.form = form
        self.load, self.left, self.shaking, self.said = 0.0, 0.0, False, None
        self.swing = []  # weights still to be sent before it stands
        self.count = 0

    def put_on(self, load):
        self.said = None
        self.swing = [load * share for share in SWING]
        self.load = load

    def take_off(self):
        self.said = None
        self.swing = [self.load * 0.4]
        self.load = self.left

    def line(self):
        self.count += 1
        if self.said:
            return self.said
        if self.swing:
            return self.form.line(self.swing.pop(0), False)
        if self.shaking and self.load > self.left:
            return self.form.line(self.load * SHAKE[self.count % len(SHAKE)], False)
        return self.form.line(self.load, True)


class Port:
    """The pseudo terminal behind the link."""

    def __init__(self, link):
        self.link = pathlib.Path(link)
        self.end = self.device = None
        self.plug()

    def plug(self):
        if self.end is not None:
            return
        self.end, self.device = os.openpty()
        tty.setraw(self.device, termios.TCSANOW)
        os.set_blocking(self.end, False)
        self.link.parent.mkdir(parents=True, exist_ok=True)
        self.link.unlink(missing_ok=True)
        self.link.symlink_to(os.ttyname(self.device))

    def unplug(self):
        if self.end is None:
            return
        self.link.unlink(missing_ok=True)
        os.close(self.device)
        os.close(self.end)
        self.end = self.device = None

    def send(self, data):
        if self.end is None:
            return
        try:
            os.write(self.end, data)
        except BlockingIOError:
            pass  # nobody reads: what does not fit is lost, as on a wire

    def asked(self):
        """Whether somebody sent something since the last call."""
        if self.end is None:
            return False
        try:
            return bool(os.read(self.end, 64))
        except BlockingIOError:
            return False


class Crew:
    """Puts on the load of the plot that the newest file of the folder is named after."""

    def __init__(self, folder, loads, trial):
        self.folder = pathlib.Path(folder)
        with open(loads, encoding="utf-8", newline="") as file:
            self.loads = {row["plot"]: float(row["gross_kg"]) for row in csv.DictReader(file)
                          if row["trial"] == trial and row["gross_kg"]}
        self.loads["check"] = CHECK_KG
        self.seen = {}

    def look(self, scale):
        for file in self.folder.glob("*.json"):
            written = file.stat().st_mtime_ns
            if self.seen.get(file.stem) == written:
                continue
            self.seen[file.stem] = written
            if file.stem not in self.loads:
                scale.take_off()
                continue
            # The bin is emptied before the next plot is cut into it.
            scale.put_on(self.loads[file.stem])
            scale.swing[:0] = [scale.left] * SETTLED_LINES


def obey(word, scale, port):
    """One line by hand; false: the end."""
    if word == "end":
        return False
    if word == "":
        scale.take_off()
    elif word == "shake":
        scale.shaking = not scale.shaking
    elif word in ("over", "under"):
        scale.said = "OL" if word == "over" else "UL"
    elif word == "noise":
        port.send(bytes([0x80, 0x01, 0xFE]) + b"7.\xc3\r")
    elif word == "unplug":
        port.unplug()
    elif word == "plug":
        port.plug()
    else:
        try:
            if word.startswith("left "):
                scale.left = float(word[5:])
                scale.take_off()
            else:
                scale.put_on(float(word))
        except ValueError:
            print(f"scale_simulator.py: '{word}' is no weight and no word of it (--help lists them)", file=sys.stderr)
    return True


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--link", required=True)
    parser.add_argument("--form", default="flags_first",
                        choices=["number", "number_lb", "number_unit", "number_unit_comma", "flags_first", "flag_last",
                                 "asked"])
    parser.add_argument("--rate", type=float, default=10)
    parser.add_argument("--loads")
    parser.add_argument("--trial", default="")
    parser.add_argument("--crew")
    options = parser.parse_args()
    if bool(options.loads) != bool(options.crew):
        parser.error("--loads and --crew go together")
    scale, port = Scale(Form(options.form)), Port(options.link)
    crew = Crew(options.crew, options.loads, options.trial) if options.crew else None
    by_hand = crew is None
    print(f"the scale answers at {options.link}", flush=True)
    due = time.monotonic()
    try:
        while True:
            if crew:
                crew.look(scale)
            now = time.monotonic()
            if scale.form.asked:
                if port.asked():
                    port.send((scale.line() + "\r\n").encode())
            elif now >= due:
                port.send((scale.line() + "\r\n").encode())
                due = now + 1 / options.rate
            wait = 0.005 if crew or scale.form.asked else max(0.0, due - time.monotonic())
            if not by_hand:
                time.sleep(wait)
            elif select.select([sys.stdin], [], [], wait)[0]:
                typed = sys.stdin.readline()
                if not typed or not obey(typed.strip(), scale, port):
                    break
    except KeyboardInterrupt:
        pass
    finally:
        port.unplug()


if __name__ == "__main__":
    main()
