#!/usr/bin/env python3
"""Writes the scripted day as drive files: every tap and stroke, from the plans and the values below day/.

usage: make_day.py [--out FOLDER] [--check]

    day/1-wednesday.drive   the seedlings of SS26 rated whole, the first cutting of AL24 weighed whole and samples of it
                            sorted by hand, OG25 measured and
                            looked through for heads, its frames begun, the rating of the cut plots begun; then the
                            tablet is switched off in the middle of it
    day/2-upright.drive     Thursday, the tablet held upright: looks only, enters nothing
    day/2-looks-HELD.drive  every screen in each language and theme, the tablet held lying and upright: looks only
    day/2-thursday.drive    the rating goes on where it stopped; PR25 is weighed whole from the scale (scale_simulator.py)
    day/3-friday.drive      OG25 looked through for heads again, dried weights of every bag, day's end, seal

Values come from the tables of day/ only. Moments as they happen: a mistap taken back, a plot put off and
rated last, a gross weight read wrongly (less than the tare) that is kept on hold and corrected, a plot found again by its
number, a bag that burst in the oven. --check writes nothing and exits 1 when a file on disk differs.
"""

import argparse
import csv
import json
import pathlib
import sys


HERE = pathlib.Path(__file__).resolve().parent
TITLES = {"percent_stand": "Stand", "seedling_vigor": "Vigor", "maturity": "Stage", "stubble_height": "Stubble",
          "texture": "Leaf texture"}
# Walking and looking, in milliseconds.
WALK_MS = 9000
# Until the sign that something was kept has gone from the screen.
FLASH_MS = 2000
CUT_MS = 55000
OVEN_MS = 6000


def rows_of(name):
    with open(HERE / "day" / name, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def stakes_asked(trial):
    """Plots before which the program asks which stake one sees: where the path turns, and its last one."""
    with open(HERE / "plans" / trial / "plots.csv", encoding="utf-8", newline="") as file:
        path = sorted(csv.DictReader(file), key=lambda plot: int(plot["path"]))
    turns = [plot for before, plot in zip([None, *path], path)
             if before is None or (before["row"], before["block"]) != (plot["row"], plot["block"])]
    return {plot["number"] for plot in [*turns, path[-1]]}


class Script:
    """One drive file, action by action."""

    def __init__(self, about):
        self.lines = [f"# {line}" for line in about]
        self.to_agree = set()

    def open(self, trial, label, screens_down=0):
        """Opens a rating or cutting from Today; every turn of its path is asked about once. screens_down: how far
        the list is dragged before, negative: back up."""
        for _ in range(abs(screens_down)):
            self.do("swipe up" if screens_down > 0 else "swipe down")
        self.tap(label)
        self.to_agree = stakes_asked(trial)

    def arrive(self, plot):
        """The program has come to the plot: one stands there, and says so where it asks."""
        self.do("expect", plot)
        if plot in self.to_agree:
            self.tap(f"Stake/{plot}")
            self.to_agree.remove(plot)

    def text(self):
        return "\n".join(self.lines) + "\n"

    def say(self, comment):
        self.lines += ["", f"# {comment}"]

    def do(self, verb, argument=None):
        if argument is None:
            self.lines.append(verb)
        else:
            escaped = argument.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
            self.lines.append(f'{verb} "{escaped}"')

    def tap(self, *labels):
        for label in labels:
            self.do("tap", label)

    def digits(self, group, text):
        """Taps a number on the number pad of a screen."""
        self.tap(*(f"{group}/{letter}" for letter in text))

    def wait(self, ms):
        self.lines.append(f"wait {ms}")

    def shot(self, name):
        self.wait(FLASH_MS)
        self.lines.append(f"shot pictures/{name}.png")

    def sign_in(self, initials, picture=None):
        self.say(f"{initials} takes the tablet")
        self.do("expect", "Who has the tablet?")
        if picture:
            self.shot(picture)
        self.tap(initials)
        self.do("expect", "Today")

    def note(self, text, picture=None):
        """Typed; a phrase at its beginning, "[birds] first two rows", by its chip."""
        self.tap("Note")
        phrase, _, rest = text.rpartition("] ")
        if phrase:
            self.tap(f"Phrases/{words_of('en')['texts'][f'note_phrase.{phrase[1:]}']}")
        self.do("type", rest)
        if picture:
            self.shot(picture)
        self.tap("Keep")


def rate_plot(script, row, measures):
    """All measures of one plot, in the card's order; the note first, for the last tile moves on to the next plot."""
    script.arrive(row["plot"])
    if row["note"]:
        script.note(row["note"])
    for measure in measures:
        script.tap(f"{TITLES[measure]}/{row[measure]}")
    script.wait(WALK_MS)


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
    """The program asks when two plots running weigh the same."""
    if gross == before:
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
            script.do("expect", "Gross is less than tare")
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
    script.open("AL24", f"AL24/2026-after-cut-1/{word}")
    pictured = False
    for index, row in enumerate(rows):
        if before and index == 0:
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
        readings = row["plant_height_stretched"].split(" ")
        for reading in readings:
            script.digits("Stretched", reading)
            if index == 1 and reading is readings[-1]:
                script.shot("23-rate-height")
            script.tap(f"Stretched/{'Keep' if reading is readings[-1] else 'Next'}")
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


def look_for_heads(script, rows, word, drag=0, picture=None):
    """Block after block along the path: plots that reached it are tapped, the others said not yet in one tap."""
    day = rows[0]["day"]
    script.say(f"OG25: heads looked for on {day}, block by block")
    script.open("OG25", f"OG25/2026-heading/{word}", drag)
    blocks = sorted({row["plot"][0] for row in rows})
    for block in blocks:
        here = [row for row in rows if row["plot"][0] == block]
        if block == blocks[0]:
            script.arrive(here[0]["plot"])
        script.do("expect", f"Block {block}")
        script.tap(*(f"Plots/{row['plot']}" for row in here if row["found"] == "reached"))
        others = sum(row["found"] == "not_yet" for row in here)
        if picture and block == blocks[0]:
            script.shot(picture)
        if others:
            script.tap(f"{others} other{'s' if others > 1 else ''}: not yet")
        if block != blocks[-1]:
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


def words_of(language):
    file = HERE.parent / "assets" / "words" / f"{language}.json"
    return json.loads(file.read_text(encoding="utf-8"))


class Looker:
    """Walks through the screens in one look, tapping what it says in its language, and takes a picture of each."""

    def __init__(self, script, held):
        self.script, self.held = script, held
        self.words, self.look, self.cautioned = {}, "", set()
        self.begun = False  # cutting 2 of AL24

    def say(self, key):
        return self.words["texts"][key]

    def tap(self, *keys):
        self.script.tap(*(self.say(key) for key in keys))

    def shot(self, screen):
        self.script.shot(f"looks/{self.held}-{self.look}-{screen}")

    def choose(self, language, theme):
        """On the Tablet screen; the language of its words changes with the first tap."""
        wanted = words_of(language)
        self.script.tap(f"{self.say('prefer.language')}/{wanted['name']}")
        self.words = wanted
        self.script.tap(f"{self.say('prefer.theme')}/{self.say('prefer.theme.' + theme)}")
        self.look = f"{language}-{theme}"

    def caution(self, screen):
        if screen not in self.cautioned:
            self.shot(f"{screen}-caution")
            self.tap("caution.read")
            self.cautioned.add(screen)

    def walk(self, initials, plot):
        self.shot("tablet")
        if self.held == "upright":
            self.script.do("swipe up")
        self.tap("tablet.measure")
        self.shot("glass")
        self.tap("key.back")
        if self.held == "upright":
            self.script.do("swipe down")
        self.tap("key.back")
        self.shot("today")
        self.script.tap(f"AL24/2026-after-cut-1/{self.say('today.go_on')}")
        self.script.do("expect", plot)
        self.shot("rate")
        self.walk_card()
        self.tap("key.note")
        self.shot("note")
        self.tap("key.back", "lock.key")
        self.shot("locked")
        self.script.tap("Locked/1", "Locked/2", f"Hand over/{initials}")
        self.shot("hand-over")
        self.tap("key.back", "key.back")
        self.walk_trials()
        self.walk_harvest()
        self.walk_pads()
        self.tap("key.dry")
        self.caution("dry-weights")
        self.shot("dry-weights")
        self.tap("key.back", "key.review")
        self.shot("review")
        self.script.tap("Map/101")
        self.shot("history")
        self.tap("history.mend")
        self.shot("mend")
        self.tap("key.back", "key.back", "slide.title", "slide.on")
        self.shot("slide")
        self.tap("key.back")
        self.compare()
        self.tap("key.back", "key.days_end")
        self.shot("days-end")
        self.script.tap(f"AL24/2026-after-cut-1/{self.say('key.close')}")
        self.shot("closing")
        self.tap("closing.no", "key.back")
        self.script.tap(initials)
        self.shot("sign-in")
        self.script.tap(initials)
        self.tap("key.tablet")


    def compare(self):
        """The stand of AL24 after its cutting beside that of last year's spring."""
        self.script.tap("Review/PR25", "AL24/AL24  2026-after-cut-1", self.say("review.compare"),
                        "AL24/AL24  2025-spring-stand")
        self.shot("compare")
        self.tap("review.compare")

    def walk_card(self):
        """The pads of the other measures, the single points of a percent; back to its tiles."""
        for measure in ("maturity", "stubble_height"):
            self.script.tap(f"Card/{self.say(f'measure.{measure}')}")
            self.shot(f"rate-{measure.replace('_', '-')}")
        self.script.tap(f"Card/{self.say('measure.percent_stand')}")
        self.tap("rate.single_points")
        self.shot("rate-points")
        self.tap("rate.tiles")

    def walk_harvest(self):
        """What is cut next is weeks away. One cutting is begun all the same, on a copy of the ledger that is thrown away."""
        # How far down the list it stands.
        screens = 2 if self.held == "lying" else 1
        for _ in range(screens):
            self.script.do("swipe up")
        self.script.tap(f"TF24/2026-cut-2/{self.say('today.weigh')}")
        self.shot("early")
        self.tap("early.no")
        self.script.tap(f"AL24/2026-cut-2/{self.say('today.weigh')}")
        if not self.begun:
            self.tap("early.weigh")
            self.caution("harvest")
            self.script.do("type", "flail 2\n36 in\n3 in")
            self.script.tap(f"Surface/{self.say('surface.dry')}")
            self.shot("harvest-head")
            self.tap("harvest.start")
            self.shot("harvest-stake")
            self.script.tap("Stake/101")
            self.begun = True
        self.script.digits("Harvest", "8.25")
        self.shot("harvest")
        self.tap("key.back")
        for _ in range(screens):
            self.script.do("swipe down")

    def walk_pads(self):
        """Pads that are no tiles: the cells of a frame, the plots of a block."""
        for occasion in ("frame", "heading"):
            below = occasion == "heading" and self.held == "lying"
            if below:
                self.script.do("swipe up")
            self.script.tap(f"OG25/2026-{occasion}/{self.say('today.go_on')}")
            self.shot(f"rate-{occasion}")
            self.tap("key.back")
            if below:
                self.script.do("swipe down")

    def walk_trials(self):
        self.tap("key.trials")
        self.shot("trials")
        self.script.tap(f"AL24/{self.say('trials.open')}")
        self.shot("trial")
        self.script.tap("Plots/102")
        self.shot("as-sown")
        self.tap("key.back", "trials.events", "trials.new_event")
        self.shot("event")
        self.tap("key.back", "key.back", "trials.load")
        self.shot("plan")
        self.tap("key.back", "key.back")


def looks(held, plot):
    """Every screen in each language and theme, the tablet held one way; leaves it as it was."""
    script = Script([f"Thursday, the tablet held {held}: looks at every screen in each language and theme. On a copy of the ledger.",
                     "Made by make_day.py."])
    looker = Looker(script, held)
    script.sign_in("ODL")
    looker.words = words_of("en")
    looker.tap("key.tablet")
    for language in ("en", "es"):
        for theme in ("paper", "dusk"):
            looker.choose(language, theme)
            looker.walk("ODL", plot)
    looker.choose("en", "paper")
    return script.text()


def make_files():
    ratings, weights = rows_of("ratings.csv"), rows_of("weights.csv")
    frames, visits = rows_of("frames.csv"), rows_of("visits.csv")
    days = sorted({visit["day"] for visit in visits})
    seedlings = [r for r in ratings if r["trial"] == "SS26"]
    cut = [r for r in ratings if r["trial"] == "AL24"]
    stop = 20  # the tablet is switched off after this many cut plots

    first = Script(["Wednesday: rate, weigh, rate again until the battery says stop.",
                    "Made by make_day.py from ratings.csv, weights.csv, separated.csv, frames.csv and visits.csv."])
    mown = [w for w in weights if w["trial"] == "PR25"]
    first.sign_in("KV", "01-sign-in")
    first.shot("02-today")
    rate_seedlings(first, seedlings)
    weigh_cutting(first, [w for w in weights if w["trial"] == "AL24"])
    separated = rows_of("separated.csv")
    sort_samples(first, separated)
    measure_plots(first, [r for r in ratings if r["trial"] == "OG25"])
    look_for_heads(first, [v for v in visits if v["day"] == days[0]], "Rate", -1, "29-rate-heading")
    count_frames(first, frames)
    first.say("Rate the cut plots: stand, stage of what was cut, stubble")
    rate_cut_plots(first, cut[:stop], "Rate")
    first.say("The battery is empty")
    first.do("quit")

    upright = Script(["Thursday, the tablet held upright: looks only, enters nothing.", "Made by make_day.py."])
    upright.sign_in("ODL", "16-upright-sign-in")
    upright.shot("17-upright-today")
    upright.tap("AL24/2026-after-cut-1/Go on")
    upright.do("expect", cut[stop]["plot"])
    upright.shot("18-upright-rate")
    upright.tap("Back", "Review", "Slide", "One plot on")
    upright.shot("22-upright-slide")
    upright.tap("Back")
    upright.tap("Back", "Dry weights", "Understood")
    upright.shot("19-upright-dry-weights")

    lying = looks("lying", cut[stop]["plot"])
    standing = looks("upright", cut[stop]["plot"])

    second = Script(["Thursday: the rating goes on at the plot where it stopped; then PR25 is weighed from the scale.",
                     "Made by make_day.py from ratings.csv and weights.csv; the loads come from scale_simulator.py."])
    second.sign_in("ODL")
    rate_cut_plots(second, cut[stop:], "Go on", before="KV")
    second.do("expect", f"All {len(cut)} plots are rated.")
    second.tap("Back")
    plug_in_scale(second)
    weigh_by_scale(second, mown)

    third = Script(["Friday: heads again, the bags are dry; then the day is closed.",
                    "Made by make_day.py from visits.csv, weights.csv and separated.csv."])
    third.sign_in("TB")
    look_for_heads(third, [v for v in visits if v["day"] == days[1]], "Go on")
    parts = [{"bag": r["bag"], "sample_dry_g": r["dry_g"]} for r in separated if r["bag"]]
    dry_bags(third, weights + parts)
    third.say("Day's end")
    third.tap("Day's end")
    third.shot("14-days-end")
    third.tap("Seal the day")
    third.do("expect", "Sealed and read back")
    third.shot("15-sealed")
    return {"day/1-wednesday.drive": first.text(), "day/2-upright.drive": upright.text(),
            "day/2-looks-lying.drive": lying, "day/2-looks-upright.drive": standing,
            "day/2-thursday.drive": second.text(), "day/3-friday.drive": third.text()}


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
