"""A drive file (build/ligule --drive) made action by action, and what its taps need to know of plans and words."""

import csv
import functools
import json
import pathlib


HERE = pathlib.Path(__file__).resolve().parent
# Screens that the list of Today has at most.
LONGEST_LIST = 4
# Until the sign that something was kept has gone from the screen.
FLASH_MS = 2000


def rows_of(name):
    with open(HERE / "day" / name, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@functools.cache
def words_of(language):
    file = HERE.parent / "assets" / "words" / f"{language}.json"
    return json.loads(file.read_text(encoding="utf-8"))


def path_of(trial):
    with open(HERE / "plans" / trial / "plots.csv", encoding="utf-8", newline="") as file:
        return sorted(csv.DictReader(file), key=lambda plot: int(plot["path"]))


def stakes_asked(trial):
    """Plots before which the program asks which stake one sees: where the path turns, and its last one."""
    path = path_of(trial)
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
        the list is dragged from its top."""
        for _ in range(LONGEST_LIST):
            self.do("swipe down")
        for _ in range(screens_down):
            self.do("swipe up")
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
