#!/usr/bin/env python3
"""Writes a season file of format 1 by sync/seal/FORMAT.md, signed by the program minisign. No code of Ligule's.

usage: write_season_file.py FOLDER
Leaves FOLDER/station.pub, FOLDER/station.key (made when they are not there) and the file, and prints the file's name.
written_file_test.py gives it to ligule-desk, and spoils it on the way.

What the page leaves to others: the texts of the description are those of any file of the format (data/season_format_1.json);
the keys of a plan and of a scale are those of a sealed one; the names of ids stand in storage/trial/identity.h.
"""

import base64
import datetime
import hashlib
import json
import pathlib
import struct
import subprocess
import sys
import tempfile
import uuid
import zlib

DESCRIPTION = pathlib.Path(__file__).resolve().parent / "data/season_format_1.json"
BEGAN = 1780300800000  # 2026-06-01 08:00 UTC
OFFSET = -240
# Ids of what a plan describes are of version 5 (RFC 9562), over codes, within this space.
SPACE = uuid.UUID("6c1f2a97-3e54-4b0d-9a61-d2780ce5b34f")


def b2b(content, size=64):
    return hashlib.blake2b(content, digest_size=size).digest()


def compact(value):
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)


# --- keys: minisign's file forms; the key id is that of section 3 ---------------------------------


def rewrite(path, change):
    comment, line = path.read_text("ascii").splitlines()
    path.write_text(f"{comment}\n{base64.b64encode(change(base64.b64decode(line))).decode()}\n", "ascii")


def make_keys(folder):
    """station.pub and station.key in the folder; gives the public key's 32 bytes."""
    public, secret = folder / "station.pub", folder / "station.key"
    if not public.exists():
        made = ["minisign", "-G", "-W", "-f", "-p", public, "-s", secret]
        subprocess.run(made, check=True, stdout=subprocess.DEVNULL)
        # "Ed", id 8, key 32; and "Ed", two kinds 4, salt 32, limits 16, id 8, seed and key 64, a sum that is not looked at.
        key = base64.b64decode(public.read_text("ascii").splitlines()[1])[10:]
        rewrite(public, lambda held: held[:2] + b2b(key)[:8] + held[10:])
        rewrite(secret, lambda held: held[:54] + b2b(key)[:8] + held[62:])
    return base64.b64decode(public.read_text("ascii").splitlines()[1])[10:]


def sign(folder, content, comment):
    with tempfile.TemporaryDirectory() as scratch:
        message, signature = pathlib.Path(scratch, "t"), pathlib.Path(scratch, "t.minisig")
        message.write_bytes(content)
        words = ["-c", "signature of a ligule season file", "-t", comment]
        made = ["minisign", "-S", "-W", "-s", folder / "station.key", "-m", message, "-x", signature, *words]
        subprocess.run(made, check=True, stdout=subprocess.DEVNULL)
        return signature.read_bytes()


# --- records (sections 4 and 5): a trial of two blocks, rated once, one value put right ------------

STANDS = {"101": "85", "102": "70", "202": "90", "201": "62"}


def plan():
    entry = {"endophyte": "free", "role": "test", "seed_lot": "", "species": "tall_fescue", "strain": ""}
    rating = {"cutting": 0, "due": "", "job": "rate", "measures": ["percent_stand"], "year": 2026}
    places = [("101", 1, 1, 1, "A1"), ("102", 1, 2, 2, "A2"), ("202", 2, 2, 3, "A1"), ("201", 2, 1, 4, "A2")]
    plots = [dict(zip(("number", "block", "column", "path", "entry"), p), row=p[1]) for p in places]
    entries = [{**entry, "code": "A1", "variety": "Alder Brook"}, {**entry, "code": "A2", "variety": "Birch Run"}]
    sizes = {"plot_length": ["20", "ft"], "plot_width": ["5", "ft"], "swath_length": ["18", "ft"], "swath_width": ["3", "ft"]}
    return compact({
        **sizes, "bag_tare": ["0.1", "lb"], "design": "rcb", "drilled": True, "entries": entries, "field": "7",
        "occasions": [{**rating, "code": "2026-stand"}], "parent": "", "plots": plots, "reason": "", "site": "home",
        "site_name": "Home farm", "sown": "2025-09-10", "station": "north", "title": "Tall fescue", "trial": "TF26",
        "zone": "America/New_York"})  # fmt: skip


def scale():
    """What is measured, in an invented program's own words."""
    words = "share of the row that holds living plants of the sown species"
    numbers = {"minimum": 0.0, "maximum": 100.0, "step": 5.0, "fine_step": 1.0, "steps": []}
    return compact({**numbers, "code": "percent_stand", "kind": "percent", "direction": "high is best", "units": ["%"],
                    "definition": words, "source": "made up for this test"})  # fmt: skip


def record_id(number):
    """Version 7 (RFC 9562 5.7), made when the act happened; its random bits are the number."""
    return str(uuid.UUID(int=((BEGAN + 1000 * number) << 80) | (7 << 76) | (2 << 62) | number))


def records(key):
    """The rows of records.csv, each a dictionary of the cells that say something."""
    trial = uuid.uuid5(SPACE, "trial/north/home/TF26")
    person = uuid.uuid5(SPACE, "person/AB")
    stream = {"device": "Station 9", "public_key": key.hex(), "software": "write_season_file.py"}
    held, words = plan(), scale()
    digest, definition = (hashlib.sha256(text.encode()).hexdigest() for text in (held, words))
    of_trial = {"trial": trial, "plan": digest, "person": person}
    rows = [
        {"kind": "stream", "details": compact(stream)},
        {"kind": "plan", "trial": trial, "plan": digest, "details": held},
        {"kind": "definition", "entered": "percent_stand", "definition": definition, "details": words},
        {"kind": "person", "person": person, "subject": person, "entered": "AB"},
    ]
    rating = {**of_trial, "occasion": uuid.uuid5(trial, "rating/2026-stand"), "purpose": "survey", "state": "value"}
    rating = {**rating, "kind": "reading", "blind": 1, "source": "tapped"}
    for number, stand in STANDS.items():
        value = {"measure": "percent_stand", "definition": definition, "entered": stand, "unit": "%", "value": stand}
        rows.append({**rating, **value, "subject": uuid.uuid5(trial, f"plot/{number}")})
    right = {"kind": "correction", "entered": "60", "value": "60", "reason": "mistyped"}
    rows.append({**rows[-1], **right, "targets": record_id(len(rows))})
    rows.append({**rating, "measure": "note", "subject": rows[-1]["subject"], "entered": 'geese, "many"; café'})
    for seq, row in enumerate(rows, 1):
        now = BEGAN + 1000 * seq
        wall = datetime.datetime(1970, 1, 1) + datetime.timedelta(milliseconds=now, minutes=OFFSET)
        row.update(stream=record_id(0), seq=seq, id=record_id(seq), format=1, utc_ms=now, offset_min=OFFSET)
        row.update(local_date=wall.date(), part=1)
    return rows


# --- tables, bag, container (sections 2 to 4) -------------------------------------------------------


def line(cells):
    return ",".join('"' + c.replace('"', '""') + '"' if "," in c or '"' in c else c for c in map(str, cells))


def manifest(algorithm, files):
    return "".join(f"{hashlib.new(algorithm, files[p]).hexdigest()}  {p}\n" for p in sorted(files)).encode()


def members(folder, spoil):
    """Name and members of the file; spoil(stage, what) may change what was made at each stage."""
    key = make_keys(folder)
    description = json.loads(DESCRIPTION.read_text("utf-8"))
    columns = {r["name"]: [f["name"] for f in r["schema"]["fields"]] for r in description["resources"]}
    rows = spoil("records", records(key))
    bodies = [line(row.get(column, "") for column in columns["records"]).encode() for row in rows]
    head = bytes(32)
    for body in bodies:
        head = hashlib.sha256(head + body).digest()
    stream = [rows[0]["stream"], "Station 9", key.hex(), "", 0, 1, len(rows), bytes(32).hex(), head.hex()]
    name = f"season-{stream[0]}-1-{len(rows)}"
    tables = {"records": b"\r\n".join([line(columns["records"]).encode(), *bodies, b""]),
              "stream": f"{line(columns['stream'])}\r\n{line(spoil('stream', stream))}\r\n".encode()}  # fmt: skip
    spoil("tables", tables)
    last = datetime.datetime(1970, 1, 1) + datetime.timedelta(milliseconds=rows[-1]["utc_ms"])
    description.update(name=name, created=last.isoformat(timespec="milliseconds") + "Z")
    for resource in description["resources"]:
        content = tables[resource["name"]]
        resource.update(bytes=len(content), hash="sha256:" + hashlib.sha256(content).hexdigest())
    payload = {f"data/{table}.csv": content for table, content in tables.items()}
    payload["data/datapackage.json"] = (compact(spoil("description", description)) + "\n").encode()
    info = {"Bagging-Date": rows[-1]["local_date"], "External-Identifier": name,
            "Payload-Oxum": f"{sum(map(len, payload.values()))}.3", "Ligule-Season-Format": 1}  # fmt: skip
    tags = {"bagit.txt": b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n",
            "bag-info.txt": "".join(f"{k}: {v}\n" for k, v in spoil("info", info).items()).encode()}  # fmt: skip
    for algorithm in ("sha256", "sha512"):
        tags[f"manifest-{algorithm}.txt"] = manifest(algorithm, payload)
    spoil("tags", tags)
    top = {f"tagmanifest-{algorithm}.txt": manifest(algorithm, tags) for algorithm in ("sha256", "sha512")}
    top["tagmanifest-sha512.txt.minisig"] = sign(folder, top["tagmanifest-sha512.txt"], f"{name} head:{stream[8]}")
    spoil("signed", {"top": top, "payload": payload})
    return name, {**payload, **tags, **top}


def container(name, files, order=None, method=0):
    """A ZIP file by section 2."""
    body, central = b"", b""
    order = order or sorted(files)
    for path in order:
        member, content = f"{name}/{path}".encode(), files[path]
        packed = zlib.compress(content, 9)[2:-4] if method else content
        about = struct.pack("<HHHHIIIH", 0, method, 0, 33, zlib.crc32(content), len(packed), len(content), len(member))
        central += b"PK\1\2" + struct.pack("<HH", 0x033F, 10) + about
        central += struct.pack("<HHHHII", 0, 0, 0, 0, 0o100644 << 16, len(body)) + member
        body += b"PK\3\4" + struct.pack("<H", 10) + about + struct.pack("<H", 0) + member + packed
    counts = struct.pack("<HHHHIIH", 0, 0, len(order), len(order), len(central), len(body), 0)
    return body + central + b"PK\5\6" + counts


def write(folder, spoil=lambda stage, what: what, pack=container):
    """Writes the file into the folder and gives its name; pack makes the container of name and members."""
    name, files = members(folder, spoil)
    (folder / f"{name}.zip").write_bytes(pack(name, files))
    return f"{name}.zip"


if __name__ == "__main__":
    print(write(pathlib.Path(sys.argv[1])))
