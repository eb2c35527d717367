#!/usr/bin/env python3
"""A season file written from FORMAT.md by write_season_file.py, signed by minisign: ligule-desk must take it, make of it the
ledger digest and the means that Python makes, and refuse it after each change below.

usage: written_file_test.py DESK_PROGRAM
Exit 77 where minisign is not installed.
"""

import csv
import hashlib
import io
import json
import pathlib
import shutil
import statistics
import subprocess
import sys
import tempfile
import uuid
import zipfile

import write_season_file as writer

OTHER_ID = "0195d742-4780-70b3-8382-e8f4c396979f"
done_checks = 0


def check(holds, what):
    global done_checks
    if not holds:
        sys.exit(f"written_file_test: {what}")
    done_checks += 1


# --- changes no reader may take ---------------------------------------------------------------------
# What is changed on the way is then described, hashed and signed as if it were right.


def cell(row, **changed):
    return lambda rows: rows[row].update(changed)


def table(old, new):
    return lambda tables: tables.update(records=tables["records"].replace(old, new, 1))


def at(column, value):
    return lambda stream: stream.__setitem__(column, value)


SPOILT = [
    # stage, change, words of the refusal
    ("records", cell(5, seq=9), "the row has number 9 where 6 comes next"),
    ("records", cell(5, id=writer.record_id(5)), "id stands twice"),
    ("records", cell(5, id="0195d742-4780-40b3-8382-e8f4c396979f"), "not of version 7"),
    ("records", cell(5, stream=OTHER_ID), "of another stream"),
    ("records", cell(5, part=0), "column part"),
    ("records", cell(5, state="guessed"), "column state"),
    ("records", cell(5, value="much"), "column value"),
    ("records", cell(5, value="85.0"), "canonical form"),
    ("records", cell(5, blind=2), "column blind"),
    ("records", cell(5, definition="a" * 63), "column definition"),
    ("records", cell(5, targets="nobody"), "column targets"),
    ("records", cell(5, offset_min=10081), "offset_min"),
    ("records", cell(5, local_date="2026-02-30"), "column local_date"),
    ("records", cell(5, entered="8\t5"), "canonical form"),
    ("records", cell(5, details="[1]"), "column details"),
    ("records", cell(5, kind=""), "column kind"),
    ("stream", at(8, "0" * 64), "chain"),
    ("stream", at(7, "1" * 64), "digest_before"),
    ("stream", at(2, "0" * 64), "another key"),
    ("stream", at(4, 2), "column demo"),
    ("tables", lambda tables: tables.update(records=tables["records"].replace(b"\r\n", b"\n")), "header"),
    ("tables", lambda tables: tables.update(records=b"\xef\xbb\xbf" + tables["records"]), "header"),
    ("tables", table(b"entered", b"typed"), "header"),
    ("tables", table(b",85,", b',"85",'), "canonical form"),
    ("description", lambda description: description.update(title="Other"), "description"),
    ("description", lambda description: description.update(created="2026-06-02T08:00:09.000Z"), "description"),
    ("info", lambda info: info.update({"Ligule-Season-Format": 99}), "of format 99"),
    ("info", lambda info: info.update({"Bagging-Date": "2026-06-02"}), "bag-info.txt"),
    ("info", lambda info: info.update({"Ligule-Demonstration": "yes"}), "bag-info.txt"),
    ("info", lambda info: info.update({"Contact-Name": "Nobody"}), "bag-info.txt"),
    ("tags", lambda tags: tags.update({"bagit.txt": tags["bagit.txt"].replace(b"1.0", b"0.97")}), "BagIt 1.0"),
    ("tags", lambda tags: tags.update({"manifest-sha256.txt": tags["manifest-sha256.txt"].upper()}), "manifest-sha256.txt"),
]


def after(path, old, new):
    """A change of a file that is made and signed."""

    def pack(name, files):
        assert old in files[path], (path, old)
        return writer.container(name, {**files, path: files[path].replace(old, new, 1)})

    return pack


def order(make):
    return lambda name, files: writer.container(name, files, order=make(sorted(files)))


SIGNATURE = "tagmanifest-sha512.txt.minisig"


def other_signature(line):
    """One letter of the base64 of this line is another; 30 lies behind algorithm and key id."""

    def pack(name, files):
        lines = files[SIGNATURE].split(b"\n")
        letter = b"B" if lines[line][30:31] == b"A" else b"A"
        lines[line] = lines[line][:30] + letter + lines[line][31:]
        return writer.container(name, {**files, SIGNATURE: b"\n".join(lines)})

    return pack


PACKED = [
    (after("data/records.csv", b",85,", b",95,"), "data/records.csv"),
    (after("manifest-sha256.txt", b"  data/", b" \tdata/"), "manifest-sha256.txt"),
    (after("tagmanifest-sha512.txt", b"  bagit.txt", b"  bagit.tx_"), "tagmanifest-sha512.txt"),
    (after(SIGNATURE, b" head:", b" HEAD:"), "trusted comment"),
    (other_signature(1), SIGNATURE),
    (other_signature(3), SIGNATURE),
    (lambda name, files: writer.container(name, files, method=8), "compressed"),
    (order(lambda paths: paths[::-1]), "not in their order"),
    (order(lambda paths: sorted([*paths, "bagit.txt"])), "there twice"),
    (order(lambda paths: [path for path in paths if path != "manifest-sha256.txt"]), "not there"),
    (lambda name, files: writer.container(name, {**files, "data/more.csv": b"a\r\n"}), "does not belong there"),
    (lambda name, files: writer.container(name, {**files, "../x": b""}), "such a name"),
    (lambda name, files: writer.container("season", files), "inner name"),
    (lambda name, files: writer.container(name, files) + b"\0", "after its end"),
    (lambda name, files: b"\0" + writer.container(name, files), "no season file"),
    (lambda name, files: writer.container(name, files)[:-30], "cut off"),
]


class Desk:
    def __init__(self, program, folder):
        self.program, self.folder = program, folder

    def __call__(self, *words):
        run = [self.program, *map(str, words)]
        done = subprocess.run(run, cwd=self.folder, capture_output=True, text=True, check=False)
        return done.returncode, done.stdout + done.stderr

    def needs(self, *words):
        status, said = self(*words)
        check(status == 0, f"{words[0]}: status {status}: {said}")
        return said


def rows_of(path, name):
    with zipfile.ZipFile(path) as file:
        text = file.read(f"{path.stem}/data/{name}.csv").decode("utf-8")
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


def check_taken(desk, path):
    """verify and gather take it; the ledger digest is that of FORMAT.md section 1."""
    said = desk.needs("verify", path)
    check("signer not known" in said and "records: 1 to 10 of Station 9" in said, f"verify: {said}")
    desk.needs("trust", "--ledger", "desk.ligule", "station.pub")
    check("10 new" in desk.needs("gather", "--ledger", "desk.ligule", path), "gather took other than 10 records")
    stream = rows_of(path, "stream")[0]
    span = ",".join(stream[column] for column in ("stream", "first", "last", "digest_before", "head")) + "\n"
    digest = hashlib.sha256(span.encode()).hexdigest()
    check(f"ledger digest: {digest}" in desk.needs("gather", "--ledger", "desk.ligule", path), "another ledger digest")
    desk.needs("ledger-check", "--ledger", "desk.ligule")
    return digest


def check_means(desk, path):
    """Means of the rating by Python's csv and statistics, of the claims that nobody replaced, are those of `tables`."""
    rows = rows_of(path, "records")
    replaced = {target for row in rows for target in row["targets"].split()}
    planned = next(row for row in rows if row["kind"] == "plan")
    plan = json.loads(planned["details"])
    trial = uuid.UUID(planned["trial"])
    entry_of = {str(uuid.uuid5(trial, f"plot/{plot['number']}")): plot["entry"] for plot in plan["plots"]}
    values = {}
    for row in rows:
        if row["measure"] == "percent_stand" and row["id"] not in replaced:
            values.setdefault(entry_of[row["subject"]], []).append(float(row["value"]))
    desk.needs("tables", "--ledger", "desk.ligule", "--out", "tables")
    with open(desk.folder / "tables/measures/percent_stand/means.csv", newline="", encoding="utf-8") as file:
        means = list(csv.DictReader(file, strict=True))
    check(len(means) == len(values) == 2, f"means of {len(means)} entries, not 2")
    for row in means:
        code = next(entry["code"] for entry in plan["entries"] if entry["variety"] in row["entry"])
        # The table prints the shortest text of the double.
        wanted = (statistics.mean(values[code]), len(values[code]))
        check((float(row["mean"]), int(row["n"])) == wanted, f"{row['entry']}: not {wanted}")


def refused(desk, name, words, which):
    # 2: nothing that this version knows as a season file.
    expected = 2 if words in ("of format 99", "no season file") else 1
    status, said = desk("verify", name)
    check(status == expected and words in said, f"{which}: verify says {status}: {said}")
    status, said = desk("gather", "--ledger", "desk.ligule", name)
    check(status == expected and "was not gathered" in said, f"{which}: gather says {status}: {said}")


def check_refused(desk):
    for number, (stage, change, words) in enumerate(SPOILT):

        def spoil(now, what, stage=stage, change=change):
            if now == stage:
                change(what)
            return what

        refused(desk, writer.write(desk.folder, spoil), words, f"change {number} ({stage})")
    for number, (pack, words) in enumerate(PACKED):
        refused(desk, writer.write(desk.folder, pack=pack), words, f"container {number}")
    # Whole, and signed by a key that nobody trusts.
    for key in ("station.pub", "station.key"):
        (desk.folder / key).unlink()
    stranger = writer.write(desk.folder)
    check(desk("verify", stranger)[0] == 0, "a stranger's file does not hold")
    status, said = desk("gather", "--ledger", "desk.ligule", stranger)
    check(status == 1 and "was not gathered" in said, f"a stranger's file: gather says {status}: {said}")


def main():
    if not shutil.which("minisign"):
        print("SKIPPED: minisign is not installed: no season file by another writer was read")
        sys.exit(77)
    with tempfile.TemporaryDirectory() as scratch:
        folder = pathlib.Path(scratch)
        desk = Desk(pathlib.Path(sys.argv[1]).resolve(), folder)
        path = folder / writer.write(folder)
        digest = check_taken(desk, path)
        check_means(desk, path)
        check_refused(desk)
        check(digest in desk.needs("ledger-check", "--ledger", "desk.ligule"), "what was refused left something behind")
    print(f"a file by another writer was taken, {len(SPOILT) + len(PACKED) + 1} changed ones refused; {done_checks} checks")


main()
