#!/usr/bin/env python3
"""Verifies the chain of a season file's payload, from sync/seal/FORMAT.md alone: no code of Ligule's is used.

usage: verify_chain.py RECORDS.csv STREAM.csv
Exit 0 and one line when the records lead from digest_before to head; 1 and one line a fault otherwise; 2 when a file
cannot be read.
"""

import csv
import hashlib
import io
import sys

STREAM_COLUMNS = ["stream", "device", "public_key", "continues", "demo", "first", "last", "digest_before", "head"]
RECORD_COLUMNS = ("stream seq id kind format utc_ms offset_min local_date person trial plan subject measure occasion "
                  "part run purpose state entered unit value definition targets reason answers blind source raw "
                  "details").split()


def lines_of(data, name, faults):
    """The lines without their ends; every line, the last too, must end in CR LF."""
    if not data.endswith(b"\r\n"):
        faults.append(f"{name}: the last line does not end in CR LF")
    lines = data.split(b"\r\n")
    if lines and lines[-1] == b"":
        lines.pop()
    for number, line in enumerate(lines, 1):
        if b"\r" in line or b"\n" in line:
            faults.append(f"{name} line {number}: a line end inside the line")
    return lines


def cells_of(line):
    return next(csv.reader(io.StringIO(line.decode("utf-8"), newline=""), strict=True), [])


def read_stream(data, faults):
    lines = lines_of(data, "stream.csv", faults)
    if len(lines) != 2 or cells_of(lines[0]) != STREAM_COLUMNS:
        faults.append("stream.csv: should hold its header and one row")
        return None
    row = cells_of(lines[1])
    if len(row) != len(STREAM_COLUMNS):
        faults.append("stream.csv line 2: wrong number of cells")
        return None
    return dict(zip(STREAM_COLUMNS, row))


def verify(records, stream_table):
    """Faults, and how many records the chain holds."""
    faults = []
    stream = read_stream(stream_table, faults)
    lines = lines_of(records, "records.csv", faults)
    if stream is None:
        return faults, 0
    if not lines or cells_of(lines[0]) != RECORD_COLUMNS:
        faults.append("records.csv line 1: not the header of record format 1")
        return faults, 0
    first, last = int(stream["first"]), int(stream["last"])
    digest = bytes.fromhex(stream["digest_before"])
    if first == 1 and digest != bytes(32):
        faults.append("stream.csv: the first record stands on 32 zero bytes")
    for number, line in enumerate(lines[1:], 2):
        digest = hashlib.sha256(digest + line).digest()
        cells = cells_of(line)
        expected = [stream["stream"], str(first + number - 2)]
        if cells[:2] != expected:
            faults.append(f"records.csv line {number}: is {cells[:2]}, should be {expected}")
        if (cells[1] == "1") != (cells[3] == "stream"):
            faults.append(f"records.csv line {number}: a stream begins with a record of kind stream, and once only")
    if len(lines) - 1 != last - first + 1:
        faults.append(f"records.csv: holds {len(lines) - 1} records, stream.csv says {last - first + 1}")
    if digest.hex() != stream["head"]:
        faults.append(f"records.csv: the chain ends in {digest.hex()}, stream.csv says {stream['head']}")
    return faults, len(lines) - 1


def main(arguments):
    if len(arguments) != 2:
        print(__doc__, file=sys.stderr)
        return 2
    try:
        tables = []
        for name in arguments:
            with open(name, "rb") as file:
                tables.append(file.read())
        faults, count = verify(*tables)
    except OSError as error:
        print(f"{error.filename}: {error.strerror}", file=sys.stderr)
        return 2
    except (ValueError, IndexError, csv.Error) as error:
        faults, count = [f"not in the form of a season file: {error}"], 0
    for fault in faults:
        print(fault, file=sys.stderr)
    if not faults:
        print(f"chain holds: {count} records")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
