#!/usr/bin/env python3
"""Runs bench programs and prints each figure beside its peer's, measured in the same run.

usage: report.py PROGRAM...

Repetitions of all benchmarks are taken in random order, so that a machine that slows down slows both sides. A line shows
the medians in milliseconds, their ratio, and the spread of the ratio over the repetitions (lowest to highest).
"""

import json
import statistics
import subprocess
import sys

REPETITIONS = 5
PEER = ":peer"
MOST_TO_BUILD = 2  # milliseconds of one core, up to the triangles


def measure(program):
    """All repetitions of one program, as the benchmark library reports them."""
    done = subprocess.run(
        [program, f"--benchmark_repetitions={REPETITIONS}", "--benchmark_enable_random_interleaving=true",
         "--benchmark_min_time=0.1", "--benchmark_format=json"],
        capture_output=True, text=True, check=False)
    if done.returncode != 0:
        sys.exit(f"{program} failed: {done.stderr.strip()}")
    runs = json.loads(done.stdout)["benchmarks"]
    for run in runs:
        if run.get("error_occurred"):
            sys.exit(f"{program}: {run['name']}: {run['error_message']}")
    return [run for run in runs if run["run_type"] == "iteration"]


def by_name(runs):
    """name -> its repetitions, names as registered."""
    table = {}
    for run in runs:
        name = run["run_name"].split("/manual_time")[0].split("/iterations")[0]
        table.setdefault(name, []).append(run)
    return table


def milliseconds(runs):
    unit = {"ns": 1e-6, "us": 1e-3, "ms": 1, "s": 1e3}
    return [run["real_time"] * unit[run["time_unit"]] for run in runs]


def line(name, runs, peers):
    """One line of the report: against a peer where there is one, else what the benchmark counted."""
    if not peers:
        counted = {key: [run[key] for run in runs if key in run] for key in ("frames",)}
        said = ", ".join(f"{statistics.median(found):g} {key} a second" for key, found in counted.items() if found)
        return f"{name:28} {said}"
    mine, theirs = milliseconds(runs), milliseconds(peers)
    ratios = [a / b for a, b in zip(mine, theirs)]
    asked = [statistics.median(run["allocations"] for run in side) for side in (runs, peers)]
    judged = ""
    if name.startswith("frame/build/"):
        judged = f", wished below {MOST_TO_BUILD}" + ("" if statistics.median(mine) < MOST_TO_BUILD else ": NOT REACHED")
    return (f"{name:28} {statistics.median(mine):8.3f} ms{judged}  peer {statistics.median(theirs):8.3f} ms  "
            f"ratio {statistics.median(ratios):5.2f} ({min(ratios):.2f} to {max(ratios):.2f})  "
            f"memory asked for {asked[0]:.0f} times a frame, peer {asked[1]:.0f}")


def main():
    if len(sys.argv) < 2:
        sys.exit(__doc__.strip())
    for program in sys.argv[1:]:
        table = by_name(measure(program))
        for name, runs in table.items():
            if not name.endswith(PEER):
                print(line(name, runs, table.get(name + PEER)), flush=True)


if __name__ == "__main__":
    main()
