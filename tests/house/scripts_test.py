#!/usr/bin/env python3
"""The scripts around the build: words refused, package lists, which sources clang-tidy is asked about."""

import importlib.util
import os
import pathlib
import subprocess
import tempfile
import unittest

TREE = pathlib.Path(__file__).resolve().parent.parent.parent
INSTALL = TREE / "app/packaging/install-packages.sh"
SYSROOT = TREE / "app/packaging/arm64-sysroot.sh"


def run(*words, **more):
    return subprocess.run(words, capture_output=True, text=True, check=False, **more)


def load_tidy():
    spec = importlib.util.spec_from_file_location("tidy", TREE / "tests/tidy.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


class RunScript(unittest.TestCase):
    def test_unknown_word_is_refused_before_anything_is_done(self):
        done = run(TREE / "tests/run.sh", "everything")
        self.assertEqual(done.returncode, 2)
        self.assertIn("no such word: everything", done.stderr)
        self.assertEqual(done.stdout, "")

    def test_two_words_are_refused(self):
        self.assertEqual(run(TREE / "tests/run.sh", "tidy", "asan").returncode, 2)

    def test_help_lists_every_word(self):
        done = run(TREE / "tests/run.sh", "--help")
        self.assertEqual(done.returncode, 0)
        for word in ("format", "tidy", "asan", "bench", "fuzz", "packages", "arm64", "ci", "full"):
            self.assertIn(f"tests/run.sh {word} ", done.stdout)


class DemoScript(unittest.TestCase):
    def test_unknown_option_is_refused_before_anything_is_done(self):
        done = run(TREE / "demo-plots/run.sh", "--windowed")
        self.assertEqual((done.returncode, done.stdout), (2, ""))
        self.assertIn("no such option: --windowed", done.stderr)

    def test_help_says_what_is_left_behind(self):
        done = run(TREE / "demo-plots/run.sh", "--help")
        self.assertEqual(done.returncode, 0)
        self.assertIn("--headless", done.stdout)
        self.assertIn("means.csv", done.stdout)


class Packages(unittest.TestCase):
    def install(self, text, path=None):
        """Runs the installer on a list of this text; path: folders programs are found in."""
        with tempfile.NamedTemporaryFile("w", suffix=".txt") as listing:
            listing.write(text)
            listing.flush()
            return run(INSTALL, listing.name, env={**os.environ, "PATH": path or os.environ["PATH"]})

    def test_all_there(self):
        done = self.install("# a comment\nbash\ncoreutils # another\n\n")
        self.assertEqual((done.returncode, done.stdout), (0, "packages: all 2 are there\n"))

    def test_no_list_and_missing_list(self):
        self.assertIn("at least one package list", run(INSTALL).stderr)
        done = run(INSTALL, "/no/such/list.txt")
        self.assertEqual((done.returncode, done.stderr), (1, "install-packages.sh: no such list: /no/such/list.txt\n"))

    def test_apt_that_fails_is_one_clear_line(self):
        with tempfile.TemporaryDirectory() as folder:
            fake = pathlib.Path(folder) / "apt-get"
            fake.write_text("#!/bin/sh\necho no mirror >&2\nexit 100\n", encoding="utf-8")
            fake.chmod(0o755)
            sudo = pathlib.Path(folder) / "sudo"
            sudo.write_text('#!/bin/sh\nexec "$@"\n', encoding="utf-8")
            sudo.chmod(0o755)
            done = self.install("no-such-package-of-ours\n", folder + ":" + os.environ["PATH"])
        self.assertEqual(done.returncode, 1)
        self.assertEqual(done.stdout, "packages: installing no-such-package-of-ours\n")
        self.assertIn("no mirror", done.stderr)
        self.assertIn("install-packages.sh: apt-get update failed", done.stderr.splitlines()[-1])


class Arm64Libraries(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.folder = pathlib.Path(folder.name)
        self.list = self.folder / "libraries.txt"
        self.list.write_text("# two\nlibzip-dev\nnettle-dev # hashes\n", encoding="utf-8")

    def lay(self, mmdebstrap="exit 100"):
        """Runs the script with this in place of mmdebstrap, which is given the archive to make as its last word."""
        stand_in = self.folder / "mmdebstrap"
        stand_in.write_text(f'#!/bin/bash\necho "$@" >>"{self.folder}/asked"\n{mmdebstrap}\n', encoding="utf-8")
        stand_in.chmod(0o755)
        path = f"{self.folder}:{os.environ['PATH']}"
        return run(SYSROOT, self.list, self.folder / "root", env={**os.environ, "PATH": path})

    def test_only_what_is_compiled_with_is_laid_and_once(self):
        made = f'mkdir -p "{self.folder}"/all/{{lib,tmp,usr/{{bin,include,lib,share/{{cmake,eigen3,pkgconfig,zoneinfo}}}}}}' \
               f' && tar -c -C "{self.folder}/all" -f "${{!#}}" .'
        self.assertEqual(self.lay(made).returncode, 0)
        self.assertIn("--include=libzip-dev,nettle-dev ", (self.folder / "asked").read_text(encoding="utf-8"))
        laid = {str(p.relative_to(self.folder / "root")) for p in (self.folder / "root").rglob("*")}
        self.assertEqual(laid, {"laid.txt", "lib", "usr", "usr/include", "usr/lib", "usr/share", "usr/share/cmake",
                                "usr/share/eigen3", "usr/share/pkgconfig"})
        again = self.lay()
        self.assertEqual((again.returncode, again.stdout), (0, "arm64: the libraries are there\n"))

    def test_what_fails_is_one_clear_line_and_is_tried_anew(self):
        for _ in range(2):
            done = self.lay("echo no mirror >&2; exit 100")
            self.assertEqual(done.returncode, 1)
            self.assertIn("no mirror", done.stderr)
            self.assertIn("arm64-sysroot.sh: mmdebstrap could not get them", done.stderr.splitlines()[-1])

    def test_no_list_and_missing_list(self):
        self.assertEqual(run(SYSROOT).stderr, "arm64-sysroot.sh: name a list of packages and a folder\n")
        self.list.unlink()
        self.assertIn(f"no such list: {self.list}", self.lay().stderr)


class TidyChoice(unittest.TestCase):
    def setUp(self):
        self.tidy = load_tidy()
        self.commands = {p: [] for p in ("storage/trial/plan.cc", "storage/trial/error.cc", "storage/trial/yield.cc")}
        self.home = os.getcwd()
        os.chdir(TREE)
        self.addCleanup(os.chdir, self.home)

    def test_a_source_stands_for_itself(self):
        self.assertEqual(self.tidy.sources_for(["storage/trial/plan.cc", "README.md"], self.commands),
                         ["storage/trial/plan.cc"])

    def test_a_header_stands_for_its_source_else_for_one_that_includes_it(self):
        self.assertEqual(self.tidy.sources_for(["storage/trial/error.h"], self.commands), ["storage/trial/error.cc"])
        chosen = self.tidy.sources_for(["storage/trial/quantity.h"], self.commands)
        self.assertEqual(len(chosen), 1)

    def test_a_changed_configuration_stands_for_everything(self):
        self.assertEqual(self.tidy.sources_for([".clang-tidy"], self.commands), sorted(self.commands))

    def test_no_file_is_started_when_time_is_up(self):
        self.assertEqual(self.tidy.look_at("storage/trial/plan.cc", [], b"", pathlib.Path("/"), 0, False),
                         ("storage/trial/plan.cc", "not reached", "", 0))

    def test_nothing_changed(self):
        self.assertEqual(self.tidy.sources_for([], self.commands), [])


if __name__ == "__main__":
    unittest.main()
