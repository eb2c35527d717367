#!/usr/bin/env python3
"""Traces every mean of means.csv back to the records it comes from, with code that shares nothing with ours.

usage: check_numbers.py --means means.csv --entered FOLDER SEASON.zip...

Reads the season files with Python's own ZIP and CSV readers, walks the digest chain, finds which value stands in each
slot (sync/seal/FORMAT.md), computes dry-matter yields and least-squares entry means anew, as exact fractions of the texts
that were entered, and compares: yields of plots (plots.csv) within PLOT_ULP, means within MEAN_ULP units in the last place
of a double. --entered is the folder of day/ and past/: every number there must stand in a record, letter for letter. Exits
1 at the first thing that does not hold.
"""

import argparse
import collections
import csv
import datetime
import hashlib
import io
import json
import math
import pathlib
import re
import sys
import uuid
import zipfile
from fractions import Fraction

POUND, FOOT = Fraction("0.45359237"), Fraction("0.3048")  # exact: international pound and foot
KG = {"kg": Fraction(1), "g": Fraction(1, 1000), "lb": POUND, "oz": POUND / 16}
METRES = {"m": Fraction(1), "cm": Fraction(1, 100), "ft": FOOT, "in": FOOT / 12}
TON_ACRE = 2000 * POUND / (43560 * FOOT**2)  # kg/m2 in one short ton an acre
TOLERANCE = 1e-9  # of compositions
# A yield is some ten roundings of half a unit in the last place each, grown a little by taking tares off; measured 5.1 of
# 898 plots, 4.8 of 314 means.
PLOT_ULP = 8
MEAN_ULP = 8


class Broken(Exception):
    """Something that does not hold; its text is what the person reads."""


def need(holds, what):
    if not holds:
        raise Broken(what)


def read_season(path):
    """Records of one season file, each a dict of its cells and its digest, after walking the chain."""
    with zipfile.ZipFile(path) as archive:
        name = archive.namelist()[0].split("/")[0]
        stream = next(csv.DictReader(io.StringIO(archive.read(f"{name}/data/stream.csv").decode(), newline="")))
        raw = archive.read(f"{name}/data/records.csv")
    lines = raw.decode().split("\r\n")
    need(lines[-1] == "", f"{path}: records.csv does not end with a line end")
    digest = bytes.fromhex(stream["digest_before"])
    records = []
    columns = lines[0].split(",")
    for seq, (line, cells) in enumerate(zip(lines[1:-1], csv.reader(lines[1:-1])), int(stream["first"])):
        digest = hashlib.sha256(digest + line.encode()).digest()
        record = dict(zip(columns, cells, strict=True))
        need(record["seq"] == str(seq) and record["stream"] == stream["stream"], f"{path}: record {seq} is out of place")
        record["digest"] = digest.hex()
        records.append(record)
    need(digest.hex() == stream["head"], f"{path}: the chain does not lead to the head")
    return records


def gather(paths):
    """All records of several files, each once."""
    held = {}
    for path in paths:
        for record in read_season(path):
            key = (record["stream"], int(record["seq"]))
            need(held.setdefault(key, record)["digest"] == record["digest"], f"{path}: {key} has two digests")
    return [held[k] for k in sorted(held)]


def standing_values(records):
    """Slot (subject, measure, occasion, part) -> the one record that stands in it."""
    replaced = {target for r in records for target in r["targets"].split()}
    slots = collections.defaultdict(list)
    for r in records:
        if r["kind"] in ("reading", "correction", "settlement") and r["id"] not in replaced and r["purpose"] == "survey":
            slots[(r["subject"], r["measure"], r["occasion"], int(r["part"]))].append(r)
    for slot, claims in slots.items():
        need(len({(c["state"], c["value"], c["entered"]) for c in claims}) == 1, f"slot {slot} is in conflict")
    return {slot: claims[0] for slot, claims in slots.items()}


def number(record, units):
    """A weight in kg, from the text as it was entered; None for what is no value."""
    if record is None or record["state"] != "value":
        return None
    need(float(record["entered"]) == float(record["value"]), f"record {record['seq']}: value is not what was entered")
    return Fraction(record["entered"]) * units[record["unit"]]


def ulps(text, exact):
    """How far a printed double is from an exact number, in units in the last place."""
    return abs(Fraction(float(text)) - exact) / Fraction(math.ulp(float(exact)))


RAW = re.compile(r"[SD] [GN] ([+-]) +([0-9]+(?:\.[0-9]+)?) (kg|lb)")


def weights_from_lines(records):
    """How many weights came from a scale; each must say what its raw line says, letter for letter."""
    count = 0
    for r in records:
        if r["source"] != "scale" or not r["raw"]:
            continue
        line = RAW.fullmatch(r["raw"])
        need(line, f"record {r['seq']}: the line {r['raw']!r} is none of the indicator's")
        weight = line.group(2) if line.group(1) == "+" else "-" + line.group(2)
        need(r["entered"] == weight and r["unit"] == line.group(3), f"record {r['seq']}: is not what its line says")
        count += r["measure"] == "gross_weight"
    return count


def stated(pair, units):
    return Fraction(pair[0]) * units[pair[1]]


class Trial:
    """A plan as its newest record tells it, with the ids that follow from its codes."""

    def __init__(self, record):
        self.plan = json.loads(record["details"])
        self.id = uuid.UUID(record["trial"])
        self.code = self.plan["trial"]
        self.entries = {e["code"]: e for e in self.plan["entries"] if e["role"] != "filler"}
        self.blocks = sorted({p["block"] for p in self.plan["plots"]})
        area = stated(self.plan["swath_length"], METRES) * stated(self.plan["swath_width"], METRES)
        self.area, self.bag_tare = area, stated(self.plan["bag_tare"], KG)

    def plot_id(self, plot):
        return str(uuid.uuid5(self.id, f"plot/{plot}"))

    def occasion_id(self, code):
        occasion = next(o for o in self.plan["occasions"] if o["code"] == code)
        if occasion["job"] == "rate":
            return str(uuid.uuid5(self.id, f"rating/{code}"))
        return str(uuid.uuid5(self.id, f"cutting/{occasion['year']}/{occasion['cutting']}"))

    def label(self, entry):
        """The name results print: variety and endophyte."""
        e = self.entries[entry]
        strain = f" {e['strain']}" if e["strain"] else ""
        tail = {"novel": f" (novel{strain})", "free": " (endophyte-free)", "toxic": f" (toxic{strain})"}
        return e["variety"] + tail.get(e["endophyte"], "")


def first_of(claim, by_id):
    """The reading a claim goes back to: a bag's values name it as their subject."""
    while claim["targets"]:
        claim = by_id[claim["targets"].split()[0]]
    return claim


def cut_on(record, by_id):
    """Day and crop surface of the harvest run that a weight belongs to."""
    run = by_id.get(record["run"])
    if run is None:
        return record["local_date"], ""
    return run["local_date"], json.loads(run["details"] or "{}").get("surface", "")


def fractions(trial, occasion, standing, by_id):
    """Plot number -> (entry, day, surface, dry-matter fraction of its own sample); None: the bag is gone."""
    found = {}
    for plot in trial.plan["plots"]:
        here = trial.plot_id(plot["number"])
        bag = standing.get((here, "bag_number", occasion, 1))
        if plot["entry"] not in trial.entries or bag is None or bag["state"] != "value":
            continue
        first = first_of(bag, by_id)["id"]
        dried = standing.get((first, "sample_dry", occasion, 1))
        fresh, dry = number(standing.get((first, "sample_fresh", occasion, 1)), KG), number(dried, KG)
        own = None if None in (fresh, dry) else (dry - trial.bag_tare) / (fresh - trial.bag_tare)
        if own is not None or (dried is not None and dried["state"] == "missing"):
            found[plot["number"]] = (plot["entry"], *cut_on(bag, by_id), own)
    return found


def fraction_of(plot, found):
    """Its own; where its bag is gone the mean of the same entry, day and surface, else of that day."""
    entry, day, surface, own = found[plot]
    if own is not None:
        return own
    same_day = [s for s in found.values() if s[1] == day and s[3] is not None]
    same = [s[3] for s in same_day if (s[0], s[2]) == (entry, surface)] or [s[3] for s in same_day]
    return sum(same) / len(same) if same else None


def plot_yields(trial, occasion, standing, by_id):
    """Plot number -> ton of dry matter an acre, for plots that have their weights and a dry-matter fraction."""
    yields = {}
    found = fractions(trial, occasion, standing, by_id)
    for plot in found:
        here = trial.plot_id(plot)
        gross = number(standing.get((here, "gross_weight", occasion, 1)), KG)
        tare = number(standing.get((here, "tare_weight", occasion, 1)), KG)
        fraction = fraction_of(plot, found)
        if None not in (gross, tare, fraction):
            yields[plot] = (gross - tare) * fraction / trial.area / TON_ACRE
    return yields


PARTS = ["sown", "other_sown", "grass_weed", "broadleaf", "dead"]


def dry_parts(trial, plot, occasion, standing, by_id):
    """Dry weights of the five parts of a plot's separated sample, kg; None: not all of them are known."""
    dry = []
    for part, _ in enumerate(PARTS, 1):
        bag = standing.get((trial.plot_id(plot), "part_bag", occasion, part))
        if bag is not None and bag["state"] == "zero":
            dry.append(0.0)
            continue
        weight = None if bag is None else number(
            standing.get((first_of(bag, by_id)["id"], "sample_dry", occasion, 1)), KG)
        if weight is None:
            return None
        dry.append(weight - trial.bag_tare)
    return dry


def compare_compositions(trials, standing, by_id, file):
    """Percents and sown-species yields of composition.csv from the records. Gives how many plots."""
    with open(file, encoding="utf-8", newline="") as text:
        rows = list(csv.DictReader(text))
    for row in rows:
        trial = trials[row["test"]]
        occasion = next(o["code"] for o in trial.plan["occasions"] if o["job"] == "harvest" and
                        (str(o["year"]), str(o["cutting"])) == (row["year"], row["cutting"]))
        occasion = trial.occasion_id(occasion)
        dry = dry_parts(trial, row["plot"], occasion, standing, by_id)
        need(dry is not None, f"composition.csv: plot {row['plot']} has no five parts")
        for name, weight in zip(PARTS, dry):
            percent = 100 * weight / sum(dry)
            need(abs(float(row[f"{name}_percent"]) - percent) <= 1e-9, f"composition.csv: plot {row['plot']} {name}")
        total = plot_yields(trial, occasion, standing, by_id)[row["plot"]]
        sown = total * (dry[0] + dry[1]) / sum(dry)
        need(abs(float(row["sown_yield"]) - sown) <= TOLERANCE * sown, f"composition.csv: plot {row['plot']} sown_yield")
        need(row["sown_yield_from"] == "separated sample", f"composition.csv: plot {row['plot']}: by what?")
    return len(rows)


def check_separated(file, trials, standing, by_id):
    """Every number of the separated samples stands in a record as it was typed. Gives how many."""
    count = 0
    with open(file, encoding="utf-8", newline="") as text:
        for row in csv.DictReader(text):
            trial = trials[row["trial"]]
            occasion, plot = trial.occasion_id(row["occasion"]), trial.plot_id(row["plot"])
            where = f"{file.name}: plot {row['plot']} {row['part']}"
            if row["part"] == "whole":
                found = [(standing.get((plot, "separated_fresh", occasion, 1)), row["fresh_g"])]
            else:
                bag = standing.get((plot, "part_bag", occasion, PARTS.index(row["part"]) + 1))
                need(bag is not None, f"{where} stands in no record")
                if not row["bag"]:
                    need(bag["state"] == "zero", f"{where}: something stands of it")
                    count += 1
                    continue
                first = first_of(bag, by_id)["id"]
                found = [(bag, row["bag"]), (standing.get((first, "sample_fresh", occasion, 1)), row["fresh_g"]),
                         (standing.get((first, "sample_dry", occasion, 1)), row["dry_g"])]
            for record, text_entered in found:
                need(record is not None and record["entered"] == text_entered, f"{where}: {text_entered} does not stand")
                count += 1
    return count


def solve(matrix, right):
    """Gauss with the largest pivot."""
    rows = [row[:] + [b] for row, b in zip(matrix, right)]
    size = len(rows)
    for k in range(size):
        best = max(range(k, size), key=lambda i: abs(rows[i][k]))
        rows[k], rows[best] = rows[best], rows[k]
        for i in range(k + 1, size):
            factor = rows[i][k] / rows[k][k]
            rows[i] = [a - factor * b for a, b in zip(rows[i], rows[k])]
    answer = [Fraction()] * size
    for k in reversed(range(size)):
        answer[k] = (rows[k][size] - sum(rows[k][j] * answer[j] for j in range(k + 1, size))) / rows[k][k]
    return answer


def entry_means(trial, values):
    """Least-squares means of entries in blocks: entry effects at the average of all blocks."""
    where = {p["number"]: p for p in trial.plan["plots"]}
    entries = sorted({where[p]["entry"] for p in values})
    others = trial.blocks[1:]  # the first block is where the others are measured from
    names = [("e", e) for e in entries] + [("b", b) for b in others]
    matrix = [[Fraction()] * len(names) for _ in names]
    right = [Fraction()] * len(names)
    for plot, value in values.items():
        terms = [names.index(("e", where[plot]["entry"]))]
        if where[plot]["block"] in others:
            terms.append(names.index(("b", where[plot]["block"])))
        for i in terms:
            right[i] += value
            for j in terms:
                matrix[i][j] += 1
    effects = solve(matrix, right)
    shift = sum(effects[len(entries):]) / len(trial.blocks)
    return {e: effects[i] + shift for i, e in enumerate(entries)}


def analyses(trial, standing, by_id):
    """(year, cutting) -> plot yields, with the sums that the tables call total and all."""
    found, years = {}, collections.defaultdict(list)
    for occasion in trial.plan["occasions"]:
        if occasion["job"] == "harvest":
            values = plot_yields(trial, trial.occasion_id(occasion["code"]), standing, by_id)
            if values:
                found[(str(occasion["year"]), str(occasion["cutting"]))] = values
                years[str(occasion["year"])].append(values)
    sums = {}
    for year, parts in years.items():
        whole = set.intersection(*(set(p) for p in parts))
        sums[year] = {plot: sum(p[plot] for p in parts) for plot in whole}
        if len(parts) > 1:
            found[(year, "total")] = sums[year]
    if len(sums) > 1:
        whole = set.intersection(*(set(s) for s in sums.values()))
        found[("all", "total")] = {plot: sum(s[plot] for s in sums.values()) for plot in whole}
    return found


def compare_plots(trials, standing, by_id, plots_file):
    """Number of plots whose yield is compared, and the largest difference in ulp."""
    with open(plots_file, encoding="utf-8", newline="") as file:
        rows = {(r["test"], r["year"], r["cutting"], r["plot"]): r for r in csv.DictReader(file) if r["yield"]}
    largest, expected = Fraction(), set()
    for trial in trials.values():
        for occasion in trial.plan["occasions"]:
            if occasion["job"] != "harvest":
                continue
            for plot, exact in plot_yields(trial, trial.occasion_id(occasion["code"]), standing, by_id).items():
                key = (trial.code, str(occasion["year"]), str(occasion["cutting"]), plot)
                need(key in rows and rows[key]["unit"] == "ton/acre", f"plots.csv has no yield in ton/acre for {key}")
                expected.add(key)
                off = ulps(rows[key]["yield"], exact)
                need(off <= PLOT_ULP, f"{key}: plots.csv says {rows[key]['yield']}, the records give {float(exact)!r}")
                largest = max(largest, off)
    strangers = sorted(set(rows) - expected)
    need(not strangers, f"plots.csv has yields that no record gives: {strangers[:3]}")
    return len(expected), largest


def compare(trials, standing, by_id, means_file):
    """Number of means compared, the largest difference in ulp, number of weights behind them."""
    with open(means_file, encoding="utf-8", newline="") as file:
        rows = {(r["test"], r["year"], r["cutting"], r["entry"]): r for r in csv.DictReader(file)}
    largest, plots = Fraction(), 0
    expected = set()
    for trial in trials.values():
        for (year, cutting), values in analyses(trial, standing, by_id).items():
            plots += 0 if cutting == "total" else len(values)
            for entry, mean in entry_means(trial, values).items():
                key = (trial.code, year, cutting, trial.label(entry))
                need(key in rows, f"means.csv has no row for {key}")
                expected.add(key)
                off = ulps(rows[key]["mean"], mean)
                need(off <= MEAN_ULP, f"{key}: means.csv says {rows[key]['mean']}, the records give {float(mean)!r}")
                largest = max(largest, off)
    strangers = sorted(set(rows) - expected)
    need(not strangers, f"means.csv has rows that no record gives: {strangers[:3]}")
    need(expected, "nothing to compare: no plot has all four weights")
    return len(expected), largest, plots


WEIGHTS = {"gross_kg": "gross_weight", "tare_kg": "tare_weight", "bag": "bag_number", "sample_fresh_g": "sample_fresh",
           "sample_dry_g": "sample_dry"}
# Readings of one act, each a part of its own.
SEVERAL = {"plant_height_stretched", "plant_height_canopy"}


def check_entered(folder, trials, standing, by_id):
    """Every number of the CSV files stands in a record as it was typed. Gives how many."""
    count = 0
    files = [folder / "day" / "ratings.csv", folder / "day" / "weights.csv", *sorted(folder.glob("past/*.csv"))]
    need(len(files) > 2, f"{folder}: nothing of the past there")
    for file in files:
        with open(file, encoding="utf-8", newline="") as text:
            for row in csv.DictReader(text):
                trial = trials[row["trial"]]
                occasion = trial.occasion_id(row["occasion"])
                plot = trial.plot_id(row["plot"])
                bag = standing.get((plot, "bag_number", occasion, 1))
                for column, cell in row.items():
                    if not cell or column in ("trial", "occasion", "surface", "plot", "at", "person", "dried_at"):
                        continue
                    measure = "gross_weight" if column == "missing" else WEIGHTS.get(column, column)
                    about = first_of(bag, by_id)["id"] if measure.startswith("sample") else plot
                    where = f"{file.name}: {row['trial']} {row['occasion']} plot {row['plot']} {column}"
                    texts = cell.split(" ") if measure in SEVERAL else [cell]
                    for part, text in enumerate(texts, 1):
                        record = standing.get((about, measure, occasion, part))
                        need(record is not None, f"{where} stands in no record")
                        gone = column == "missing" or record["state"] == "missing"
                        said = record["reason"] if gone else record["entered"]
                        need(said == text, f"{where}: {text} was to be entered, {said} stands")
                        count += 1
    return count


def check_frames(file, trials, standing):
    """Every cell of a frame that holds a plant stands in the details of its record. Gives how many cells."""
    count = 0
    with open(file, encoding="utf-8", newline="") as text:
        for row in csv.DictReader(text):
            trial = trials[row["trial"]]
            where = (trial.plot_id(row["plot"]), "frequency_grid", trial.occasion_id(row["occasion"]), 1)
            record = standing.get(where)
            need(record is not None, f"{file.name}: plot {row['plot']} stands in no record")
            counts = [placement.count("1") for placement in row["cells"].split(" ")]
            need(record["entered"] == " ".join(map(str, counts)), f"{file.name}: plot {row['plot']}: other counts stand")
            need(json.loads(record["details"])["cells"] == row["cells"], f"{file.name}: plot {row['plot']}: other cells")
            need(float(record["value"]) == sum(counts), f"{file.name}: plot {row['plot']}: value is no percent of 100 cells")
            count += len(counts) * 25
    return count


def check_stems(file, trials, standing):
    """Stems counted by stage stand in a record, and its value is their mean stage. Gives how many stems."""
    count = 0
    with open(file, encoding="utf-8", newline="") as text:
        for row in csv.DictReader(text):
            trial = trials[row["trial"]]
            record = standing.get((trial.plot_id(row["plot"]), "stage_counts", trial.occasion_id(row["occasion"]), 1))
            need(record is not None, f"{file.name}: plot {row['plot']} stands in no record")
            need(record["entered"] == row["counts"],
                 f"{file.name}: plot {row['plot']}: {row['counts']} were counted, {record['entered']} stands")
            stems = [(int(stage), int(number)) for stage, number in (part.split("=") for part in row["counts"].split(" "))]
            counted = sum(number for _, number in stems)
            mean = sum(stage * number for stage, number in stems) / counted
            need(abs(float(record["value"]) - mean) <= TOLERANCE, f"{file.name}: plot {row['plot']}: value is no mean stage")
            count += counted
    return count


def check_events(file, trials, records):
    """Every event stands in a record of its trial, with its day and what is known of it, letter for letter. Gives how many."""
    count = 0
    with open(file, encoding="utf-8", newline="") as text:
        for row in csv.DictReader(text):
            known = {key: row[key] for key in ("on", "material", "rate") if row[key]}
            found = [r for r in records if r["kind"] == "event" and r["trial"] == str(trials[row["trial"]].id)
                     and r["entered"] == row["what"] and r["reason"] == row["words"] and json.loads(r["details"]) == known]
            need(len(found) == 1, f"{file.name}: {row['trial']} {row['what']}: {len(found)} records say so")
            count += 1
    return count


def check_visits(file, trials, standing):
    """What each visit found stands in a record of its own day (part: 1 is 1 January of the year before)."""
    count = 0
    with open(file, encoding="utf-8", newline="") as text:
        for row in csv.DictReader(text):
            trial = trials[row["trial"]]
            day = datetime.date.fromisoformat(row["day"])
            part = (day - datetime.date(day.year - 1, 1, 1)).days + 1
            where = (trial.plot_id(row["plot"]), row["measure"], trial.occasion_id(row["occasion"]), part)
            said = standing.get(where, {}).get("entered")
            need(said == row["found"], f"{file.name}: plot {row['plot']} {row['day']}: {row['found']} was found, {said} stands")
            count += 1
    return count


def main():
    parser = argparse.ArgumentParser(description="trace every mean back to the records it comes from")
    parser.add_argument("--means", type=pathlib.Path, required=True)
    parser.add_argument("--entered", type=pathlib.Path, required=True)
    parser.add_argument("seasons", type=pathlib.Path, nargs="+")
    asked = parser.parse_args()
    try:
        records = gather(asked.seasons)
        by_id = {r["id"]: r for r in records}
        need(len(by_id) == len(records), "two records share an id")
        trials = {t.code: t for t in (Trial(r) for r in records if r["kind"] == "plan")}
        standing = standing_values(records)
        entered = check_entered(asked.entered, trials, standing, by_id)
        separated = check_separated(asked.entered / "day" / "separated.csv", trials, standing, by_id)
        sorted_plots = compare_compositions(trials, standing, by_id, asked.means.parent / "composition.csv")
        cells = check_frames(asked.entered / "day" / "frames.csv", trials, standing)
        stems = check_stems(asked.entered / "day" / "stems.csv", trials, standing)
        visits = check_visits(asked.entered / "day" / "visits.csv", trials, standing)
        events = check_events(asked.entered / "day" / "events.csv", trials, records)
        lines = weights_from_lines(records)
        need(lines, "no weight came from a scale")
        yields, farthest = compare_plots(trials, standing, by_id, asked.means.parent / "plots.csv")
        means, largest, plots = compare(trials, standing, by_id, asked.means)
    except (Broken, OSError, zipfile.BadZipFile, KeyError, ValueError) as fault:
        print(f"check_numbers.py: {fault}", file=sys.stderr)
        return 1
    print(f"{len(records)} records in {len(asked.seasons)} season files; every chain holds")
    print(f"{entered} values from day/ and past/ stand in records as they were entered")
    print(f"{separated} values of separated samples stand in records; compositions and sown yields of {sorted_plots} plots trace")
    print(f"{cells} cells of frames, {stems} stems, {visits} visits and {events} events stand in records as they were tapped")
    print(f"{lines} weights from the scale are what its raw lines say")
    print(f"{yields} yields of plots are, as exact fractions of the records, equal to {float(farthest):.1f} ulp (at most {PLOT_ULP})")
    print(f"{means} means trace to the weights of {plots} harvested plots, equal to {float(largest):.1f} ulp (at most {MEAN_ULP})")
    return 0


if __name__ == "__main__":
    sys.exit(main())
