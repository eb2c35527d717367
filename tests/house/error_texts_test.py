#!/usr/bin/env python3
"""Plants errors and phrases in a small tree and expects error_texts.py to name what is missing, and nothing else."""

import errno
import json
import os
import pathlib
import tempfile
import unittest
import unittest.mock

import error_texts

SOURCE = """
#include "storage/files/csv.h"
// fail(kind, "a comment is no text");
Result<void> stands_twice(const Plot& plot, bool gone) {
  if (gone) return fail(ErrorKind::kInvalid, "plot " + plot.number + " stands twice", where, "keep " "one of them");
  return fail(kIo, std::string("the copy is lost") + (gone ? " and was removed" : " and stays") + at(plot["x"], 'y'));
}
"""


class Texts(unittest.TestCase):
    def texts(self, source):
        return error_texts.texts_of(source)[0]

    def test_what_is_put_together_is_one_template(self):
        self.assertEqual(self.texts(SOURCE), {"plot {} stands twice", "keep one of them",
                                              "the copy is lost and was removed{}", "the copy is lost and stays{}"})

    def test_a_choice_of_texts_gives_both(self):
        self.assertEqual(self.texts('x = a ? "one thing" : "other " + thing;'), {"one thing", "other {}"})

    def test_texts_within_arguments_of_arguments(self):
        self.assertEqual(self.texts('f(g(h("deep text " + n), 2), {k, "in braces " + std::to_string(n)});'),
                         {"deep text {}", "in braces {}"})

    def test_codes_queries_and_paths_are_none(self):
        self.assertEqual(self.texts('f("code", "SELECT a FROM b", "plots.csv", "", ", ");'), set())

    def test_escapes_are_read(self):
        self.assertEqual(self.texts(r'f("say \"no\" to it");'), {'say "no" to it'})


class Planted(unittest.TestCase):
    def faults(self, phrases, source=SOURCE, places=(), english=None):
        machine = {os.strerror(getattr(errno, name)): "x" for name in error_texts.MACHINE}
        with tempfile.TemporaryDirectory() as folder, \
                unittest.mock.patch.dict(error_texts.OUT_OF_REACH, clear=True), \
                unittest.mock.patch.dict(error_texts.NOT_SHOWN, clear=True):
            root = pathlib.Path(folder)
            files = {"storage/files/csv.cc": source,
                     "assets/plan/plots.schema.json": json.dumps({"fields": [{"name": "number",
                                                                              "description": "Number on the stake."}]}),
                     "assets/errors/es.json": json.dumps({"texts": machine | dict.fromkeys(phrases, "x"),
                                                          "places": dict.fromkeys(places, "x")})}
            if english is not None:
                files["assets/errors/en.json"] = json.dumps({"texts": english, "places": {}})
            for name, text in files.items():
                (root / name).parent.mkdir(parents=True, exist_ok=True)
                (root / name).write_text(text, encoding="utf-8")
            return error_texts.check(root)[1]

    SOUND = ("plot {0} stands twice", "keep one of them", "the copy is lost and was removed{0}",
             "the copy is lost and stays{0}", "Number on the stake.")

    def expect_one(self, part, *args, **kwargs):
        found = self.faults(*args, **kwargs)
        self.assertEqual(len(found), 1, found)
        self.assertIn(part, found[0])

    def test_a_whole_book_has_no_fault(self):
        self.assertEqual(self.faults(self.SOUND), [])

    def test_a_text_without_a_phrase(self):
        for left_out in self.SOUND:
            self.expect_one(f"'{error_texts.as_template(left_out)}' of",
                            [phrase for phrase in self.SOUND if phrase != left_out])

    def test_a_phrase_that_is_said_nowhere(self):
        self.expect_one("'plot {} stands thrice' is said nowhere", [*self.SOUND, "plot {0!} stands thrice"])
        self.expect_one("'row {}' is said nowhere", self.SOUND, places=["row {0}"])

    def test_a_phrase_of_holes_and_signs_needs_no_source(self):
        self.assertEqual(self.faults([*self.SOUND, "{0}: {1!}"]), [])

    def test_a_single_word_counts_where_it_stands(self):
        self.assertEqual(self.faults([*self.SOUND, "weight"], SOURCE + 'auto x = unknown(unit, "weight");'), [])

    # The English book needs a phrase only where a text speaks of the machine room, and says it otherwise.
    def test_the_english_book(self):
        source = SOURCE + 'auto y = f("the ledger is damaged" + detail);'
        phrases = [*self.SOUND, "the ledger is damaged{0}"]
        self.assertEqual(self.faults(phrases, source, english={"the ledger is damaged{0}": "the data are damaged{0}"}), [])
        self.expect_one("errors/en.json: 'the ledger is damaged{}' of", phrases, source, english={})
        self.expect_one("in the words of the machine room", phrases, source,
                        english={"the ledger is damaged{0}": "this ledger is damaged{0}"})


if __name__ == "__main__":
    unittest.main()
