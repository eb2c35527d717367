"""Looks at every screen and pad, one language, theme and person after the other, the tablet held one way.

A look stands in pictures/looks/HELD-LANGUAGE-THEME-SCREEN.png. It is played on Thursday morning on a copy of the ledger that is
thrown away: what is begun to show a screen is no part of the day. Every look has a person of its own, so that what is
asked or said to each person once a day (cautions, stakes) shows in every language and theme.
"""

import datetime

import station
from drive_script import Script, words_of

# Who looks, in which language and theme, at which cutting, cut how high in inches. The last one is new on this tablet: the
# initials are typed. A cutting of each kind of crop, for each has cautions of its own.
LOOKS = [("ODL", "en", "paper", "AL24/2026-cut-2", 3), ("KV", "en", "dusk", "OG25/2026-cut-1", 4),
         ("TB", "es", "paper", "TF24/2026-cut-2", 4), ("NW", "es", "dusk", "SS26/2026-cut-1", 6)]
# They have English to begin with; who is new has the language of the person before.
KNOWN = {"ODL", "KV", "TB"}
# Gave the first values of AL24 and of past ratings.
PAST_RATER = "KV"
# How many screens down the list of Today a rating or cutting stands, lying and upright.
DOWN = {"PR25/2026-before-cut-1": (0, 0), "WC25/2026-may": (0, 0), "AL24/2026-after-cut-1": (1, 1),
        "AL24/2026-stems": (1, 1), "OG25/2026-frame": (2, 1), "OG25/2026-heading": (2, 2),
        "WC25/2026-flower": (3, 2), "OG25/2026-cut-1": (3, 2), "AL24/2026-cut-2": (3, 3),
        "TF24/2026-cut-2": (4, 3), "SS26/2026-cut-1": (5, 4)}
# Swipes that reach the end of that list from anywhere, and its top again.
WHOLE_LIST = 9


def long_past():
    """Ratings and cuttings of the home tablet that lie behind Earlier: two weeks past."""
    day = (datetime.date.fromisoformat(station.TOMORROW) - datetime.timedelta(days=14)).isoformat()
    return [occasion for trial in station.TRIALS if trial["site"] == "home"
            for occasion in [*((code, due) for code, _, due, _ in trial["ratings"]),
                             *((number, due) for _, number, due, *_ in trial["cuttings"])] if occasion[1] < day]


class Looker:
    """Walks through the screens in one look, tapping what it says in its language, and takes a picture of each."""

    def __init__(self, script, held):
        self.script, self.held = script, held
        self.words, self.look = words_of("en"), ""
        self.round = -1  # which of LOOKS
        self.who = ""
        self.down = 0  # screens that the list of Today is dragged

    def say(self, key):
        return self.words["texts"][key]

    def tap(self, *keys):
        """Keys of the words files, not their texts."""
        self.script.tap(*(self.say(key) for key in keys))

    def tap_in(self, group, key):
        self.script.tap(f"{group}/{self.say(key)}")

    def shot(self, screen):
        self.script.shot(f"looks/{self.held}-{self.look}-{screen}")

    def swipe(self, way, times=1):
        for _ in range(times):
            self.script.do(f"swipe {way}")

    def choose(self, language, theme):
        """On the Tablet screen; the language of its words changes with the first tap."""
        wanted = words_of(language)
        self.script.tap(f"{self.say('prefer.language')}/{wanted['name']}")
        self.words = wanted
        self.tap_in(self.say("prefer.theme"), f"prefer.theme.{theme}")
        self.look = f"{language}-{theme}"

    def drag_to(self, screens):
        self.swipe("up" if screens > self.down else "down", abs(screens - self.down))
        self.down = screens

    def open(self, occasion, word):
        """A rating or cutting of Today, by the word on its key."""
        self.drag_to(DOWN[occasion][self.held == "upright"])
        self.script.tap(f"{occasion}/{self.say(word)}")

    def pads(self, *pads):
        """Pads of an open card: measure, name of the picture."""
        for measure, picture in pads:
            self.script.tap(f"Card/{self.say(f'measure.{measure}')}")
            self.shot(picture)

    def look_at(self):
        """A rating that another person did: they may rate it too, as second person."""
        if self.who != PAST_RATER:
            self.tap("as_second.look")

    def caution(self, screen):
        self.shot(f"{screen}-caution")
        self.tap("caution.read")

    def walk(self, initials, cutting, stubble, next_one):
        self.who = initials
        self.tablet()
        self.today()
        self.rate_rows()
        self.hand_over(initials)
        self.rate_ground()
        self.rate_past()
        self.harvest(cutting, stubble)
        self.drying()
        self.review()
        self.trials()
        self.spray()
        self.days_end()
        self.script.tap(initials)
        self.shot("sign-in")
        if next_one in KNOWN:
            self.script.tap(next_one)
        elif next_one:
            self.script.do("type", next_one)
            self.tap("hand_over.start")

    def tablet(self):
        self.shot("tablet")
        if self.held == "upright":
            self.swipe("up")
        for key, picture in (("tablet.measure", "glass"), ("tablet.scale", "tablet-scale"),
                             ("tablet.cautions", "cautions")):
            if key == "tablet.scale":
                self.swipe("up", 2)
                self.shot("tablet-below")
            self.tap(key)
            self.shot(picture)
            self.tap("key.back")
        self.swipe("down", 3)
        self.tap("key.back")

    def today(self):
        self.shot("today")
        self.swipe("up", WHOLE_LIST)
        self.shot("today-below")
        self.swipe("down", WHOLE_LIST)

    def rate_rows(self):
        """PR25: four measures of rows."""
        self.open("PR25/2026-before-cut-1", "today.go_on" if self.round else "today.rate")
        if self.round:  # others rated there
            self.tap("as_second.go_on")
        self.shot("rate-stake")
        self.tap("stake.other")
        self.shot("rate-stake-number")
        self.tap("key.back")
        self.script.tap("Stake/101")
        self.shot("rate-four-measures")
        self.tap("rate.single_points")
        self.shot("rate-points")
        self.tap("rate.tiles")
        self.pads(("maturity", "rate-grass-stage"), ("lodging", "rate-lodging"), ("disease", "rate-disease"))
        self.slip()
        self.tap("key.back")

    def slip(self):
        """The last open plot of the first block is rated; where the path turns another stake is seen than the tablet expects."""
        last = str(124 - self.round)
        self.script.do("type", f"{last}\n")
        self.script.do("expect", last)
        for measure, value in (("percent_stand", "95"), ("maturity", "R1"), ("lodging", "2"), ("disease", "3")):
            self.script.tap(f"{self.say(f'measure.{measure}')}/{value}")
            if self.round and measure == "percent_stand":
                self.shot("rate-other-rater")
                self.tap("phrase.go_on")
        self.script.do("expect", "224")
        self.tap("stake.other")
        self.script.digits("Stake", "223")
        self.tap("harvest.go")
        self.shot("rate-slipped")
        self.tap("stake.right")

    def hand_over(self, initials):
        """AL24 after its cutting, which goes on; note, lock and hand over from there."""
        self.open("AL24/2026-after-cut-1", "today.go_on")
        if self.who != PAST_RATER:
            self.shot("as-second")
            self.tap("as_second.go_on")
        self.shot("rate")
        self.pads(("maturity", "rate-stage"), ("stubble_height", "rate-stubble"))
        self.tap("key.note")
        self.shot("note")
        self.tap("key.back", "lock.key")
        self.shot("locked")
        self.script.tap("Locked/1", "Locked/2", f"Hand over/{initials}")
        self.shot("hand-over")
        self.tap("key.back", "key.back")

    def rate_ground(self):
        """Pads of other kinds: broadcast, canopy, counts, cells of a frame, plots of a block."""
        self.open("WC25/2026-may", "today.rate")
        self.script.tap("Stake/101")
        self.shot("rate-broadcast")
        self.pads(("plant_height_canopy", "rate-canopy"))
        self.tap("key.back")
        for occasion, picture in (("AL24/2026-stems", "rate-counts"), ("OG25/2026-frame", "rate-frame"),
                                  ("OG25/2026-heading", "rate-heading"), ("WC25/2026-flower", "rate-flower")):
            self.open(occasion, "today.go_on")
            self.shot(picture)
            self.tap("key.back")

    def rate_past(self):
        """Done ratings, at the end of the list, and what lies behind it."""
        self.swipe("up", WHOLE_LIST)
        if self.held == "lying":
            self.swipe("down")
        self.script.tap(f"OG25/2026-may/{self.say('today.look')}")
        self.look_at()
        self.pads(("plant_height_stretched", "rate-stretched"), ("ground_cover", "rate-cover"))
        self.script.tap("Card/Leaf texture")
        self.shot("rate-own-score")
        self.tap("key.back")
        self.swipe("up", 2)
        self.script.tap(f"SS26/2026-seedlings/{self.say('today.look')}")
        self.look_at()
        self.pads(("seedling_vigor", "rate-vigor"))
        self.tap("key.back")
        self.script.tap(self.say("today.earlier").format(len(long_past())))
        self.swipe("up")
        self.shot("today-earlier")
        self.script.tap(f"WC25/2026-winter/{self.say('today.look')}")
        self.look_at()
        self.pads(("winter_injury", "rate-winter-injury"))
        self.tap("key.back")
        self.swipe("down", WHOLE_LIST)
        self.down = 0

    def harvest(self, cutting, stubble):
        """What is cut next is weeks away. A cutting is begun all the same."""
        self.open(cutting, "today.weigh")
        self.shot("early")
        self.tap("early.weigh")
        self.caution("harvest")
        self.script.do("type", f"flail 2\n36 in\n{stubble} in")
        self.tap_in("Surface", "surface.dry")
        self.shot("harvest-head")
        self.tap("harvest.start")
        self.shot("harvest-stake")
        self.script.tap("Stake/101")
        self.script.digits("Harvest", "8.25")
        self.shot("harvest")
        self.question()
        self.tap("key.more")
        self.shot("harvest-more")
        self.tap("more.kind")
        self.shot("harvest-kind")
        self.tap("no_weight.back", "key.more", "more.swath")
        self.shot("harvest-strip")
        self.tap("key.more", "no_weight.open")
        self.shot("harvest-no-weight")
        self.tap("no_weight.back", "key.back")
        self.drag_to(0)

    def question(self):
        """A gross weight that is less than the tare."""
        self.tap("field.tare")
        self.script.digits("Harvest", "9")
        self.tap("harvest.keep")
        self.shot("harvest-question")
        self.tap("phrase.weigh_again")

    def drying(self):
        self.tap("key.dry")
        self.caution("dry-weights")
        self.shot("dry-weights")
        self.script.tap(f"Oven/{self.say('dry.oven')}")
        self.shot("oven")
        self.tap("key.back")
        self.tap_in("Sort", "sort.open")
        self.shot("sort-cuttings")
        self.script.tap("Cuttings/" + self.say("sort.cutting").format("AL24", "1", "2026"))
        self.shot("sort-samples")
        self.script.digits("Sort samples", "105")
        self.tap_in("Sort samples", "key.next")
        self.shot("sort-whole")
        self.tap("key.back", "key.back", "key.back")

    def review(self):
        """The stand of AL24 last spring, how all of it would slide, and beside it what the cutting left."""
        self.tap("key.review")
        self.script.tap("Review/PR25")
        self.shot("review-ratings")
        self.script.tap("AL24/AL24  2025-spring-stand")
        self.shot("review")
        self.tap("slide.title", "slide.on")
        self.shot("slide")
        self.tap("key.back")
        self.script.tap("Review/AL24", "AL24/AL24  2026-after-cut-1", self.say("review.compare"),
                        "AL24/AL24  2025-spring-stand")
        self.shot("compare")
        self.tap("review.compare")
        self.script.tap("Map/102")
        self.shot("history")
        self.script.tap(f"stubble_height/{self.say('history.mend')}")
        self.shot("mend")
        self.tap("key.back", "key.back", "key.back")

    def trials(self):
        self.tap("key.trials")
        self.swipe("down", 4)
        self.shot("trials")
        self.script.tap(f"AL24/{self.say('trials.open')}")
        self.shot("trial")
        self.script.tap("Plots/102")
        self.shot("as-sown")
        self.tap("sown.holds")
        self.shot("as-sown-entry")
        self.tap("key.back", "trials.entries")
        self.shot("trial-entries")
        self.tap("trials.soil")
        self.shot("trial-soil")
        self.tap("trials.events", "trials.new_event")
        self.shot("event")
        self.tap("key.back", "key.back", "trials.load")
        self.shot("plans")
        for folder, picture in (("TF23", "plan"), ("TF23-draft", "plan-faulty")):
            self.script.tap(f"Folders/{folder}")
            self.shot(picture)
            self.tap("key.back")
        self.tap("key.back", "key.back")

    def spray(self):
        """A spray keeps people out of the clover, until it is taken back."""
        self.tap("key.trials")
        self.swipe("up", 4)
        self.script.tap(f"WC25/{self.say('trials.open')}")
        self.tap("trials.events", "trials.new_event")
        self.tap_in("What", "event.spray")
        self.tap("event.field.material")
        self.script.do("type", "broadleaf spray")
        self.tap("event.written")
        self.shot("event-spray")
        self.swipe("up")
        self.tap("no_entry.by_hours")
        self.swipe("up")
        self.tap("event.field.no_entry_hours")
        self.script.digits("Trials", "48")
        self.tap("event.written", "event.field.ended")
        self.script.do("type", "7:15")
        self.tap("event.written")
        self.shot("event-no-entry")
        self.tap("event.keep", "key.back")
        self.shot("trials-below")
        self.tap("key.back")
        self.shot("today-no-entry")
        self.swipe("up")  # the list has less room below what is said of the spray
        self.script.tap(f"WC25/2026-may/{self.say('today.rate')}")
        self.shot("no-entry")
        self.tap("no_entry.stay_out")
        self.swipe("down", 2)
        self.tap("key.trials")
        self.swipe("up", 4)
        self.script.tap(f"WC25/{self.say('trials.open')}")
        self.tap("trials.events", "event.take_back")
        self.shot("event-back")
        self.script.tap(f"Why/{self.say('reason.mistap')}")
        self.shot("trial-events")
        self.tap("key.back", "key.back")

    def gloved(self):
        """For gloves, the left hand, large text: what is tapped most."""
        self.tap_in(self.say("prefer.gloves"), "prefer.gloves.gloves")
        self.tap_in(self.say("prefer.hand"), "prefer.hand.left")
        self.tap_in(self.say("prefer.text"), "prefer.text.large")
        self.look = "en-gloves"
        self.swipe("down", 4)
        self.shot("tablet")
        self.tap("key.back")
        self.swipe("down", WHOLE_LIST)
        self.shot("today")
        self.script.tap(f"PR25/2026-before-cut-1/{self.say('today.go_on')}")
        self.script.do("type", "118\n")
        self.shot("rate-four-measures")
        self.pads(("maturity", "rate-grass-stage"), ("lodging", "rate-lodging"))
        self.tap("key.back", "key.dry")
        self.shot("dry-weights")
        self.tap("key.back")

    def days_end(self):
        self.tap("key.days_end")
        self.shot("days-end")
        self.script.tap(f"AL24/2026-after-cut-1/{self.say('key.close')}")
        self.shot("closing")
        self.tap("closing.no", "key.back")


def looks(held):
    script = Script([f"Thursday, the tablet held {held}: every screen in each language and theme. On a copy of the ledger.",
                     "Made by make_day.py from looks.py."])
    looker = Looker(script, held)
    script.sign_in(LOOKS[0][0])
    for (initials, language, theme, cutting, stubble), (next_one, *_) in zip(LOOKS, [*LOOKS[1:], [""]]):
        looker.round += 1
        if initials in KNOWN:
            looker.words = words_of("en")
        looker.tap("key.tablet")
        looker.choose(language, theme)
        looker.walk(initials, cutting, stubble, next_one)
    script.tap("ODL")
    looker.words = words_of("en")
    looker.tap("key.tablet")
    looker.choose("en", "paper")
    looker.gloved()
    return script.text()
