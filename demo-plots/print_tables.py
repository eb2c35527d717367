#!/usr/bin/env python3
"""Prints tests.csv, means.csv and long_term.csv of a folder as tables to read.

usage: print_tables.py FOLDER
"""

import csv
import pathlib
import sys


def read(folder, name):
    with open(folder / name, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def shown(text, decimals):
    """A number rounded for reading; "-" where there is none."""
    return f"{float(text):.{decimals}f}" if text else "-"


def heading(test):
    """Column head of an analysis: "2025/1", "2025 sum", "all"."""
    if test["year"] == "all":
        return "all"
    return f"{test['year']} sum" if test["cutting"] == "total" else f"{test['year']}/{test['cutting']}"


def print_test(name, tests, means):
    """One test: a row an entry, a column an analysis, from the highest mean of the last one down."""
    print(f"\n{name}: ton of dry matter an acre, by year/cutting")
    columns = [(t["year"], t["cutting"]) for t in tests]
    cells = {(m["entry"], m["year"], m["cutting"]): m for m in means if m["test"] == name}
    entries = sorted({e for e, _, _ in cells},
                     key=lambda e: -float(cells.get((e, *columns[-1]), {}).get("mean") or 0))
    wide = max(map(len, entries + ["mean of plots"]))
    print(f"  {'':<{wide}}" + "".join(f"{heading(t):>10} " for t in tests) + "  % of mean")
    for entry in entries:
        row = [cells.get((entry, *c)) for c in columns]
        shown_row = [(shown(m["mean"], 2), "*" if m["in_top_group"] == "1" else " ") if m else ("-", " ") for m in row]
        share = shown(row[-1]["percent_of_mean"], 0) if row[-1] else "-"
        print(f"  {entry:<{wide}}" + "".join(f"{mean:>10}{mark}" for mean, mark in shown_row) + f"{share:>11}")
    for label, column, decimals in (("mean of plots", "mean", 2), ("LSD 5 %", "lsd_05", 2), ("CV %", "cv_percent", 1),
                                    ("p of entries", "p_entry", 4), ("plots", "n", 0)):
        numbers = [shown(t[column], decimals) for t in tests]
        numbers = ["<0.0001" if column == "p_entry" and n == "0.0000" else n for n in numbers]
        print(f"  {label:<{wide}}" + "".join(f"{n:>10} " for n in numbers))


def print_long_term(rows):
    print("\nOver all tests: average percent of the test's mean, and corrected for the company an entry kept")
    wide = max(len(r["entry"]) for r in rows)
    for r in sorted(rows, key=lambda r: -float(r["percent_of_mean"] or 0)):
        if r["percent_of_mean"]:
            corrected = f"  {shown(r['corrected_percent'], 1):>6} %" if r["corrected_percent"] else ""
            error = f" ± {shown(r['corrected_percent_se'], 1)}" if r["corrected_percent_se"] else ""
            print(f"  {r['entry']:<{wide}}  {shown(r['percent_of_mean'], 1):>6} %  in {r['tests']} tests{corrected}{error}")


def print_compositions(rows):
    """Plots whose sample was separated by hand: percent of dry matter, and both yields."""
    parts = [column[:-len("_dry_kg")] for column in rows[0] if column.endswith("_dry_kg")]
    print("\nSeparated samples: percent of dry matter, total and sown-species yield")
    print(f"  {'test':<6}{'cutting':<9}{'plot':<6}{'entry':<22}" + "".join(f"{p.replace('_', ' '):>12}" for p in parts)
          + f"{'total':>8}{'sown':>8}")
    for r in rows:
        print(f"  {r['test']:<6}{r['year'] + '/' + r['cutting']:<9}{r['plot']:<6}{r['entry']:<22}"
              + "".join(f"{shown(r[p + '_percent'], 1):>12}" for p in parts)
              + f"{shown(r['total_yield'], 2):>8}{shown(r['sown_yield'], 2):>8}")


def main():
    if len(sys.argv) != 2:
        print(__doc__, file=sys.stderr)
        return 2
    folder = pathlib.Path(sys.argv[1])
    try:
        tests, means, long_term = (read(folder, n) for n in ("tests.csv", "means.csv", "long_term.csv"))
    except OSError as fault:
        print(f"print_tables.py: {fault}", file=sys.stderr)
        return 1
    if not tests:
        print(f"print_tables.py: {folder}/tests.csv is empty", file=sys.stderr)
        return 1
    for name in dict.fromkeys(t["test"] for t in tests):
        print_test(name, [t for t in tests if t["test"] == name], means)
    if long_term:
        print_long_term(long_term)
    if (folder / "composition.csv").is_file():
        print_compositions(read(folder, "composition.csv"))
    print("\n* within one LSD of the highest mean")
    return 0


if __name__ == "__main__":
    sys.exit(main())
