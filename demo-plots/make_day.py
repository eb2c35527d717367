#!/usr/bin/env python3
"""Writes the scripted day as drive files: every tap and stroke, from the plans and the values below day/.

usage: make_day.py [--out FOLDER] [--check]

    day/1-wednesday.drive   the seedlings of SS26 rated whole, stems of AL24 counted by stage, its first cutting weighed
                            whole and samples of it sorted by hand, OG25 measured and looked through for heads, WC25
                            for flowers, the frames of OG25 begun, the rating of the cut plots begun; then the tablet
                            is switched off in the middle of it
    day/2-looks-HELD.drive  Thursday: every screen in each language and theme, the tablet held lying and upright: looks only
    day/2-thursday.drive    the rating goes on where it stopped; PR25 is rated by two people, then weighed whole from
                            the scale (scale_simulator.py); WC25 is rated
    day/3-friday.drive      OG25 and WC25 looked through for heads and flowers again, dried weights of every bag,
                            day's end, seal

Values come from the tables of day/ only; looks are in looks.py. Moments as they happen: a mistap taken back, a plot put off
and rated last, a gross weight read wrongly (less than the tare) that is kept on hold and corrected, a plot found again by its
number, a tablet handed over between two blocks, a bag that burst in the oven. --check writes nothing and exits 1 when a file on
disk differs.
"""

import argparse
import datetime
import pathlib
import sys

import station
from drive_script import Script, path_of, rows_of, words_of
from looks import looks

HERE = pathlib.Path(__file__).resolve().parent
TITLES = {"percent_stand": "Stand", "seedling_vigor": "Vigor", "maturity": "Stage", "stubble_height": "Stubble",
          "texture": "Leaf texture", "lodging": "Lodging", "disease": "Disease", "plant_height_canopy": "Canopy"}
# Measures of several readings a plot.
SEVERAL = {"plant_height_stretched", "plant_height_canopy"}
# Screens that the list of trials has at most.
TRIALS_LISTED = 3
# Walking and looking, in milliseconds.
WALK_MS = 9000
CUT_MS = 55000
OVEN_MS = 6000


def rate_plot(script, row, measures, pictures=None):
    """All measures of one plot, in the card's order; the note first, for the last tile moves on to the next plot.
    pictures: of its pads before they are tapped, by measure."""
    script.arrive(row["plot"])
    if row["note"]:
        script.note(row["note"])
    for measure in measures:
        picture = (pictures or {}).get(measure)
        if measure in SEVERAL:
            read_places(script, TITLES[measure], row[measure].split(" "), picture)
            continue
        if picture:
            script.shot(picture)
        script.tap(f"{TITLES[measure]}/{tile_words(row[measure])}")
    script.wait(WALK_MS)


def tile_words(value):
    """What the tile of a value says: a code that is an English word is shown by another."""
    return words_of("en")["texts"].get(f"stage_code.{value}", value)


def read_places(script, pad, readings, picture=None):
    """Several readings of one plot; picture: with the last one typed."""
    for number, reading in enumerate(readings, 1):
        script.digits(pad, reading)
        if picture and number == len(readings):
            script.shot(picture)
        script.tap(f"{pad}/{'Keep' if number == len(readings) else 'Next'}")


def rate_seedlings(script, rows):
    measures = ["percent_stand", "seedling_vigor"]
    script.say("Rate the seedlings of SS26, three weeks after sowing")
    script.open("SS26", "SS26/2026-seedlings/Rate", 2)
    script.do("expect", "Which stake do you see?")
    script.shot("21-stake")
    put_off, mistap = rows[17], rows[5]
    for index, row in enumerate(rows):
        if index == 1:
            script.shot("03-rate-stand")
        if row is put_off:
            script.say(f"A sprayer stands on plot {row['plot']}: later")
            script.arrive(row["plot"])
            script.tap("Later")
            continue
        if row is mistap:
            wrong = "1" if row["seedling_vigor"] != "1" else "2"
            script.say(f"A wrong tile at plot {row['plot']}, taken back in one tap")
            script.arrive(row["plot"])
            script.tap(f"Stand/{row['percent_stand']}")
            script.shot("04-rate-vigor")
            script.tap(f"Vigor/{wrong}", "Take back", f"Vigor/{row['seedling_vigor']}")
            script.wait(WALK_MS)
            continue
        rate_plot(script, row, measures)
    script.say(f"The path is done; plot {put_off['plot']} comes again by itself")
    rate_plot(script, put_off, measures)
    script.do("expect", f"All {len(rows)} plots are rated.")
    script.shot("05-rate-done")
    script.tap("Back")


def weigh_plot(script, row, gross=None):
    script.arrive(row["plot"])
    script.digits("Harvest", gross or row["gross_kg"])
    script.tap("Bag")
    script.digits("Harvest", row["bag"])
    script.tap("Sample fresh")
    script.digits("Harvest", row["sample_fresh_g"])


def emptied(script, gross, before):
    """The program asks when two plots running weigh the same on a scale that tells them apart."""
    decimals = len(gross.partition(".")[2])
    division = (5 if gross[-1] in "05" else 1) * 10.0**-decimals
    if gross == before and division <= 0.004 * float(gross):
        script.tap("They weigh the same")
    return gross


def weigh_cutting(script, rows):
    script.say("The first cutting of AL24: head of the run, once")
    script.open("AL24", "AL24/2026-cut-1/Weigh", -2)
    script.shot("06-caution")
    script.tap("Understood")
    script.do("type", "flail 2\n36 in\n3 in")
    script.tap("Surface/Dry")
    script.shot("07-harvest-head")
    script.tap("Start")
    script.say("Plot by plot; the tare stays from plot to plot")
    held = rows[13]
    wrong = f"0.{held['gross_kg'].replace('.', '')}"
    before = None
    for index, row in enumerate(rows):
        if index == 0:
            script.arrive(row["plot"])
            script.tap("Tare")
            script.digits("Harvest", row["tare_kg"])
            script.tap("Gross")
        if row is held:
            script.say(f"Plot {row['plot']}: the point in the wrong place, less than the tare; kept on hold")
            weigh_plot(script, row, wrong)
            script.tap("Keep plot")
            script.do("expect", "Gross is not more than tare")
            script.shot("09-harvest-question")
            script.tap("Can't tell now")
            script.wait(CUT_MS)
            continue
        weigh_plot(script, row)
        if index == 1:
            script.shot("08-harvest-weigh")
        script.tap("Keep plot")
        before = emptied(script, row["gross_kg"], before)
        script.wait(CUT_MS)
        if index == 15:
            script.say(f"The slip of plot {held['plot']} turns up in the bag box: found by its number, corrected")
            script.tap("More")
            script.tap("Find")
            script.digits("Harvest", held["plot"])
            script.tap("Go there")
            script.do("expect", held["plot"])
            script.tap("Gross", *["Harvest/Erase"] * len(wrong))
            script.digits("Harvest", held["gross_kg"])
            script.tap("Keep plot")
            before = emptied(script, held["gross_kg"], before)
            script.wait(CUT_MS)
    script.tap("Back")


def sort_samples(script, rows):
    """Each plot's whole, then its parts in the program's order; without a bag there is nothing of a part."""
    script.say("Samples of four plots of AL24 are sorted by hand")
    script.tap("Dry weights", "Understood", "Sort/Sort", "Cuttings/AL24, cutting 1, 2026")
    script.do("expect", "Sort samples")
    script.shot("33-sort-plots")
    for plot in dict.fromkeys(row["plot"] for row in rows):
        script.digits("Sort samples", plot)
        script.tap("Sort samples/Next")
        script.do("expect", f"Plot {plot}")
        for row in (r for r in rows if r["plot"] == plot):
            if row["part"] == "whole":
                script.digits("Sort samples", row["fresh_g"])
                script.tap("Sort samples/Keep")
            elif not row["bag"]:
                script.tap("None")
            else:
                script.digits("Sort samples", row["bag"])
                script.tap("Sort samples/Next")
                script.digits("Sort samples", row["fresh_g"])
                if plot == rows[0]["plot"] and row["part"] == "broadleaf":
                    script.shot("34-sort-part")
                script.tap("Sort samples/Keep")
            script.wait(OVEN_MS)
        script.do("expect", "Sorted.")
        if plot == rows[0]["plot"]:
            script.shot("35-sort-done")
        script.tap("Sort samples/Next sample")
    script.tap("Back", "Back")


def write_events(script, rows):
    script.say("What happened to the trials since yesterday is written down")
    script.tap("Trials")
    for row in rows:
        texts = words_of("en")["texts"]
        for _ in range(TRIALS_LISTED):
            script.do("swipe down")
        if row["trial"] > "PR25":  # in the order of their codes; below the first ones
            script.do("swipe up")
            script.do("swipe up")
        script.tap(f"{row['trial']}/Open", "Events", "Write down an event", f"What/{texts['event.' + row['what']]}")
        script.tap(*["Day before"] * (datetime.date.fromisoformat(station.TODAY)
                                      - datetime.date.fromisoformat(row["on"])).days)
        for key in ("material", "rate", "words"):
            if not row[key]:
                continue
            if key == "words":
                script.do("swipe up")
            script.tap(texts[f"event.field.{key}"])
            script.do("type", row[key])
            script.tap("Done")
        script.shot(f"45-event-{row['what']}")
        script.tap("Keep event")
        script.do("expect", row["on"])
        script.shot(f"46-events-{row['trial']}")
        script.tap("Back")
    script.tap("Back")


def plug_in_scale(script):
    script.say("The harvester's indicator is plugged in: port and line are chosen once")
    script.tap("Tablet")
    script.do("swipe up")
    script.do("swipe up")
    script.tap("Scale", "Port/harvest-scale", "A line looks like/S or D, G or N, number, unit")
    script.do("swipe up")
    script.do("swipe up")
    script.tap("Interval, in steps of the last digit/5")
    script.do("expect", "Empty")
    script.shot("30-tablet-scale")
    script.tap("Back", "Back")


def put_on(script, name):
    """The crew of scale_simulator.py puts on what it has under that name when the screen is listed so."""
    script.lines.append(f"list crew/{name}.json")


def check_scale(script, picture=None):
    put_on(script, "check")
    script.do("expect", "Stands still")
    if picture:
        script.shot(picture)
    script.tap("Take check")
    script.do("expect", "The scale is right")


def weigh_by_scale(script, rows):
    script.say("The first cutting of PR25, weighed on the harvester: a tap a plot")
    script.open("PR25", "PR25/2026-cut-1/Weigh")
    script.tap("Understood")
    script.do("type", "plot harvester\n36 in\n4 in")
    script.tap("Surface/Dry", "Start")
    script.say("A known mass first: 20 kg, 0.05 allowed")
    script.arrive(rows[0]["plot"])
    script.tap("Check weight")
    script.digits("Harvest/Check weight", "20")
    script.tap("Allowed")
    script.digits("Harvest/Check weight", "0.05")
    script.tap("Done")
    check_scale(script, "31-harvest-check")
    script.say("The bin is zero with nothing in it")
    script.tap("Tare")
    script.digits("Harvest", rows[0]["tare_kg"])
    script.tap("Gross")
    before = None
    for index, row in enumerate(rows):
        script.arrive(row["plot"])
        put_on(script, row["plot"])
        script.do("expect", "Stands still")
        if index == 1:
            script.shot("32-harvest-scale")
        script.tap("Take weight")
        before = emptied(script, row["gross_kg"], before)
        script.do("type", f"{row['bag']}\n{row['sample_fresh_g']}\n")
        script.wait(CUT_MS)
    script.say("The known mass once more")
    script.tap("Gross", "Check weight")
    check_scale(script)
    script.tap("Back")


def rate_cut_plots(script, rows, word, before=None):
    """before: who rated the first of these blocks until now."""
    measures = ["percent_stand", "maturity", "stubble_height"]
    script.open("AL24", f"AL24/2026-after-cut-1/{word}", 1 if before else 0)  # today's work stands above it
    pictured = False
    for index, row in enumerate(rows):
        if before and index == 0:
            script.tap("Go on with the rating")  # and not as second person
            script.say(f"{before} stopped inside this block: asked once, at the first value")
            script.arrive(row["plot"])
            script.tap(f"Stand/{row['percent_stand']}")
            script.do("expect", f"{before} rated this block so far.")
            script.tap("Go on in this block")
            if row["note"]:
                script.note(row["note"])
            script.tap(*(f"{TITLES[measure]}/{row[measure]}" for measure in measures[1:]))
            script.wait(WALK_MS)
            continue
        if row["note"] and not pictured:
            script.arrive(row["plot"])
            script.tap("Note")
            script.do("type", row["note"])
            script.shot("10-rate-note")
            script.tap("Keep", f"Stand/{row['percent_stand']}")
            script.shot("11-rate-stage")
            script.tap(f"Stage/{row['maturity']}")
            script.shot("12-rate-stubble")
            script.tap(f"Stubble/{row['stubble_height']}")
            script.wait(WALK_MS)
            pictured = True
        else:
            rate_plot(script, row, measures)


def share_cover(script, text):
    """Two of the shares are tapped, in tens and fives; the third is what is left."""
    for share in text.split(" ")[:2]:
        percent = int(share.split("=")[1])
        script.tap(f"Cover/{percent - percent % 10}", *["Cover/+5"] * (percent % 10 // 5))


def measure_plots(script, rows):
    script.say("OG25: three plants pulled straight, the ground from above, how leaves feel")
    script.open("OG25", "OG25/2026-may/Rate", 1)
    for index, row in enumerate(rows):
        script.arrive(row["plot"])
        if row["note"]:
            script.note(row["note"], "26-rate-phrase" if "birds" in row["note"] else None)
        read_places(script, "Stretched", row["plant_height_stretched"].split(" "), "23-rate-height" if index == 1 else None)
        share_cover(script, row["ground_cover"])
        if index == 1:
            script.shot("24-rate-cover")
        script.tap("Cover/Keep")
        if index == 1:
            script.shot("25-rate-own-score")
        script.tap(f"Leaf texture/{row['texture']}")
        script.wait(WALK_MS)
    script.do("expect", f"All {len(rows)} plots are rated.")
    script.tap("Back")


def count_frames(script, rows):
    script.say("OG25: the frame, four placements a plot; the first plots only, the others another day")
    script.open("OG25", "OG25/2026-frame/Rate")
    for index, row in enumerate(rows):
        script.arrive(row["plot"])
        placements = row["cells"].split(" ")
        for number, cells in enumerate(placements, 1):
            script.tap(*(f"Frame/Frame/{n}" for n, cell in enumerate(cells, 1) if cell == "1"))
            if index == 0 and number == 3:
                script.shot("27-rate-frame")
            script.tap("Next frame" if number < len(placements) else "Frame/Keep")
        script.wait(WALK_MS)
    script.tap("lane/" + rows[-1]["plot"], "Card/Frame")
    script.shot("28-rate-frame-kept")
    script.tap("Back")


def count_stems(script, rows):
    script.say("AL24: stems cut at the ground, counted by their stage before the cutter comes; the first plots only")
    script.open("AL24", "AL24/2026-stems/Rate")
    for index, row in enumerate(rows):
        script.arrive(row["plot"])
        for stage, count in (part.split("=") for part in row["counts"].split(" ")):
            script.tap(*[f"Counts/{stage}"] * int(count))
        if index == 0:
            script.shot("36-rate-counts")
        script.tap("Counts/Keep")
        script.wait(WALK_MS)
    script.tap("Back")


def rate_before_cut(script, rows, first, second):
    """PR25 before its cutting: four taps a plot. The first rater has the first half of the blocks."""
    measures = ["percent_stand", "maturity", "lodging", "disease"]
    script.say(f"PR25 before it is cut: stand, stage, lodging, disease; {first} rates blocks 1 and 2, {second} 3 and 4")
    script.open("PR25", "PR25/2026-before-cut-1/Rate")
    for index, row in enumerate(rows):
        if index == len(rows) // 2:
            script.say(f"{second} takes the tablet between two blocks; the screen stays")
            script.tap(f"Hand over/{first}")
            script.shot("41-hand-over")
            script.tap(second)
        rate_plot(script, row, measures, {"percent_stand": "37-rate-four-measures", "maturity": "38-rate-grass-stage",
                                          "lodging": "39-rate-lodging", "disease": "40-rate-disease"}
                  if index == 6 else None)
    script.do("expect", f"All {len(rows)} plots are rated.")
    script.tap("Back")


def rate_clover(script, rows):
    script.say("WC25, broadcast: ground covered, canopy at three places, disease")
    script.open("WC25", "WC25/2026-may/Rate")
    for index, row in enumerate(rows):
        rate_plot(script, row, ["percent_stand", "plant_height_canopy", "disease"],
                  {"percent_stand": "42-rate-broadcast", "plant_height_canopy": "43-rate-canopy"} if index == 4 else None)
    script.do("expect", f"All {len(rows)} plots are rated.")
    script.tap("Back")


def look_for(script, what, rows, word, drag=0, picture=None):
    """Block after block along the path: plots that reached it are tapped, the others said not yet in one tap, which
    goes on to the next block."""
    day, trial = rows[0]["day"], rows[0]["trial"]
    script.say(f"{trial}: {what} looked for on {day}, block by block")
    script.open(trial, f"{trial}/{rows[0]['occasion']}/{word}", drag)
    path = [plot["number"] for plot in path_of(trial)]
    blocks = sorted({row["plot"][0] for row in rows})
    led_on = False
    for block in blocks:
        here = [row for row in rows if row["plot"][0] == block]
        # A block begins at its first stake, which is not asked about once its plot has a date.
        begins = next(number for number in path if number[0] == block)
        if block == blocks[0]:
            script.arrive(here[0]["plot"])
        elif led_on and begins in {row["plot"] for row in here}:
            script.arrive(begins)
        script.do("expect", f"Block {block}")
        script.tap(*(f"Plots/{row['plot']}" for row in here if row["found"] == "reached"))
        others = sum(row["found"] == "not_yet" for row in here)
        if picture and block == blocks[0]:
            script.shot(picture)
        led_on = others > 0
        if led_on:
            script.tap(f"{others} other{'s' if others > 1 else ''}: not yet")
        elif block != blocks[-1]:
            script.tap("Next block")
    script.tap("Back")


def dry_bags(script, rows):
    script.say("Dried weights; bag numbers come from the scanner")
    script.tap("Dry weights", "Understood")
    script.do("expect", f"{len(rows)} bags to weigh dry")
    script.tap("Oven/Oven")
    script.digits("Dry weights", "60")
    script.tap("Dry weights/Next")
    script.digits("Dry weights", "48")
    script.shot("13-oven")
    script.tap("Dry weights/Keep")
    for index, row in enumerate(rows):
        script.do("type", f"{row['bag']}\n")
        if row["sample_dry_g"] == "bag_burst":
            script.tap("No dried weight/Burst")
            script.wait(OVEN_MS)
            continue
        script.digits("Dry weights", row["sample_dry_g"])
        if index == 2:
            script.shot("13-dry-weights")
        script.tap("Dry weights/Keep")
        script.wait(OVEN_MS)
    script.do("expect", "No bag is left to weigh dry.")
    script.tap("Back")


def make_files():
    ratings, weights = rows_of("ratings.csv"), rows_of("weights.csv")
    frames, visits = rows_of("frames.csv"), rows_of("visits.csv")
    seedlings = [r for r in ratings if r["trial"] == "SS26"]
    cut = [r for r in ratings if r["trial"] == "AL24"]
    heads, flowers = ({day: [v for v in visits if v["day"] == day and v["measure"] == measure] for day in days}
                      for measure, days in station.VISITS.items())
    stop = 20  # the tablet is switched off after this many cut plots

    first = Script(["Wednesday: rate, weigh, rate again until the battery says stop.",
                    "Made by make_day.py from the tables beside it."])
    mown = [w for w in weights if w["trial"] == "PR25"]
    first.sign_in("KV", "01-sign-in")
    first.shot("02-today")
    rate_seedlings(first, seedlings)
    count_stems(first, rows_of("stems.csv"))
    weigh_cutting(first, [w for w in weights if w["trial"] == "AL24"])
    separated = rows_of("separated.csv")
    sort_samples(first, separated)
    measure_plots(first, [r for r in ratings if r["trial"] == "OG25"])
    look_for(first, "heads", heads[station.TODAY], "Rate", 1, "29-rate-heading")
    look_for(first, "flowers", flowers[station.TODAY], "Rate", 2, "44-rate-flower")
    count_frames(first, frames)
    write_events(first, rows_of("events.csv"))
    first.say("Rate the cut plots: stand, stage of what was cut, stubble")
    rate_cut_plots(first, cut[:stop], "Rate")
    first.say("The battery is empty")
    first.do("quit")

    second = Script(["Thursday: the rating goes on at the plot where it stopped; PR25 is rated, then weighed from the scale; WC25 is rated.",
                     "Made by make_day.py from ratings.csv and weights.csv; the loads come from scale_simulator.py."])
    second.sign_in("ODL")
    rate_cut_plots(second, cut[stop:], "Go on", before="KV")
    second.do("expect", f"All {len(cut)} plots are rated.")
    second.tap("Back")
    rate_before_cut(second, [r for r in ratings if r["trial"] == "PR25"], "ODL", "KV")
    plug_in_scale(second)
    weigh_by_scale(second, mown)
    second.say("TB takes the tablet")
    second.tap("Hand over/KV", "TB")
    rate_clover(second, [r for r in ratings if r["trial"] == "WC25"])
    look_for(second, "flowers", flowers[station.TOMORROW], "Go on", 1)

    third = Script(["Friday: heads again, the bags are dry; then the day is closed.",
                    "Made by make_day.py from visits.csv, weights.csv and separated.csv."])
    third.sign_in("TB")
    look_for(third, "heads", heads[station.DRY_DAY], "Go on")
    look_for(third, "flowers", flowers[station.DRY_DAY], "Go on", 1)
    parts = [{"bag": r["bag"], "sample_dry_g": r["dry_g"]} for r in separated if r["bag"]]
    dry_bags(third, weights + parts)
    third.say("Day's end")
    third.tap("Day's end")
    third.shot("14-days-end")
    third.tap("Seal the day")
    third.do("expect", "Sealed and read back")
    third.shot("15-sealed")
    third.tap("Copy to Stick 1")
    third.do("expect", "Stick 1 and read back.")
    third.shot("47-copied")
    return {"day/1-wednesday.drive": first.text(), "day/2-looks-lying.drive": looks("lying"),
            "day/2-looks-upright.drive": looks("upright"), "day/2-thursday.drive": second.text(),
            "day/3-friday.drive": third.text()}


def main():
    parser = argparse.ArgumentParser(description="write the scripted day as drive files")
    parser.add_argument("--out", type=pathlib.Path, default=HERE, help="folder to write below (default: here)")
    parser.add_argument("--check", action="store_true", help="write nothing; exit 1 when a file differs")
    asked = parser.parse_args()
    different = []
    for name, text in make_files().items():
        file = asked.out / name
        if asked.check:
            if not file.is_file() or file.read_text(encoding="utf-8") != text:
                different.append(name)
            continue
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
    for name in different:
        print(f"{name}: is not what the values give; run make_day.py and commit", file=sys.stderr)
    return 1 if different else 0


if __name__ == "__main__":
    sys.exit(main())
