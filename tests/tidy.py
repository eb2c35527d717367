#!/usr/bin/env python3
"""Runs clang-tidy-19 over the tree's C++ sources and remembers what was clean.

`changed` means: what differs from the merge base with origin/main; where HEAD is that very commit
(or there is no origin), what differs from the newest commit older than four hours; where there is
none, everything. A header stands for the source of its own name, else for one that includes it;
a changed .clang-tidy or tidy.py stands for everything.

--minutes M starts no file after M minutes and says how many were not reached; the code comes before its tests. A run after
it finds the clean ones remembered and goes on from there.

`changed` leaves clang's path analyzer out: it is most of the time (28 s instead of 6 s on a source of
app/flow) and its findings are rare, so it belongs to `all`, which tests/run.sh full asks for.

A clean file is remembered under the digest of its preprocessed text with comments, its flags,
.clang-tidy and the tool's version, in ${XDG_CACHE_HOME:-~/.cache}/ligule-tidy: a second run over
the same text costs one preprocessing. Files with findings are never remembered.
"""

import argparse
import concurrent.futures
import functools
import hashlib
import json
import math
import os
import pathlib
import re
import shlex
import subprocess
import sys
import time

TIDY = "clang-tidy-19"
CLANG = "clang++-19"
# Warnings that only g++ knows; clang would call the flag itself an error.
GCC_ONLY = {"-Wduplicated-cond", "-Wlogical-op"}
SOURCE_ROOTS = ("storage/", "sync/", "app/", "tests/", "demo-plots/")


def git(*words):
    """Output of a git command, None where git or the commit is not there."""
    try:
        done = subprocess.run(["git", "-c", "safe.directory=*", *words], capture_output=True, text=True, check=True)
    except (OSError, subprocess.CalledProcessError):
        return None
    return done.stdout.strip()


def changed_paths():
    """Paths that differ from where the change began, with what it was measured from; None = all."""
    head = git("rev-parse", "HEAD")
    if head is None:
        return None, "no git history"
    base = git("merge-base", "HEAD", "origin/main")
    since = "the merge base with origin/main"
    if base is None or base == head:
        base = git("rev-list", "-1", f"--before={int(time.time()) - 4 * 3600}", "HEAD")
        since = "the newest commit older than four hours"
    if not base:
        return None, "no commit is older than four hours"
    listed = git("diff", "--name-only", "--diff-filter=d", base)
    extra = git("ls-files", "--others", "--exclude-standard")
    if listed is None or extra is None:
        return None, f"git cannot compare with {base}"
    return sorted(set(listed.splitlines()) | set(extra.splitlines())), f"{since} ({base[:12]})"


def sources_for(paths, commands):
    """The sources to look at for these changed paths."""
    if any(p in (".clang-tidy", "tests/.clang-tidy", "tests/tidy.py") for p in paths):
        return sorted(commands)
    wanted = {p for p in paths if p in commands}
    for header in (p for p in paths if p.endswith(".h")):
        own = header[:-2] + ".cc"
        if own in commands:
            wanted.add(own)
            continue
        user = next((s for s in sorted(commands) if header in headers_of(s)), None)
        wanted |= {user} if user else set()
    return sorted(wanted)


@functools.cache
def headers_of(path):
    """Our headers that a file includes, directly or through others."""
    file = pathlib.Path(path)
    direct = set(re.findall(r'#include "([^"]+)"', file.read_text(encoding="utf-8"))) if file.is_file() else set()
    return direct.union(*(headers_of(h) for h in direct))


def load_commands(build):
    """Arguments of each source of ours, without compiler, launcher, input, output and g++ warnings."""
    commands = {}
    for step in json.loads((build / "compile_commands.json").read_text(encoding="utf-8")):
        path = os.path.relpath(os.path.join(step["directory"], step["file"]))
        if not path.startswith(SOURCE_ROOTS):
            continue
        words = shlex.split(step["command"])
        flags = []
        skip = False
        for word in words[1:]:
            if skip:
                skip = False
            elif word in ("-o", "-c"):
                skip = True
            elif word not in GCC_ONLY and not word.endswith("/c++") and not word.endswith("/g++"):
                flags.append(word)
        commands[path] = flags
    return commands


def key_of(source, flags, common):
    """Digest of all that decides what clang-tidy says; None where it does not even preprocess."""
    done = subprocess.run([CLANG, *flags, "-E", "-CC", source], capture_output=True, check=False)
    if done.returncode != 0:
        return None
    digest = hashlib.sha256(common)
    digest.update("\0".join(flags).encode())
    digest.update(done.stdout)
    return digest.hexdigest()


def look_at(source, flags, common, cache, until, analyzer):
    """(source, how it went, text to show, seconds). until: when to start nothing any more, by the monotonic clock."""
    began = time.monotonic()
    if began > until:
        return source, "not reached", "", 0
    text = key_of(source, flags, common)
    # What was clean with the analyzer is clean without it.
    keys = [f"{text}-{how}" for how in (["analyzed"] if analyzer else ["looked-at", "analyzed"])] if text else []
    if any((cache / key).exists() for key in keys):
        return source, "remembered", "", time.monotonic() - began
    checks = [] if analyzer else ["--checks=-clang-analyzer-*"]
    done = subprocess.run([TIDY, "--quiet", *checks, source, "--", *flags], capture_output=True, text=True, check=False)
    spent = time.monotonic() - began
    if done.returncode != 0:
        said = done.stdout + re.sub(r"(?m)^\d+ warnings? (and \d+ errors? )?generated\.\n", "", done.stderr)
        return source, "faulty", said, spent
    if keys:
        (cache / keys[0]).write_text(source + "\n", encoding="utf-8")
    return source, "clean", "", spent


def forget_old(cache):
    """Entries not made within 60 days go, so that the folder stays small."""
    limit = time.time() - 60 * 86400
    for entry in cache.iterdir():
        if re.fullmatch(r"[0-9a-f]{64}-(analyzed|looked-at)", entry.name) and entry.stat().st_mtime < limit:
            entry.unlink(missing_ok=True)


def main():
    parser = argparse.ArgumentParser(description="clang-tidy-19 over changed sources or all of them")
    parser.add_argument("which", choices=("changed", "all"))
    parser.add_argument("--build", type=pathlib.Path, required=True, help="a configured build folder")
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--minutes", type=float, default=math.inf, help="start no file after this long")
    asked = parser.parse_args()
    os.chdir(pathlib.Path(__file__).resolve().parent.parent)

    commands = load_commands(asked.build)
    sources, why = sorted(commands), "every file"
    if asked.which == "changed":
        paths, since = changed_paths()
        why = f"changed since {since}" if paths is not None else f"every file: {since}"
        if paths is not None:
            sources = sources_for(paths, commands)
    print(f"clang-tidy: {len(sources)} of {len(commands)} sources ({why})", flush=True)

    cache = pathlib.Path(os.environ.get("XDG_CACHE_HOME") or pathlib.Path.home() / ".cache") / "ligule-tidy"
    cache.mkdir(parents=True, exist_ok=True)
    forget_old(cache)
    version = subprocess.run([TIDY, "--version"], capture_output=True, check=True).stdout
    common = pathlib.Path(".clang-tidy").read_bytes() + pathlib.Path("tests/.clang-tidy").read_bytes() + version

    count = {"clean": 0, "remembered": 0, "faulty": 0, "not reached": 0}
    sources.sort(key=lambda s: (s.startswith("tests/"), s))
    until = time.monotonic() + 60 * asked.minutes
    with concurrent.futures.ThreadPoolExecutor(max_workers=asked.jobs) as pool:
        runs = [pool.submit(look_at, s, commands[s], common, cache, until, asked.which == "all") for s in sources]
        for run in concurrent.futures.as_completed(runs):
            source, how, text, spent = run.result()
            count[how] += 1
            if how in ("clean", "faulty"):
                print(f"  {how} {source} ({spent:.0f} s)", flush=True)
            if text:
                print(text, flush=True)
    late = f", {count['not reached']} not reached in {asked.minutes:g} minutes" if count["not reached"] else ""
    print(f"clang-tidy: {count['clean']} clean, {count['remembered']} clean before, {count['faulty']} faulty{late}")
    return 1 if count["faulty"] else 0


if __name__ == "__main__":
    sys.exit(main())
