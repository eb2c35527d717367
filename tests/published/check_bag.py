#!/usr/bin/env python3
"""Checks an unpacked season file as a bag by RFC 8493, and its tables by their own Table Schemas. No code of Ligule's.

usage: check_bag.py BAG [PROFILE.json]
PROFILE.json: the JSON Schema of Data Package 2.0 (frictionlessdata/datapackage). Needs python3-jsonschema. Without it the
bag alone is checked, which may be any bag (bag_cases_test.py shows what is refused).
"""

import csv
import datetime
import hashlib
import json
import pathlib
import re
import sys
import uuid

import bag_rules

TERMS = pathlib.Path(__file__).resolve().parent / "data/field_terms.csv"
faults = []


def check(holds, what):
    if not holds:
        faults.append(what)


def check_bag(bag):
    """A bag by RFC 8493 whose declaration, digests and labels are those of a season file (FORMAT.md section 3)."""
    faults.extend(bag_rules.faults_of(bag))
    check((bag / "bagit.txt").read_bytes() == b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n", "bagit.txt")
    payload = sorted(p.relative_to(bag).as_posix() for p in (bag / "data").rglob("*") if p.is_file())
    described = json.loads((bag / "data/datapackage.json").read_text("utf-8"))["resources"]
    expected = sorted(["data/datapackage.json"] + ["data/" + resource["path"] for resource in described])
    check(payload == expected, "the payload is not the description and the tables that it describes")
    for algorithm in ("sha256", "sha512"):
        for kind in ("manifest", "tagmanifest"):
            check((bag / f"{kind}-{algorithm}.txt").is_file(), f"there is no {kind}-{algorithm}.txt")
    info = dict(line.split(": ", 1) for line in (bag / "bag-info.txt").read_text("utf-8").splitlines())
    octets = sum((bag / p).stat().st_size for p in payload)
    check(info["Payload-Oxum"] == f"{octets}.{len(payload)}", "Payload-Oxum")
    datetime.date.fromisoformat(info["Bagging-Date"])
    check(info["External-Identifier"] == bag.name, "External-Identifier")


def cell_fault(field, cell):
    """What is wrong with a cell by its field of a Table Schema (Data Package 2.0), or None."""
    limits = field.get("constraints", {})
    if cell == "":
        return "is required" if limits.get("required") else None
    try:
        if field["type"] == "integer":
            value = int(cell)
            if value < limits.get("minimum", value):
                return "is below its minimum"
        elif field["type"] == "number":
            float(cell)
        elif field["type"] == "date":
            datetime.date.fromisoformat(cell)
        elif field["type"] == "object":
            if not isinstance(json.loads(cell), dict):
                return "is no object"
        elif field["type"] == "boolean":
            if cell not in field["trueValues"] + field["falseValues"]:
                return "is no boolean"
        elif field.get("format") == "uuid":
            uuid.UUID(cell)
    except ValueError:
        return f"is no {field.get('format', field['type'])}"
    if "enum" in limits and cell not in limits["enum"]:
        return "is none of its words"
    if "pattern" in limits and not re.fullmatch(limits["pattern"], cell):
        return "does not match its pattern"
    return None


def check_table(data, resource):
    content = (data / resource["path"]).read_bytes()
    check(len(content) == resource["bytes"], f"{resource['path']}: bytes")
    check("sha256:" + hashlib.sha256(content).hexdigest() == resource["hash"], f"{resource['path']}: hash")
    with open(data / resource["path"], newline="", encoding="utf-8") as file:
        rows = list(csv.reader(file, strict=True))
    fields = resource["schema"]["fields"]
    check(rows[0] == [f["name"] for f in fields], f"{resource['path']}: header")
    for number, row in enumerate(rows[1:], 2):
        check(len(row) == len(fields), f"{resource['path']} row {number}: {len(row)} cells")
        for field, cell in zip(fields, row):
            fault = cell_fault(field, cell)
            check(fault is None, f"{resource['path']} row {number}, {field['name']} {fault}: {cell[:40]!r}")
    named = [dict(zip(rows[0], row)) for row in rows[1:]]
    primary = resource["schema"].get("primaryKey")
    for key in ([primary] if primary else []) + resource["schema"].get("uniqueKeys", []):
        keys = [tuple(row[name] for name in key) for row in named]
        check(len(set(keys)) == len(keys), f"{resource['path']}: {key} is not unique")
    return named


def check_terms(package):
    """What fields are called in other standards is what these standards call them (data/field_terms.csv)."""
    with open(TERMS, newline="", encoding="utf-8") as file:
        known = {(row["standard"], row["term"]) for row in csv.DictReader(file, strict=True)}
    named = 0
    for resource in package["resources"]:
        for field in resource["schema"]["fields"]:
            for standard in ("MIAPPE", "BrAPI"):
                term = field.get(standard.lower())
                if term is not None:
                    named += 1
                    check((standard, term) in known, f"{resource['name']}.{field['name']}: {standard} has no {term!r}")
    check(named > 0, "no field is called anything in MIAPPE or BrAPI")


def check_references(tables, resource):
    """Foreign keys of one column: every cell that is not empty stands in the table it refers to."""
    for key in resource["schema"].get("foreignKeys", []):
        (column,), to = key["fields"], key["reference"]
        (wanted,) = to["fields"]
        there = {row[wanted] for row in tables[to["resource"]]}
        lost = {row[column] for row in tables[resource["name"]]} - there - {""}
        check(not lost, f"{resource['path']}: {column} {sorted(lost)[:3]} is not in {to['resource']}")


def check_tables(bag, profile):
    """The description by the official profile, the tables by it; says what they hold."""
    import jsonschema

    package = json.load(open(bag / "data/datapackage.json", encoding="utf-8"))
    validator = jsonschema.validators.validator_for(profile)(profile, format_checker=jsonschema.FormatChecker())
    faults.extend(f"datapackage.json: {error.message}" for error in validator.iter_errors(package))
    tables = {r["name"]: check_table(bag / "data", r) for r in package["resources"]}
    for resource in package["resources"]:
        check_references(tables, resource)
    check_terms(package)
    check(len(tables["records"]) > 0, "no records")
    cells = sum(len(r) for t in tables.values() for r in t)
    return (
        f", a valid data package; {len(tables)} tables, {len(tables['records'])} records, "
        f"{cells} cells keep to their schemas"
    )


def main():
    bag, held = pathlib.Path(sys.argv[1]).resolve(), ""
    if len(sys.argv) > 2:
        check_bag(bag)
        held = check_tables(bag, json.load(open(sys.argv[2], encoding="utf-8")))
    else:
        faults.extend(bag_rules.faults_of(bag))
    if faults:
        sys.exit("\n".join(faults))
    print(f"a valid bag{held}")


main()
