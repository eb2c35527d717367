#!/usr/bin/env python3
"""Every error that can come onto a screen has its phrase in each book of assets/errors, and every phrase is used.

usage: error_texts.py TREE
Prints one line a fault and exits 1 when there is one.

A text is every argument, initialiser or returned value that string literals are put together in with +: one such
expression is one template, "plot " + number + " stands twice" is "plot {} stands twice". A choice (a ? "x" : "y") within
it gives a template for each side. Only prose counts: two words or more, no SQL. A template must stand in the book with
the same words and as many holes; so a phrase that is put together over several statements can't be found: write it as
one expression.
The book of English, in which errors are written, needs only those that speak the words of the machine room.
"""

import errno
import itertools
import json
import os
import pathlib
import re
import sys

# Rooms whose errors come onto a screen, and their files that none comes from.
ROOMS = ("storage/files", "storage/trial", "storage/ledger", "sync/seal", "app/work", "app/scale")
OUT_OF_REACH = {
    "storage/files/assets.cc": "read before there is a screen",
    "storage/files/words.cc": "read before there is a screen",
    "storage/files/soil_tables.cc": "read before there is a screen",
    "storage/files/entry_list.cc": "the desk lays out", "storage/files/entry_words.cc": "the desk lays out",
    "storage/files/site_sheet.cc": "the desk lays out", "storage/files/occasion_list.cc": "the desk lays out",
    "storage/files/seed_on_hand.cc": "the desk plans the sowing",
    "storage/files/sowing.cc": "the desk plans the sowing", "storage/trial/seed.cc": "the desk plans the sowing",
    "storage/ledger/absorb.cc": "the desk gathers", "storage/ledger/salvage.cc": "the desk checks a ledger",
    "app/scale/line_form.cc": "why a line is no weight, for tests",
    "app/scale/parse_line_forms.cc": "read before there is a screen",
    # A season file that does not read back is told by the words of its kind: damaged.
    "sync/seal/bag.cc": "reading", "sync/seal/container_layout.cc": "reading", "sync/seal/container_read.cc": "reading",
    "sync/seal/encoding.cc": "reading", "sync/seal/package.cc": "reading", "sync/seal/package_columns.cc": "reading", "sync/seal/descriptor.cc": "reading",
    "sync/seal/wide_members.cc": "reading", "storage/files/columns.cc": "reading",
    "sync/seal/season_file_read.cc": "reading",
    "sync/seal/signature.cc": "reading",
}
# Prose in these files that is no error.
NOT_SHOWN = {
    "error code=": "what SQLite says", "as planned": "a code", "not stated": "a code", "on hold": "a code", "high is best": "a code", "low is best": "a code",
    "the program's own": "a source of a scale",
    "the line came in pieces": "why a line is no weight",
    "a missing value is an empty optional, never NaN": "an assertion",
    "{} (novel)": "an entry's label", "{} (novel {})": "an entry's label", "{} (toxic)": "an entry's label",
    "{} (toxic {})": "an entry's label", "{} (endophyte-free)": "an entry's label",
    "untrusted comment: ": "in a key file", "{}ligule public key {}\n{}\n": "in a key file",
    "{}ligule secret key: whoever has it can sign as this tablet\n{}\n": "in a key file",
    "{} head:{}": "in a signature", "ligule demonstration key\n{}": "a seed", "ligule demonstration ids\n{}\n{}": "a seed",
}
# What the machine says of a disk; anything else it says is left out of the other languages.
MACHINE = ("ENOSPC", "EDQUOT", "EFBIG", "EROFS", "EACCES", "EPERM", "ENOENT", "ENOTDIR", "EISDIR", "EEXIST", "EIO",
           "ENODEV", "ENXIO", "EBUSY")

TOKEN = re.compile(
    r'(?P<comment>//[^\n]*|/\*.*?\*/)|(?P<raw>R"(?P<mark>\w*)\((?P<inner>.*?)\)(?P=mark)")|(?P<text>"(?:[^"\\\n]|\\.)*")'
    r"|(?P<char>'(?:[^'\\\n]|\\.)+')|(?P<include>^[ \t]*#[^\n]*)|(?P<word>\w+)|(?P<other>::|->|\+=|<<|==|!=|<=|>=|&&|\|\||\S)",
    re.S | re.M)
# What crews do not read: the book of English has other words for it. Commands keep their names.
INNER = re.compile(r"(?<!-)\b(ledgers?|streams?|database)\b(?!-check)")
CLOSES = {"(": ")", "{": "}", "[": "]"}
# What ends an operand of + within a list of arguments, an initialiser or a statement.
ENDS = {",", ";", "?", ":", "=", "+=", "<<", "return", "&&", "||", "==", "!=", "case"}
ESCAPES = {"n": "\n", "t": "\t", "r": "\r", "0": "\0"}
SQL = re.compile(r"\s*(SELECT|INSERT|UPDATE|DELETE|CREATE|DROP|PRAGMA|WHERE|ORDER|GROUP|JOIN|FROM|BEGIN|VALUES|AND|EXCEPT)\b")


class Text(str):
    """A string literal; a plain str is any other token."""


def unescaped(literal):
    return Text(re.sub(r"\\(.)", lambda m: ESCAPES.get(m[1], m[1]), literal[1:-1]))


def tokens(source):
    for match in TOKEN.finditer(source):
        if match["comment"] or match["include"]:
            continue
        if match["text"]:
            yield unescaped(match["text"])
        elif match["raw"]:
            yield Text(match["inner"])
        else:
            yield "'char'" if match["char"] else match[0]


def tree(stream, closer=None):
    """Tokens up to the closing bracket; what stands in brackets is a list of its own that begins with the bracket."""
    found = []
    for token in stream:
        if not isinstance(token, Text):
            if token == closer:
                return found
            if token in CLOSES:
                token = [token] + tree(stream, CLOSES[token])
        found.append(token)
    return found


def parts(items):
    """The operands of + in a segment, each a list of tokens."""
    operand = []
    for item in items:
        if not isinstance(item, Text) and item == "+":
            yield operand
            operand = []
        else:
            operand.append(item)
    yield operand


def alternatives(operand):
    """What an operand may say: literals, or a hole."""
    if operand and all(isinstance(item, Text) for item in operand):
        return ["".join(operand)]
    # std::string("text") says what its literal does, (a ? "x" : "y") what either side does.
    if operand and isinstance(operand[-1], list) and operand[-1][0] == "(":
        inner = operand[-1][1:]
        if operand[:-1] in (["std", "::", "string"], []) and all(isinstance(item, Text) for item in inner):
            return ["".join(inner)]
        if not operand[:-1] and "?" in [item for item in inner if not isinstance(item, (Text, list))]:
            sides = [s for s in segments(inner)[1:] if s]
            return [text for side in sides for text in templates(side)]
        if not operand[:-1]:
            return templates(inner)
    return ["{}"]


def templates(segment):
    choices = [alternatives(operand) for operand in parts(segment)]
    return ["".join(choice) for choice in itertools.product(*choices)]


def segments(items):
    """A group cut where an expression ends."""
    cut, now = [], []
    for item in items:
        if not isinstance(item, (Text, list)) and item in ENDS:
            cut.append(now)
            now = []
        else:
            now.append(item)
    return cut + [now]


def is_prose(template):
    bare = template.replace("{}", "x")
    return bool(re.search(r"[a-z'%\d}]\S* +\S*[\w']", bare)) and not SQL.match(template)


def is_put_together(operand):
    """Whether alternatives() reads what stands in the operand's brackets."""
    return bool(operand) and isinstance(operand[-1], list) and operand[:-1] in (["std", "::", "string"], [])


def walk(items, found):
    for segment in segments(items):
        operands = list(parts(segment))
        if any(isinstance(item, Text) for item in segment) or any(map(is_put_together, operands)):
            found.update(templates(segment))
        joined = [operand[-1] for operand in operands if is_put_together(operand) and len(operands) > 1]
        for item in segment:
            if isinstance(item, list) and not any(item is one for one in joined):
                walk(item[1:], found)


def texts_of(source):
    """(every template of prose, every string literal)"""
    found = set()
    walk(tree(tokens(source)), found)
    literals = {str(token) for token in tokens(source) if isinstance(token, Text)}
    return {text for text in found if re.search(r"[A-Za-z]", text.replace("{}", "")) and is_prose(text)}, literals


def sources(root):
    for room in ROOMS:
        for path in sorted((root / room).glob("*")):
            if path.suffix in (".cc", ".h"):
                yield path


def as_template(phrase):
    return re.sub(r"\{\d+!?\}", "{}", phrase)


def assets_texts(root):
    """What is shown of the assets: columns' descriptions as the way to mend a cell, names of species and of what a soil test
    finds (symbols such as P are the same in every language)."""
    texts = {}
    for path in sorted((root / "assets/plan").glob("*.schema.json")):
        for field in json.loads(path.read_text(encoding="utf-8"))["fields"]:
            texts[field["description"]] = path.relative_to(root)
    species = root / "assets/species.json"
    if species.is_file():
        for one in json.loads(species.read_text(encoding="utf-8"))["species"]:
            texts[one["name"]] = species.relative_to(root)
    soil = root / "assets/soil.json"
    if soil.is_file():
        for one in json.loads(soil.read_text(encoding="utf-8"))["properties"]:
            if " " in one["name"]:
                texts[one["name"]] = soil.relative_to(root)
    return texts


def check(root):
    """(how many texts were looked at, faults)"""
    faults, literals, excused = [], set(), set()
    wanted = assets_texts(root)
    for path in sources(root):
        name = str(path.relative_to(root))
        if name in OUT_OF_REACH:
            continue
        found, here = texts_of(path.read_text(encoding="utf-8"))
        literals |= here
        excused |= found & set(NOT_SHOWN)
        for text in sorted(found - set(NOT_SHOWN)):
            wanted.setdefault(text, name)
    faults += [f"{name}: is out of reach in error_texts.py but is not there" for name in OUT_OF_REACH
               if not (root / name).is_file()]
    faults += [f"'{text}': is excused in error_texts.py but is not there" for text in NOT_SHOWN if text not in excused]
    machine = {os.strerror(getattr(errno, name)) for name in MACHINE}
    for path in sorted((root / "assets/errors").glob("*.json")):
        book = path.relative_to(root)
        read = json.loads(path.read_text(encoding="utf-8"))
        phrases = [as_template(phrase) for phrase in [*read["texts"], *read["places"]]]
        written_in = path.stem == "en"
        faults += [f"{book}: '{text}' of {where} has no phrase: add it" for text, where in wanted.items()
                   if text not in phrases and (INNER.search(text) or not written_in)]
        faults += [f"{book}: '{text}', which the machine says, has no phrase: add it" for text in sorted(machine)
                   if text not in phrases and not written_in]
        faults += [f"{book}: '{said}' is in the words of the machine room: say it otherwise"
                   for said in [*read["texts"].values(), *read["places"].values()] if written_in and INNER.search(said)]
        for phrase in sorted(set(phrases)):
            used = phrase in wanted or phrase in literals or phrase in machine
            if not used and re.search(r"[A-Za-z]", phrase):
                faults.append(f"{book}: '{phrase}' is said nowhere: take it out, or write it as one expression there")
    return len(wanted), faults


def main():
    if len(sys.argv) != 2:
        print(__doc__, file=sys.stderr)
        return 2
    looked, faults = check(pathlib.Path(sys.argv[1]).resolve())
    for fault in faults:
        print(fault)
    print(f"{looked} looked at, {len(faults)} faults")
    return 1 if faults or not looked else 0


if __name__ == "__main__":
    sys.exit(main())
