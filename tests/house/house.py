#!/usr/bin/env python3
"""Looks over the tree itself: who includes whom, what lies on top, what is built, how long files are.

usage: house.py CHECK TREE     CHECK: includes, links, top, built, lengths
Prints one line a fault (where, what, how to mend) and exits 1 when there is one. Each check also fails when it finds
nothing to look at.
"""

import pathlib
import re
import sys

import rooms

INCLUDE = re.compile(r'^\s*#\s*include\s*([<"])([^>"]+)[>"]')
FLOORS = ("storage", "sync", "app")
CODE = (".cc", ".h")


def sources(tree, *tops):
    """Every source below these folders, as paths relative to the tree, in order."""
    found = []
    for top in tops:
        folder = tree / top
        if folder.is_dir():
            found += [p.relative_to(tree) for p in folder.rglob("*") if p.suffix in CODE]
    return sorted(found)


def room_of(path):
    """The room a file or header belongs to; None for a file in no room."""
    parts = pathlib.PurePosixPath(path).parts
    if parts and parts[0] == "demo-plots":
        return "demo-plots"
    if len(parts) >= 3 and parts[0] in FLOORS:
        return "/".join(parts[:2])
    return None


def below(room):
    """The room and all it rests on."""
    seen, todo = set(), [room]
    while todo:
        here = todo.pop()
        if here not in seen:
            seen.add(here)
            todo += rooms.ROOMS.get(here, [])
    return seen


def tested_rooms(path):
    """What a test may include: the room it mirrors and all below it; any room for the tests of the whole.

    Above floor 1 also storage/files, which reads the words and definitions that tests need.
    """
    parts = pathlib.PurePosixPath(path).parts
    mirrored = "/".join(parts[1:3])
    if mirrored not in rooms.ROOMS:
        return set(rooms.ROOMS)
    return below(mirrored) | (set() if parts[1] == "storage" else {"storage/files", "storage/trial"})


def library_of(header):
    """The longest entry of the table this header starts with; None when there is none."""
    hits = [name for name in rooms.LIBRARIES if header.startswith(name)]
    return max(hits, key=len, default=None)


def is_standard(header):
    """C++ and C headers of the language: no folder, and no .h but for the C ones we know."""
    return bool(re.fullmatch(r"[a-z0-9_]+", header)) or header in ("stdio.h", "stdlib.h", "string.h", "stdint.h", "time.h")


def judge_system(path, header, test_of):
    """A fault of an include in angle brackets, or None. test_of: rooms a test may use, None for a room's own file."""
    room = room_of(path)
    if is_standard(header):
        if room in rooms.PURE_ROOMS and header in rooms.IMPURE_HEADERS:
            return f"{room} computes only; <{header}> belongs above it: pass in what it would fetch"
        return None
    if test_of is not None and header.startswith(rooms.TEST_LIBRARIES):
        return None
    name = library_of(header)
    if name is None:
        return f"<{header}> is no library of ours: use one that is, or add it to tests/house/rooms.py"
    allowed = rooms.LIBRARIES[name]
    used_by = {str(path), room} if test_of is None else set(test_of)
    if test_of is not None:
        allowed = [room_of(a) if "." in a else a for a in allowed]
    if used_by.intersection(allowed):
        return None
    return f"<{header}> belongs to {', '.join(rooms.LIBRARIES[name])}: go through their header"


def judge_own(tree, path, header, test_of):
    """A fault of an include in quotes, or None."""
    if ".." in pathlib.PurePosixPath(header).parts:
        return f'"{header}" climbs: paths start at the top of the tree'
    if not (tree / header).is_file():
        return f'"{header}" is not there: paths start at the top of the tree'
    if header.startswith("tests/"):
        return None if test_of is not None else f'"{header}": only tests include tests'
    room, other = room_of(path), room_of(header)
    if other is None:
        return f'"{header}" lies in no room'
    allowed = set(rooms.ROOMS[room]) | {room} if test_of is None else test_of
    if other in allowed:
        return None
    who = room if test_of is None else path
    return f"{who} must not include {other} (\"{header}\"): it may use {', '.join(sorted(allowed))}"


def check_includes(tree):
    """Includes go down, to rooms and libraries of the tables only."""
    faults = []
    looked = sources(tree, *FLOORS, "demo-plots", "tests")
    for path in looked:
        is_test = path.parts[0] == "tests"
        if not is_test and room_of(path) not in rooms.ROOMS:
            faults.append(f"{path}: lies in no room: move it, or add the room to tests/house/rooms.py")
            continue
        test_of = tested_rooms(path) if is_test else None
        for number, line in enumerate((tree / path).read_text(encoding="utf-8").splitlines(), 1):
            match = INCLUDE.match(line)
            if not match:
                continue
            quote, header = match.groups()
            fault = judge_system(path, header, test_of) if quote == "<" else judge_own(tree, path, header, test_of)
            if fault:
                faults.append(f"{path}:{number}: {fault}")
    return len(looked), faults


def check_links(tree):
    """Targets link only to targets of rooms they may include."""
    faults, looked = [], 0
    for room, allowed in rooms.ROOMS.items():
        listing = tree / room / "CMakeLists.txt"
        if not listing.is_file():
            continue
        looked += 1
        for name in re.findall(r"\bligule_([a-z]+)\b", re.sub(r"#.*", "", listing.read_text(encoding="utf-8"))):
            other = next((r for r in rooms.ROOMS if r.endswith("/" + name)), None)
            if other and other != room and other not in allowed:
                faults.append(f"{listing.relative_to(tree)}: {room} must not link to {other}")
    return looked, faults


def check_top(tree):
    """The top and second level hold what the design names, no more and no less."""
    faults = []
    names = {p.name for p in tree.iterdir()} - {".git"}
    names = {n for n in names if not n.startswith("build")}
    faults += [f"{n}: does not belong on the top level" for n in sorted(names - rooms.TOP - rooms.TOP_DOTTED)]
    faults += [f"{n}: is missing from the top level" for n in sorted((rooms.TOP | rooms.TOP_DOTTED) - names)]
    for floor in (f for f in FLOORS if (tree / f).is_dir()):
        for entry in sorted((tree / floor).iterdir()):
            here = f"{floor}/{entry.name}"
            if here not in rooms.ROOMS and here not in rooms.PLAIN_FOLDERS and entry.name != "CMakeLists.txt":
                faults.append(f"{here}: is no room; rooms are listed in tests/house/rooms.py")
    for entry in sorted((tree / "tests").iterdir() if (tree / "tests").is_dir() else []):
        if entry.is_dir() and entry.name not in rooms.TEST_FOLDERS and entry.name != "__pycache__":
            faults.append(f"tests/{entry.name}: is no folder of tests")
    return len(names), faults


def check_built(tree):
    """Every source is named in the CMakeLists.txt beside it, and every such list is reached from the one above."""
    faults = []
    looked = [p for p in sources(tree, *FLOORS, "tests", "demo-plots") if p.suffix == ".cc"]
    for path in looked:
        listing = tree / path.parent / "CMakeLists.txt"
        words = []
        if listing.is_file():
            words = re.split(r"[\s()]+", re.sub(r"#.*", "", listing.read_text(encoding="utf-8")))
        if path.name not in words:
            faults.append(f"{path}: is built by nothing: name it in {path.parent}/CMakeLists.txt")
    for listing in sorted(tree.rglob("CMakeLists.txt")):
        folder = listing.parent.relative_to(tree)
        if not folder.parts or folder.parts[0].startswith("build"):
            continue
        above = tree / folder.parent / "CMakeLists.txt"
        words = re.split(r"[\s()/]+", above.read_text(encoding="utf-8")) if above.is_file() else []
        if folder.name not in words:
            faults.append(f"{folder}/CMakeLists.txt: is never read: name {folder.name} in {folder.parent}/CMakeLists.txt")
    return len(looked), faults


def check_lengths(tree):
    """No source over the limit without a reason, and no reason left behind."""
    faults = []
    looked = sources(tree, *FLOORS, "tests", "demo-plots")
    for path in looked:
        lines = len((tree / path).read_text(encoding="utf-8").splitlines())
        if lines > rooms.MAX_LINES and str(path) not in rooms.LONG_FILES:
            faults.append(f"{path}: {lines} lines, {rooms.MAX_LINES} at most: split it, or say why in rooms.py")
    for name in rooms.LONG_FILES:
        if not (tree / name).is_file():
            faults.append(f"{name}: is excused in rooms.py but is not there")
    return len(looked), faults


CHECKS = {"includes": check_includes, "links": check_links, "top": check_top, "built": check_built,
          "lengths": check_lengths}


def main():
    if len(sys.argv) != 3 or sys.argv[1] not in CHECKS:
        print(__doc__, file=sys.stderr)
        return 2
    looked, faults = CHECKS[sys.argv[1]](pathlib.Path(sys.argv[2]).resolve())
    for fault in faults:
        print(fault)
    if not looked:
        print(f"{sys.argv[2]}: found nothing to look at")
    print(f"{looked} looked at, {len(faults)} faults")
    return 1 if faults or not looked else 0


if __name__ == "__main__":
    sys.exit(main())
