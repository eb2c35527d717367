#!/usr/bin/env python3
"""Plants faults in a small tree and expects house.py to name each of them, and nothing else."""

import pathlib
import tempfile
import unittest
import unittest.mock

import house
import rooms

SOUND = {
    "CMakeLists.txt": "add_subdirectory(storage) add_subdirectory(sync) add_subdirectory(app) add_subdirectory(tests)\n",
    "README.md": "", "DEVELOPERS.md": "", ".clang-format": "", ".clang-tidy": "", ".gitignore": "",
    ".ci/run": "", "assets/measures.json": "", "demo-plots/run.sh": "", "sync/CMakeLists.txt": "",
    "storage/CMakeLists.txt": "add_subdirectory(trial) add_subdirectory(ledger)\n",
    "storage/trial/CMakeLists.txt": "ligule_room(trial SOURCES plan.cc)\n",
    "storage/trial/plan.h": "#include <string>\n",
    "storage/trial/plan.cc": '#include "storage/trial/plan.h"\n\n#include <fmt/format.h>\n',
    "storage/ledger/CMakeLists.txt": "ligule_room(ledger SOURCES log.cc PUBLIC ligule_trial)\n",
    "storage/ledger/log.h": '#include "storage/trial/plan.h"\n',
    "storage/ledger/log.cc": "#include <SQLiteCpp/SQLiteCpp.h>\n#include <filesystem>\n",
    "app/CMakeLists.txt": "",
    "tests/CMakeLists.txt": "foreach(floor storage)\nendforeach()\n",
    "tests/storage/CMakeLists.txt": "foreach(room ledger)\nendforeach()\n",
    "tests/storage/ledger/CMakeLists.txt": "ligule_test(ledger_test SOURCES log_test.cc)\n",
    "tests/storage/ledger/log_test.cc":
        '#include <gtest/gtest.h>\n#include <sqlite3.h>\n#include "storage/ledger/log.h"\n',
}


class Planted(unittest.TestCase):
    def setUp(self):
        # The real tree's excuses name files of the real tree.
        excuses = unittest.mock.patch.dict(rooms.LONG_FILES, {}, clear=True)
        excuses.start()
        self.addCleanup(excuses.stop)

    def faults(self, check, changes):
        """Faults that a check finds in the sound tree with these files put in (None: taken out)."""
        with tempfile.TemporaryDirectory() as folder:
            tree = pathlib.Path(folder)
            for name, text in {**SOUND, **changes}.items():
                if text is not None:
                    (tree / name).parent.mkdir(parents=True, exist_ok=True)
                    (tree / name).write_text(text, encoding="utf-8")
            return house.CHECKS[check](tree)[1]

    def expect_one(self, check, changes, *parts):
        found = self.faults(check, changes)
        self.assertEqual(len(found), 1, found)
        for part in parts:
            self.assertIn(part, found[0])

    def test_sound_tree_has_no_fault(self):
        for check in house.CHECKS:
            self.assertEqual(self.faults(check, {}), [], check)

    def test_empty_tree_is_no_success(self):
        with tempfile.TemporaryDirectory() as folder:
            self.assertEqual(house.CHECKS["includes"](pathlib.Path(folder))[0], 0)

    # --- includes
    def test_up(self):
        self.expect_one("includes", {"storage/trial/plan.cc": '#include "storage/ledger/log.h"\n'},
                        "storage/trial/plan.cc:1", "must not include storage/ledger")

    def test_up_a_floor(self):
        self.expect_one("includes", {"storage/ledger/log.cc": '\n#include "app/flow/model.h"\n', "app/flow/model.h": ""},
                        "storage/ledger/log.cc:2", "must not include app/flow")

    def test_sideways(self):
        self.expect_one("includes", {"sync/gather/a.h": "", "sync/results/b.cc": '#include "sync/gather/a.h"\n'},
                        "sync/results must not include sync/gather")

    def test_statistics_knows_nothing_of_ours(self):
        self.expect_one("includes", {"sync/statistics/fit.cc": '#include "storage/trial/plan.h"\n'},
                        "sync/statistics must not include storage/trial")

    def test_climbing_path(self):
        self.expect_one("includes", {"storage/ledger/log.cc": '#include "../trial/plan.h"\n'}, "climbs")

    def test_path_from_elsewhere(self):
        self.expect_one("includes", {"storage/trial/plan.cc": '#include "plan.h"\n'}, "is not there")

    def test_library_of_another_room(self):
        for header in ("SQLiteCpp/SQLiteCpp.h", "sqlite3.h", "sodium.h", "zip.h", "csv.h", "imgui.h", "SDL.h", "png.h",
                       "unistd.h", "date/tz.h"):
            self.expect_one("includes", {"storage/trial/plan.cc": f"#include <{header}>\n"}, f"<{header}> belongs to")

    def test_heavy_header_in_another_file_of_its_room(self):
        self.expect_one("includes", {"storage/trial/plan.h": "#include <nlohmann/json.hpp>\n"}, "nlohmann")
        self.expect_one("includes", {"sync/statistics/fit.h": "#include <Eigen/Core>\n"}, "Eigen")
        self.expect_one("includes", {"sync/desk/other.cc": "#include <CLI/CLI.hpp>\n"}, "CLI")

    def test_unknown_library(self):
        self.expect_one("includes", {"storage/ledger/log.cc": "#include <rocksdb/db.h>\n"}, "no library of ours")

    def test_pure_room_with_a_file_header(self):
        for header in ("fstream", "filesystem", "cstdio", "thread"):
            self.expect_one("includes", {"storage/trial/plan.cc": f"#  include  <{header}>\n"}, "computes only", header)

    def test_test_that_reaches_up(self):
        self.expect_one("includes", {"tests/storage/ledger/log_test.cc": '#include "sync/seal/bag.h"\n',
                                     "sync/seal/bag.h": ""}, "must not include sync/seal")

    def test_test_with_a_library_of_no_room_below_it(self):
        self.expect_one("includes", {"tests/storage/ledger/log_test.cc": "#include <zip.h>\n"}, "<zip.h> belongs to")

    def test_room_that_includes_a_test(self):
        self.expect_one("includes", {"storage/ledger/log.cc": '#include "tests/storage/ledger/log_test.cc"\n'},
                        "only tests include tests")

    def test_file_in_no_room(self):
        self.expect_one("includes", {"storage/helpers/a.h": ""}, "storage/helpers/a.h", "no room")

    # --- links
    def test_link_upwards(self):
        self.expect_one("links", {"storage/trial/CMakeLists.txt": "ligule_room(trial SOURCES plan.cc PUBLIC ligule_ledger)"},
                        "storage/trial must not link to storage/ledger")

    def test_link_in_a_comment_is_none(self):
        self.assertEqual(self.faults("links", {"storage/trial/CMakeLists.txt": "# not ligule_ledger\n"}), [])

    # --- top
    def test_stranger_on_top(self):
        self.expect_one("top", {"scripts/a.sh": ""}, "scripts", "top level")
        self.expect_one("top", {".editorconfig": ""}, ".editorconfig")

    def test_missing_from_top(self):
        self.expect_one("top", {"DEVELOPERS.md": None}, "DEVELOPERS.md", "missing")

    def test_unknown_room(self):
        self.expect_one("top", {"sync/cloud/a.txt": ""}, "sync/cloud")

    def test_unknown_test_folder(self):
        self.expect_one("top", {"tests/misc/a.txt": ""}, "tests/misc")

    # --- built
    def test_test_that_is_never_built(self):
        self.expect_one("built", {"tests/storage/ledger/other_test.cc": ""}, "other_test.cc", "built by nothing")

    def test_commented_out_is_not_built(self):
        self.expect_one("built", {"storage/trial/CMakeLists.txt": "ligule_room(trial SOURCES\n# plan.cc\n)"}, "plan.cc")

    def test_list_that_is_never_read(self):
        self.expect_one("built", {"tests/storage/trial/CMakeLists.txt": ""}, "tests/storage/trial", "never read")

    # --- lengths
    def test_too_long(self):
        self.expect_one("lengths", {"storage/trial/plan.h": "\n" * (rooms.MAX_LINES + 1)}, "plan.h", "split it")
        self.assertEqual(self.faults("lengths", {"storage/trial/plan.h": "\n" * rooms.MAX_LINES}), [])

    def test_excused_length_and_excuse_left_behind(self):
        rooms.LONG_FILES["storage/trial/plan.h"] = "a reason"
        self.assertEqual(self.faults("lengths", {"storage/trial/plan.h": "\n" * (rooms.MAX_LINES + 1)}), [])
        self.expect_one("lengths", {"storage/trial/plan.h": None}, "plan.h", "is not there")


class Tables(unittest.TestCase):
    def test_rooms_form_no_circle(self):
        for room, allowed in rooms.ROOMS.items():
            for other in allowed:
                self.assertIn(other, rooms.ROOMS)
                self.assertNotIn(room, house.below(other), f"{room} and {other} rest on each other")

    def test_no_room_rests_on_a_higher_floor(self):
        height = {"storage": 1, "sync": 2, "app": 3}
        for room, allowed in rooms.ROOMS.items():
            if room.split("/")[0] in height:
                for other in allowed:
                    self.assertLessEqual(height[other.split("/")[0]], height[room.split("/")[0]], (room, other))

    def test_libraries_name_rooms_or_sources(self):
        for header, users in rooms.LIBRARIES.items():
            for user in users:
                self.assertTrue(user in rooms.ROOMS or user.endswith(".cc"), (header, user))


if __name__ == "__main__":
    unittest.main()
