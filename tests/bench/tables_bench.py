#!/usr/bin/env python3
"""Plot values into tables, by ligule-desk and by R's lm, each as a whole process on the same file.

usage: tables_bench.py LIGULE_DESK [TESTS]

The values are drawn from a seed: TESTS (200) tests of 40 entries, 4 blocks and 4 cuttings. R is timed twice: doing the
same (each cutting and the year's total of each test, the analysis over cuttings, the long-term summary), and with the
first of these alone, which shows how much of the ratio the rest makes. ligule-desk makes estimates that lm has no answer
for and the report besides. Both must come to the same figures. R is LIGULE_RSCRIPT, or Rscript on the PATH; where there is
none only ligule-desk is measured. Wished: at least 100 times as fast. Prints the fastest of several runs of each, and
what memory it held at most. What ligule-desk writes reaches the disk before it ends; what R writes need not. Each run
writes into a folder of its own, so that none waits until the disk has let go of what an earlier one wrote.
"""

import csv
import os
import pathlib
import random
import shutil
import subprocess
import sys
import tempfile
import time

ENTRIES, BLOCKS, CUTTINGS = 40, 4, 4
RUNS, RUNS_OF_R = 7, 2
WISHED = 100


def write_values(path, tests):
    draw = random.Random(20261127)
    entries = [f"E{n:02d}" for n in range(1, ENTRIES + 1)]
    worth = {entry: draw.gauss(0, 0.15) for entry in entries}
    with open(path, "w", encoding="utf-8") as out:
        out.write("test,site,year,cutting,rep,entry,value\n")
        for test in range(1, tests + 1):
            level = draw.gauss(1.5, 0.2)
            plots = {}
            for cutting in range(1, CUTTINGS + 1):
                for block in range(1, BLOCKS + 1):
                    shift = draw.gauss(0, 0.1)
                    for entry in entries:
                        plot = plots.setdefault((block, entry), draw.gauss(0, 0.1))
                        value = max(0.05, level + worth[entry] + shift + plot + draw.gauss(0, 0.12))
                        out.write(f"T{test:03d},Site {test % 7},{2000 + test % 20},{cutting},{block},{entry},{value:.3f}\n")


def measured(command):
    """Seconds, peak memory in MiB and seconds of processors of a whole process."""
    began = time.monotonic()
    with subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True) as process:
        said = process.stderr.read()
        _, status, usage = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode != 0:
        sys.exit(f"tables_bench.py: {command[0]} ended with {process.returncode}: {said.strip()[-500:]}")
    return time.monotonic() - began, usage.ru_maxrss / 1024, usage.ru_utime + usage.ru_stime


def several(name, command, out, times, *more):
    """The fastest of several runs into OUT-1, OUT-2 ..., printed with the rest of what there is to say of them."""
    runs = [measured([*command, f"{out}-{run}", *more]) for run in range(1, times + 1)]
    fastest, slowest = min(runs)[0], max(runs)[0]
    memory, processors = max(run[1] for run in runs), min(run[2] for run in runs)
    print(f"  {name:<12} {fastest:9.3f} s (fastest of {times}; slowest {slowest:.3f}), processors {processors:.3f} s, "
          f"{memory:.0f} MiB at most")
    return fastest


# What a row of each table is known by, and its figures that R's lm has an answer for.
TABLES = {
    "tests.csv": (("test", "year", "cutting"), ("entries", "reps", "n", "mean", "mse", "df_error", "f_entry", "p_entry",
                                                "cv_percent", "lsd_05")),
    "means.csv": (("test", "year", "cutting", "entry"), ("n", "mean", "se", "percent_of_mean", "in_top_group")),
    "over_cuttings.csv": (("test", "year", "over", "source"), ("df", "ss", "ms", "f", "p")),
    "long_term.csv": (("entry",), ("tests", "percent_of_mean", "corrected_percent", "corrected_percent_se",
                                   "corrected_mean", "corrected_se")),
}


def rows(path, known_by):
    with open(path, encoding="utf-8", newline="") as text:
        return {tuple(row[name] for name in known_by): row for row in csv.DictReader(text) if row.get("source") != "total"}


def largest_difference(table, ours, theirs):
    """Of the figures of a table of two folders, relative; both must tell of the same."""
    known_by, figures = TABLES[table]
    own, their = rows(ours / table, known_by), rows(theirs / table, known_by)
    if own.keys() != their.keys():
        sys.exit(f"tables_bench.py: {ours / table} and {theirs / table} do not tell of the same")
    largest = 0.0
    for key, row in own.items():
        for name in figures:
            if (row[name] == "") != (their[key][name] == ""):
                sys.exit(f"tables_bench.py: {table}: only one has the {name} of {', '.join(key)}")
            if row[name]:
                a, b = float(row[name]), float(their[key][name])
                largest = max(largest, abs(a - b) / max(abs(a), abs(b), 1e-300))
    return largest


def main():
    if not 2 <= len(sys.argv) <= 3:
        sys.exit(__doc__.split("\n\n")[1])
    desk = sys.argv[1]
    tests = int(sys.argv[2]) if len(sys.argv) == 3 else 200
    r = os.environ.get("LIGULE_RSCRIPT") or shutil.which("Rscript")
    with tempfile.TemporaryDirectory(prefix="ligule-tables-bench-") as name:
        folder = pathlib.Path(name)
        values = folder / "values.csv"
        write_values(values, tests)
        print(f"tables: {tests} tests x {ENTRIES} entries x {BLOCKS} blocks x {CUTTINGS} cuttings, "
              f"{values.stat().st_size / 1e6:.1f} MB")
        ours = several("ligule-desk", [desk, "tables", "--values", values, "--out"], folder / "ours", RUNS)
        if not r:
            print("  R is not here (Rscript on the PATH, or LIGULE_RSCRIPT): nothing to hold it against")
            return
        script = pathlib.Path(__file__).with_name("tables_in_r.R")
        tables_alone = several("R, tests", [r, script, values], folder / "tests", RUNS_OF_R)
        theirs = several("R's lm", [r, script, values], folder / "theirs", RUNS_OF_R, "all")
        for table in TABLES:
            difference = largest_difference(table, folder / "ours-1", folder / "theirs-1")
            print(f"  {table}: largest relative difference {difference:.1e}")
            if difference > 1e-7:
                sys.exit("tables_bench.py: R comes to other figures")
        ratio = theirs / ours
        print(f"  ratio {ratio:.0f} (wished: {WISHED}{'' if ratio >= WISHED else '; NOT REACHED'}); to R's tests alone, "
              f"without the analysis over cuttings and the long-term summary: {tables_alone / ours:.0f}")


if __name__ == "__main__":
    main()
