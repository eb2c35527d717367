#!/usr/bin/env python3
"""The tracing check can fail: broken chains, conflicts, wrong means and strange rows are each found."""

import hashlib
import pathlib
import sys
import tempfile
import unittest
import zipfile

TREE = pathlib.Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(TREE / "demo-plots"))

import check_numbers as check  # noqa: E402  (the folder is known only now)

COLUMNS = ("stream,seq,id,kind,format,utc_ms,offset_min,local_date,person,trial,plan,subject,measure,occasion,part,run,"
           "purpose,state,entered,unit,value,definition,targets,reason,answers,blind,source,raw,details").split(",")


def body(seq, **cells):
    row = {**dict.fromkeys(COLUMNS, ""), "stream": "s", "seq": str(seq), "id": f"r{seq}", **cells}
    return ",".join(row[c] for c in COLUMNS)


def season(folder, bodies, head=None):
    """A file of the season format's payload, chained as the format says."""
    digest = bytes(32)
    for line in bodies:
        digest = hashlib.sha256(digest + line.encode()).digest()
    path = pathlib.Path(folder) / "season.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("n/data/records.csv", "\r\n".join([",".join(COLUMNS), *bodies, ""]))
        archive.writestr("n/data/stream.csv", "stream,first,digest_before,head\r\n"
                         f"s,1,{'0' * 64},{head or digest.hex()}\r\n")
    return path


def claim(record_id, value, targets="", kind="reading"):
    return {"id": record_id, "kind": kind, "targets": targets, "subject": "p", "measure": "m", "occasion": "o",
            "purpose": "survey", "state": "value", "value": value, "entered": value, "part": "1"}


class Chain(unittest.TestCase):
    def test_a_sound_chain_is_read(self):
        with tempfile.TemporaryDirectory() as folder:
            records = check.read_season(season(folder, [body(1), body(2, entered="4")]))
        self.assertEqual([r["entered"] for r in records], ["", "4"])

    def test_a_changed_record_breaks_it(self):
        with tempfile.TemporaryDirectory() as folder:
            path = season(folder, [body(1), body(2)], head="ab" * 32)
            with self.assertRaisesRegex(check.Broken, "head"):
                check.read_season(path)

    def test_a_lost_record_breaks_it(self):
        with tempfile.TemporaryDirectory() as folder:
            with self.assertRaisesRegex(check.Broken, "out of place"):
                check.read_season(season(folder, [body(1), body(3)]))


class Standing(unittest.TestCase):
    def test_a_correction_stands_for_what_it_names(self):
        slots = check.standing_values([claim("a", "1"), claim("b", "2", "a", "correction")])
        self.assertEqual(slots[("p", "m", "o", 1)]["value"], "2")

    def test_a_withdrawn_value_does_not_stand(self):
        self.assertEqual(check.standing_values([claim("a", "1"), claim("b", "", "a", "withdrawal")]), {})

    def test_two_values_are_a_conflict(self):
        with self.assertRaisesRegex(check.Broken, "conflict"):
            check.standing_values([claim("a", "1"), claim("b", "2")])


class FakeSite:
    """A trial whose plots and occasions are called as they are written."""

    def plot_id(self, plot):
        return plot

    def occasion_id(self, code):
        return code


class Several(unittest.TestCase):
    """Values that are more than one number, or one a day."""

    def table(self, text, check_table, standing):
        with tempfile.TemporaryDirectory() as folder:
            file = pathlib.Path(folder) / "table.csv"
            file.write_text(text, encoding="utf-8")
            return check_table(file, {"T": FakeSite()}, standing)

    def frame(self, **other):
        record = {"entered": "2 1", "value": "3", "details": '{"cells":"011 010"}', **other}
        return self.table("trial,occasion,plot,cells\nT,o,p,011 010\n", check.check_frames,
                          {("p", "frequency_grid", "o", 1): record})

    def test_cells_of_a_frame_are_found(self):
        self.assertEqual(self.frame(), 50)

    def test_another_cell_count_or_value_is_noticed(self):
        for other in ({"details": '{"cells":"110 010"}'}, {"entered": "1 2"}, {"value": "4"}):
            with self.assertRaises(check.Broken):
                self.frame(**other)

    def stems(self, **other):
        # Mean of 1 x 3, 3 x 4: 15 / 4.
        record = {"entered": "3=1 4=3", "value": "3.75", **other}
        return self.table("trial,occasion,plot,counts\nT,o,p,3=1 4=3\n", check.check_stems,
                          {("p", "stage_counts", "o", 1): record})

    def test_counted_stems_are_found(self):
        self.assertEqual(self.stems(), 4)

    def test_another_stem_or_mean_is_noticed(self):
        for other in ({"entered": "3=2 4=2"}, {"value": "3.7"}):
            with self.assertRaises(check.Broken):
                self.stems(**other)

    def events(self, **other):
        record = {"kind": "event", "trial": "t", "entered": "fertilizer", "reason": "late",
                  "details": '{"on":"2026-05-19","rate":"60 lb/acre"}',
                  **other}
        with tempfile.TemporaryDirectory() as folder:
            file = pathlib.Path(folder) / "events.csv"
            file.write_text("trial,what,on,material,rate,words\nT,fertilizer,2026-05-19,,60 lb/acre,late\n", encoding="utf-8")
            site = FakeSite()
            site.id = "t"
            return check.check_events(file, {"T": site}, [record])

    def test_an_event_is_found(self):
        self.assertEqual(self.events(), 1)

    def test_another_event_is_noticed(self):
        for other in ({"trial": "u"}, {"entered": "lime"}, {"reason": ""}, {"details": '{"on":"2026-05-19","rate":"600 lb/acre"}'}):
            with self.assertRaisesRegex(check.Broken, "records say so"):
                self.events(**other)

    def visits(self, **other):
        # 1 January of the year before is day 1: 20 May 2026 is 365 + 140.
        standing = {("p", "heading_date", "o", 505): {"entered": "not_yet", **other}}
        return self.table("trial,occasion,measure,day,plot,found\nT,o,heading_date,2026-05-20,p,not_yet\n",
                          check.check_visits, standing)

    def test_what_a_visit_found_is_looked_for_on_its_day(self):
        self.assertEqual(self.visits(), 1)
        with self.assertRaisesRegex(check.Broken, "was found"):
            self.visits(entered="reached")

    def test_parts_have_slots_of_their_own(self):
        second = {**claim("b", "2"), "part": "2"}
        slots = check.standing_values([claim("a", "1"), second])
        self.assertEqual([slots[("p", "m", "o", part)]["value"] for part in (1, 2)], ["1", "2"])


class Separated(unittest.TestCase):
    """Two parts in bags of 10 g, 60 and 40 g dry without them; nothing of the other three."""

    class Site(FakeSite):
        bag_tare = 0.01
        plan = {"occasions": [{"code": "o", "job": "harvest", "year": 2026, "cutting": 1}]}

    def records(self):
        standing, by_id = {}, {}
        for part, dry in ((1, "70"), (2, ""), (3, "50"), (4, ""), (5, "")):
            bag = {"id": f"b{part}", "targets": "", "state": "value" if dry else "zero", "entered": str(part) if dry else ""}
            by_id[bag["id"]] = standing[("p", "part_bag", "o", part)] = bag
            if dry:
                standing[(bag["id"], "sample_dry", "o", 1)] = {"seq": "1", "state": "value", "entered": dry,
                                                                   "value": dry, "unit": "g"}
        return standing, by_id

    def compare(self, **other):
        standing, by_id = self.records()
        row = {"test": "T", "year": "2026", "cutting": "1", "plot": "p", "sown_percent": "60", "other_sown_percent": "0",
               "grass_weed_percent": "40", "broadleaf_percent": "0", "dead_percent": "0", "sown_yield": "1.2",
               "sown_yield_from": "separated sample", **other}
        before = check.plot_yields
        check.plot_yields = lambda *_: {"p": 2.0}
        try:
            with tempfile.TemporaryDirectory() as folder:
                file = pathlib.Path(folder) / "composition.csv"
                file.write_text(",".join(row) + "\n" + ",".join(row.values()) + "\n", encoding="utf-8")
                return check.compare_compositions({"T": self.Site()}, standing, by_id, file)
        finally:
            check.plot_yields = before

    def test_percents_and_sown_yield_are_computed_anew(self):
        self.assertEqual(self.compare(), 1)

    def test_another_share_yield_or_basis_is_noticed(self):
        for other in ({"sown_percent": "60.00001"}, {"sown_yield": "1.20001"}, {"sown_yield_from": "weeds by eye"}):
            with self.assertRaises(check.Broken):
                self.compare(**other)

    def test_a_part_that_is_not_said_is_noticed(self):
        standing, by_id = self.records()
        del standing[("p", "part_bag", "o", 5)]
        self.assertIsNone(check.dry_parts(self.Site(), "p", "o", standing, by_id))


class FakeTrial:
    code, blocks = "T", [1, 2]
    plan = {"plots": [{"number": f"{b}{e}", "block": b, "entry": e} for b in (1, 2) for e in "xyz"], "occasions": []}

    def label(self, entry):
        return entry


class Fractions(unittest.TestCase):
    def test_a_bag_that_is_gone_takes_its_entrys_mean_of_the_day(self):
        found = {"1": ("x", "d1", "dry", 0.2), "2": ("x", "d1", "dry", 0.3), "3": ("x", "d1", "dew", 0.9),
                 "4": ("x", "d2", "dry", 0.9), "5": ("y", "d1", "dry", 0.9), "6": ("x", "d1", "dry", None)}
        self.assertEqual(check.fraction_of("1", found), 0.2)
        self.assertAlmostEqual(check.fraction_of("6", found), 0.25, places=12)

    def test_else_the_trials_mean_of_the_day(self):
        found = {"1": ("y", "d1", "dry", 0.2), "2": ("z", "d1", "dew", 0.3), "3": ("x", "d2", "dry", 0.9),
                 "6": ("x", "d1", "dry", None)}
        self.assertAlmostEqual(check.fraction_of("6", found), 0.25, places=12)
        self.assertIsNone(check.fraction_of("6", {"6": ("x", "d1", "dry", None)}))


class Means(unittest.TestCase):
    def test_complete_blocks_give_plain_means(self):
        values = {"1x": 1.0, "1y": 2.0, "1z": 4.0, "2x": 3.0, "2y": 4.0, "2z": 5.0}
        means = check.entry_means(FakeTrial(), values)
        for entry, mean in {"x": 2.0, "y": 3.0, "z": 4.5}.items():
            self.assertAlmostEqual(means[entry], mean, places=12)

    def test_a_missing_plot_is_made_up_for_by_its_block(self):
        # Block 2 is 2 higher for x and y, so z, seen in block 1 only, is put half of that higher.
        means = check.entry_means(FakeTrial(), {"1x": 1.0, "1y": 2.0, "1z": 4.0, "2x": 3.0, "2y": 4.0})
        for entry, mean in {"x": 2.0, "y": 3.0, "z": 5.0}.items():
            self.assertAlmostEqual(means[entry], mean, places=12)

    def compare(self, mean, extra=""):
        values = {"1x": 1.0, "1y": 2.0, "1z": 4.0, "2x": 3.0, "2y": 4.0, "2z": 5.0}
        before = check.analyses
        check.analyses = lambda *_: {("2026", "1"): values}
        try:
            with tempfile.TemporaryDirectory() as folder:
                file = pathlib.Path(folder) / "means.csv"
                file.write_text(f"test,year,cutting,entry,mean\nT,2026,1,x,{mean}\nT,2026,1,y,3\nT,2026,1,z,4.5\n{extra}",
                                encoding="utf-8")
                return check.compare({"T": FakeTrial()}, {}, {}, file)
        finally:
            check.analyses = before

    def test_equal_means_pass(self):
        self.assertEqual(self.compare("2")[0], 3)

    def test_a_mean_off_in_the_ninth_digit_is_found(self):
        with self.assertRaisesRegex(check.Broken, "the records give"):
            self.compare("2.00000001")

    def test_a_row_no_record_gives_is_found(self):
        with self.assertRaisesRegex(check.Broken, "no record gives"):
            self.compare("2", "T,2026,2,x,1\n")


if __name__ == "__main__":
    unittest.main()
