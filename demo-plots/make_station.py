#!/usr/bin/env python3
"""Writes the demonstration's plans and every value its crews enter, from station.py and one seed.

usage: make_station.py [--out FOLDER] [--check]

    plans/TRIAL/{trial,entries,plots,occasions}.csv   the plans, as a trial lead keeps them, schemas beside them;
                                                      with soil.csv where the soil was tested
    past/TRIAL-weights.csv, past/TRIAL-ratings.csv    what was recorded before the scripted day
    day/{weights,ratings,frames,stems,visits,events}.csv   what the crew enters on the scripted days

Same seed, same bytes, on any Python 3. --check writes nothing and exits 1 when a file on disk differs.

How a plot's yield comes about: the cutting's mean x the entry's level (drifting over the years) x (1 + entry by cutting
3 % + block 4 % + plot 6 % that stays + error 9 %) x how far its stand fell short of 80 %. The error of one cutting, plot
and error together, is about 11 %: the coefficients of variation such trials have (common practice, no source).
"""

import argparse
import csv
import datetime
import io
import math
import pathlib
import random
import sys

import station

HERE = pathlib.Path(__file__).resolve().parent
KG_PER_TON = 907.18474
SQ_FT_PER_ACRE = 43560.0


# Kept one by one, or one a visit: each has a table of its own.
APART = ("frequency_grid", "stage_counts", "heading_date", "first_flower_date")
# Stages of grasses from the first node to the stem below the head (assets/scales).
GRASS_STAGES = ("E-early", "E-late", "R0", "R1", "R2", "R3")


class Dice:
    """Numbers from one seed by Python's random(), the only part of its generator that is promised to stay the same."""

    def __init__(self, name):
        self.random = random.Random(f"{station.SEED} {name}").random

    def normal(self, spread):
        """One draw with mean 0, Box-Muller; never farther out than 2.8 spreads, so that no weight is absurd."""
        while True:
            draw = math.sqrt(-2.0 * math.log(1.0 - self.random())) * math.cos(2.0 * math.pi * self.random())
            if abs(draw) <= 2.8:
                return spread * draw

    def between(self, low, high):
        return low + (high - low) * self.random()

    def shuffled(self, items):
        """Fisher and Yates."""
        items = list(items)
        for last in range(len(items) - 1, 0, -1):
            other = int(self.random() * (last + 1))
            items[last], items[other] = items[other], items[last]
        return items


def plots_of(trial):
    """One row of plots a block, numbered from the left; the plot path runs there and back."""
    dice = Dice(f"{trial['code']} plots")
    wide = len(trial["entries"])
    plots = []
    for block in range(1, station.BLOCKS + 1):
        for column, entry in enumerate(dice.shuffled(e[0] for e in trial["entries"]), 1):
            step = column if block % 2 else wide + 1 - column
            plots.append({"number": f"{block}{column:02}", "block": block, "entry": entry, "row": block,
                          "column": column, "path": (block - 1) * wide + step})
    return plots


def plan_tables(trial):
    """The tables of a plan folder."""
    length, width = trial["plot"]
    swath_length, swath_width = trial["swath"]
    head = {"station": station.STATION, "site": trial["site"], "trial": trial["code"], "title": trial["title"],
            "site_name": station.SITES[trial["site"]], "zone": station.ZONE, "field": trial["field"],
            "sown": trial["sown"], "design": "rcb", "drilled": "true" if trial["drilled"] else "false",
            "plot_length": length, "plot_length_unit": "ft", "plot_width": width, "plot_width_unit": "ft",
            "swath_length": swath_length, "swath_length_unit": "ft", "swath_width": swath_width,
            "swath_width_unit": "ft", "bag_tare": trial["bag_tare"], "bag_tare_unit": "g",
            "bag_tare_weighed": "oven_dry", "parent": "", "reason": ""}
    entries = [{"code": code, "species": trial["species"], "variety": variety, "endophyte": endophyte,
                "strain": strain, "role": role, "seed_lot": lot}
               for code, variety, endophyte, strain, role, lot, *_ in trial["entries"]]
    for entry in entries:
        if entry["endophyte"] == "novel":
            entry["seed_harvested"] = trial["seed_harvested"]
    occasions = [{"code": code, "job": "rate", "year": year, "cutting": "", "measures": measures, "due": due}
                 for code, year, due, measures in trial["ratings"]]
    occasions += [{"code": f"{year}-cut-{cutting}", "job": "harvest", "year": year, "cutting": cutting,
                   "measures": station.HARVEST + (
                       station.SEPARATED if (trial["code"], year, cutting) in station.SEPARATED_CUTTINGS else ""),
                   "due": due}
                  for year, cutting, due, *_ in trial["cuttings"]]
    tables = {"trial": [head], "entries": entries, "plots": plots_of(trial),
              "occasions": sorted(occasions, key=lambda o: (o["due"], o["job"]))}
    if "scores" in trial:
        tables["scores"] = trial["scores"]
    if trial["code"] in station.SOIL_TESTS:
        sampled, amounts = station.SOIL_TESTS[trial["code"]]
        tables["soil"] = [{"property": code, "value": value, "unit": unit, "extractant": extractant, "depth": "6",
                           "depth_unit": "in", "lab": station.SOIL_LABORATORY, "sampled": sampled}
                          for code, value, unit, extractant in amounts]
    return tables


def stand_of(trial, entry, year, dice):
    """Percent stand of a plot in a year: what the entry starts with, less each year, as much as its yield drifts."""
    age = year - int(trial["sown"][:4])
    start, drift = entry[8], entry[7]
    return max(5.0, min(100.0, start + age * (100.0 * drift - 1.0) + dice.normal(4.0)))


def weigh(trial, cutting, plot, entry, dice, effects):
    """What a crew reads off the scales at one plot of one cutting."""
    year, number, _, mean, dry_matter, surface = cutting
    level = entry[6] + entry[7] * (year - int(trial["sown"][:4]))
    by_cutting = effects.setdefault((entry[0], year, number), dice.normal(0.03))
    by_block = effects.setdefault((plot["block"], year, number), dice.normal(0.04))
    by_plot = effects.setdefault(plot["number"], dice.normal(0.06))
    thin = min(1.0, effects[("stand", plot["number"], year)] / 80.0)
    tons = mean * level * (1.0 + by_cutting + by_block + by_plot + dice.normal(0.09)) * thin
    fraction = (dry_matter + dice.normal(0.9) + (-1.0 if surface == "dew" else 0.0)) / 100.0
    area = float(trial["swath"][0]) * float(trial["swath"][1])
    fresh = tons * KG_PER_TON * area / SQ_FT_PER_ACRE / fraction
    gross = 0.05 * round((fresh + float(trial["tare"])) / 0.05)  # what the indicator shows
    bag = float(trial["bag_tare"])
    sample = dice.between(330.0, 520.0)
    return {"gross_kg": f"{gross:.2f}", "tare_kg": trial["tare"], "sample_fresh_g": f"{sample + bag:.0f}",
            "sample_dry_g": f"{(round(sample + bag) - bag) * fraction + bag:.1f}"}


def rate(trial, occasion, plot, entry, dice, effects):
    """What a person taps at one plot of one rating."""
    code, year, day, measures = occasion
    row = {}
    stand = effects[("stand", plot["number"], year)]
    if "percent_stand" in measures:
        row["percent_stand"] = f"{5 * round(stand / 5.0)}"
    if "seedling_vigor" in measures:
        strength = 3.2 + 9.0 * (entry[6] - 1.0) + 0.04 * (stand - 88.0) + dice.normal(0.55)
        row["seedling_vigor"] = f"{max(1, min(5, round(strength)))}"
    if "maturity" in measures and trial["species"] != "alfalfa":
        # How early an entry is has nothing to do with how much it yields.
        early = effects.setdefault(("early", entry[0], year), dice.normal(1.1))
        row["maturity"] = GRASS_STAGES[max(0, min(len(GRASS_STAGES) - 1, round(2.6 + early + dice.normal(0.4))))]
    elif "maturity" in measures:
        row["maturity"] = f"{max(2, min(6, round(4.2 - 8.0 * (entry[6] - 1.0) + dice.normal(0.5))))}"
    if "stubble_height" in measures:
        height = 3.0 + (1.5 if plot["number"] == "203" else dice.normal(0.35))
        row["stubble_height"] = f"{0.5 * round(height / 0.5):.1f}".removesuffix(".0")
    if "winter_injury" in measures:
        row["winter_injury"] = f"{max(1, min(5, round(1.2 + (95.0 - stand) / 6.0 + dice.normal(0.4))))}"
    if "plant_height_stretched" in measures:
        plants = (2 * (27.0 * entry[6] + dice.normal(1.4)) for _ in range(3))
        row["plant_height_stretched"] = " ".join(f"{round(twice) / 2:.1f}".removesuffix(".0") for twice in plants)
    if "ground_cover" in measures:
        sown = 5 * round((stand - 8.0 + dice.normal(2.0)) / 5.0)
        weed = min(100 - sown, 5 * round(max(0.0, 3.0 + dice.normal(4.0)) / 5.0))
        row["ground_cover"] = f"sown={sown} weed={weed} bare={100 - sown - weed}"
    if "plant_height_canopy" in measures:
        places = (2 * (8.5 * entry[6] * min(1.0, stand / 85.0) + dice.normal(0.9)) for _ in range(3))
        row["plant_height_canopy"] = " ".join(f"{max(2, round(twice)) / 2:.1f}".removesuffix(".0") for twice in places)
    if "lodging" in measures:
        heavy = effects.setdefault(("weak", entry[0], year), dice.normal(0.8))
        row["lodging"] = f"{max(1, min(9, round(2.0 + 12.0 * (entry[6] - 1.0) + heavy + dice.normal(0.7))))}"
    if "disease" in measures:
        open_to = effects.setdefault(("ill", entry[0], year), dice.normal(1.1))
        row["disease"] = f"{max(1, min(9, round(3.0 + open_to + dice.normal(0.6))))}"
    if "texture" in measures:
        row["texture"] = f"{max(1, min(9, round(4.5 + 25.0 * (entry[6] - 1.0) + dice.normal(0.7))))}"
    row["note"] = station.NOTES.get((trial["code"], code, plot["number"]), "")
    return row


def clock(day, start, step_s, index):
    """Local time of the n-th plot of a pass that begins at `start` (HH:MM)."""
    begin = datetime.datetime.fromisoformat(f"{day}T{start}:00")
    return (begin + datetime.timedelta(seconds=step_s * index)).isoformat()


def frames_of(trial):
    """Which cells of the frame hold a plant, for each of its four placements, in the plots that are counted."""
    dice = Dice(f"{trial['code']} frames")
    stands = {e[0]: e[8] for e in trial["entries"]}
    path = sorted(plots_of(trial), key=lambda p: p["path"])
    rows = []
    for plot in path[:station.FRAMED]:
        # A cell of 15 cm holds a plant less often than the row is filled.
        share = (stands[plot["entry"]] - 20.0 + dice.normal(5.0)) / 100.0
        cells = ["".join("1" if dice.between(0.0, 1.0) < share else "0" for _ in range(25)) for _ in range(4)]
        rows.append({"trial": trial["code"], "occasion": "2026-frame", "plot": plot["number"], "cells": " ".join(cells)})
    return rows


def stems_of(trial):
    """How many of a plot's stems are at each stage, in the plots that are counted: "2=4 3=12", stages that were seen."""
    dice = Dice(f"{trial['code']} stems")
    levels = {e[0]: e[6] for e in trial["entries"]}
    path = sorted(plots_of(trial), key=lambda p: p["path"])
    rows = []
    for plot in path[:station.COUNTED]:
        mean = 4.0 - 6.0 * (levels[plot["entry"]] - 1.0) + dice.normal(0.3)
        stages = [max(1, min(6, round(mean + dice.normal(0.8)))) for _ in range(station.STEMS)]
        counts = " ".join(f"{stage}={stages.count(stage)}" for stage in sorted(set(stages)))
        rows.append({"trial": trial["code"], "occasion": "2026-stems", "plot": plot["number"], "counts": counts})
    return rows


def visits_of(trial, occasion):
    """What each visit that looks for a date finds, plot by plot, until a plot has reached it."""
    dice = Dice(f"{trial['code']} visits")
    days = {e[0]: e[9] for e in trial["entries"]}
    path = sorted(plots_of(trial), key=lambda p: p["path"])
    dates = {plot["number"]: days[plot["entry"]] + round(dice.normal(0.8)) for plot in path}
    rows = []
    for visit in station.VISITS[occasion[3]]:
        day = int(visit[-2:])
        for plot in path:
            number = plot["number"]
            if any(row["plot"] == number and row["found"] == "reached" for row in rows):
                continue
            rows.append({"trial": trial["code"], "occasion": occasion[0], "measure": occasion[3], "day": visit,
                         "plot": number,
                         "found": "reached" if dates[number] <= day else "not_yet"})
    return rows


def values_of(trial):
    """Every weight and rating of a trial that was or will be entered by the end of the scripted day, in path order."""
    dice = Dice(f"{trial['code']} values")
    entries = {e[0]: e for e in trial["entries"]}
    path = sorted(plots_of(trial), key=lambda p: p["path"])
    effects = {}
    for year in (2025, 2026):
        for plot in path:
            stand = stand_of(trial, entries[plot["entry"]], year, dice)
            where = (trial["code"], plot["number"], year)
            effects[("stand", plot["number"], year)] = station.DAMAGED.get(where, stand)
    weights, ratings = [], []
    for number, cutting in enumerate(trial["cuttings"]):
        year, cut, day, mean, *_, surface = cutting
        if not mean:
            continue
        dry_day = (datetime.date.fromisoformat(day) + datetime.timedelta(days=2)).isoformat()
        person = station.CREW[(number + len(trial["code"])) % len(station.CREW)]
        for index, plot in enumerate(path):
            read = weigh(trial, cutting, plot, entries[plot["entry"]], dice, effects)
            why = station.MISSING.get((trial["code"], year, cut, plot["number"]), "")
            if why:
                read = dict.fromkeys(read, "")
            weights.append({"trial": trial["code"], "occasion": f"{year}-cut-{cut}", "surface": surface,
                            "at": clock(day, "09:10", 95, index), "person": person, "plot": plot["number"],
                            "bag": "" if why else f"{index + trial.get('first_bag', 1)}", **read,
                            "dried_at": "" if why else clock(dry_day, "10:00", 20, index), "missing": why})
    for number, occasion in enumerate(trial["ratings"]):
        if occasion[2] > station.TOMORROW or occasion[3] in APART:
            continue
        person = station.CREW[number % len(station.CREW)]
        begins = station.RATING_BEGINS[trial["code"]]
        for index, plot in enumerate(path):
            ratings.append({"trial": trial["code"], "occasion": occasion[0],
                            "at": clock(occasion[2], begins, 40, index),
                            "person": person, "plot": plot["number"], "percent_stand": "", "seedling_vigor": "",
                            "maturity": "", "stubble_height": "",
                            **rate(trial, occasion, plot, entries[plot["entry"]], dice, effects)})
    return weights, ratings


def csv_text(rows):
    columns = list(dict.fromkeys(column for row in rows for column in row))  # of all; some rows leave some empty
    columns.sort(key=lambda column: column == "note")  # last
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, fieldnames=columns, restval="", lineterminator="\r\n")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def make_files():
    """Path below demo-plots -> text."""
    files, day_weights, day_ratings, frames, stems, visits = {}, [], [], [], [], []
    for trial in station.TRIALS:
        for name, rows in plan_tables(trial).items():
            files[f"plans/{trial['code']}/{name}.csv"] = csv_text(rows)
            schema = (HERE.parent / "assets/plan" / f"{name}.schema.json").read_text(encoding="utf-8")
            files[f"plans/{trial['code']}/{name}.schema.json"] = schema
        weights, ratings = values_of(trial)
        for rating in trial["ratings"]:
            if rating[3] == "frequency_grid":
                frames += frames_of(trial)
            elif rating[3] == "stage_counts":
                stems += stems_of(trial)
            elif rating[3] in APART:
                visits += visits_of(trial, rating)
        day_weights += [{**w, **station.GONE.get((w["trial"], w["plot"]), {})} for w in weights
                        if w["at"] >= station.TODAY]
        day_ratings += [r for r in ratings if r["at"] >= station.TODAY]
        for kind, rows in (("weights", weights), ("ratings", ratings)):
            before = [r for r in rows if r["at"] < station.TODAY]
            if before:
                files[f"past/{trial['code']}-{kind}.csv"] = csv_text(before)
    # Who and when on the scripted day is up to the script.
    for name, rows in (("weights", day_weights), ("ratings", day_ratings)):
        files[f"day/{name}.csv"] = csv_text([{k: v for k, v in row.items() if k not in ("at", "person", "dried_at")}
                                             for row in rows])
    for name, rows in (("frames", frames), ("stems", stems), ("visits", visits)):
        files[f"day/{name}.csv"] = csv_text(rows)
    files["day/events.csv"] = csv_text([{"trial": trial, "what": what, "on": on, **dict.fromkeys(("material", "rate", "words"), ""),
                                         **known} for trial, what, on, known in station.EVENTS])
    return files


def main():
    parser = argparse.ArgumentParser(description="write the demonstration's plans and values")
    parser.add_argument("--out", type=pathlib.Path, default=HERE, help="folder to write below (default: here)")
    parser.add_argument("--check", action="store_true", help="write nothing; exit 1 when a file differs")
    asked = parser.parse_args()
    different = []
    for name, text in make_files().items():
        file = asked.out / name
        if asked.check:
            if not file.is_file() or file.read_bytes() != text.encode():
                different.append(name)
            continue
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(text.encode())
    for name in different:
        print(f"{name}: is not what station.py gives; run make_station.py and commit", file=sys.stderr)
    return 1 if different else 0


if __name__ == "__main__":
    sys.exit(main())
