#!/usr/bin/env bash
# A season file before programs that know nothing of ours: unzip and zipinfo, sha512sum and sha256sum, minisign, OpenSSL,
# python3-jsonschema with the official Data Package profile, Python's csv, csvkit, sqlite3, and the chain from the page.
#
# usage: season_file_test.sh SAMPLE_PROGRAM DESK_PROGRAM SOURCE_TREE
# A tool that is not there is named loudly and its checks are skipped; tests/run.sh installs them all.
set -euo pipefail

sample=$1
desk=$2
tree=$3
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work"
done_checks=0
skipped=0

fail() {
  echo "season_file_test: $*" >&2
  exit 1
}

has() { # TOOL: whether it is there; says so when not
  command -v "$1" >/dev/null && return 0
  echo "SKIPPED: $1 is not installed, nothing was checked with it" >&2
  skipped=$((skipped + 1))
  return 1
}

check() { # NAME COMMAND...
  local name=$1 log
  shift
  log=$("$@" 2>&1) || fail "$name: $log"
  done_checks=$((done_checks + 1))
  echo "ok: $name"
}

refuses() { # NAME COMMAND...: the command must fail, with 1 where it is ours
  local name=$1
  shift
  if "$@" >/dev/null 2>&1; then fail "$name: was taken"; fi
  done_checks=$((done_checks + 1))
  echo "ok: $name"
}

zip=$("$sample" "$work")
name=${zip%.zip}
key=$work/north.ligule.pub
records=$name/data/records.csv

# ZIP: Info-ZIP's unzip.
if has unzip; then
  check "unzip -t finds the archive whole" unzip -tq "$zip"
  unzip -q "$zip"
  stored=$(zipinfo -l "$zip" | grep -c ' stor 80-Jan-01 00:00 ')
  [[ $stored -eq 19 ]] || fail "zipinfo: $stored members are stored with the fixed date, not 19"
  check "zipinfo: no member has extra fields, a comment or a data descriptor" \
    bash -c "! zipinfo -v '$zip' | grep -E 'extra field.*: +[1-9]|extended local header: +yes|comment.*: +[1-9]'"
else
  python3 -m zipfile -e "$zip" .
fi
cp "$name/tagmanifest-sha512.txt" t
cp "$name/tagmanifest-sha512.txt.minisig" t.minisig

# Bag: GNU coreutils.
check "sha512sum -c holds for tag and payload files" \
  bash -c "cd '$name' && sha512sum -c --strict --quiet tagmanifest-sha512.txt manifest-sha512.txt"
check "sha256sum -c holds for tag and payload files" \
  bash -c "cd '$name' && sha256sum -c --strict --quiet tagmanifest-sha256.txt manifest-sha256.txt"

# Signature: minisign, with our public key file and with its own key file form of our secret key.
if has minisign; then
  check "minisign verifies the signature" minisign -V -H -p "$key" -m t
  sed 's/^\(.\)/x\1/' t >changed
  refuses "minisign refuses another manifest" minisign -V -H -p "$key" -m changed -x t.minisig
  sed 's/head:./head:z/' t.minisig >other.minisig
  refuses "minisign refuses another trusted comment" minisign -V -H -p "$key" -m t -x other.minisig
  echo hello >message
  check "minisign signs with LEDGER.key" minisign -S -s north.ligule.key -m message
  check "minisign verifies that by LEDGER.pub" minisign -V -p "$key" -m message
fi

# Signature again: OpenSSL, from the bytes of key and signature.
if has openssl; then
  { printf '\x30\x2a\x30\x05\x06\x03\x2b\x65\x70\x03\x21\x00' && sed -n 2p "$key" | base64 -d | tail -c 32; } >pk.der
  sed -n 2p t.minisig | base64 -d | tail -c 64 >sig
  openssl dgst -blake2b512 -binary t >t.blake2b
  check "OpenSSL verifies the signature" \
    openssl pkeyutl -verify -pubin -inkey pk.der -keyform DER -rawin -in t.blake2b -sigfile sig
  { cat sig && sed -n 3p t.minisig | sed 's/^trusted comment: //' | tr -d '\n'; } >global
  sed -n 4p t.minisig | base64 -d >global_sig
  check "OpenSSL verifies the trusted comment" \
    openssl pkeyutl -verify -pubin -inkey pk.der -keyform DER -rawin -in global -sigfile global_sig
  # The fingerprint people compare, made with coreutils alone.
  mapfile -t letters < <(tail -c 32 pk.der | openssl dgst -blake2b512 -binary | head -c 10 | base32 | fold -w 4)
  grep -q "${letters[0]}-${letters[1]}-${letters[2]}-${letters[3]}" "$key" || fail "the fingerprint is not that of the page"
  done_checks=$((done_checks + 1))
fi

# Bag by RFC 8493, description by the official profile of Data Package 2.0, tables by their Table Schemas.
if python3 -c 'import jsonschema' 2>/dev/null; then
  check "RFC 8493, Data Package 2.0 and Table Schemas" \
    python3 -B "$tree/tests/published/check_bag.py" "$name" "$tree/tests/published/data/datapackage-2.0.json"
else
  echo "SKIPPED: python3-jsonschema is not installed" >&2
  skipped=$((skipped + 1))
fi

# Bag again: the Library of Congress's own program, which no package of Debian's brings.
if python3 -c 'import bagit' 2>/dev/null; then
  check "bagit validates the bag" python3 -c 'import bagit; bagit.main()' --validate --quiet "$name"
else
  echo "SKIPPED: Python's bagit is not installed: check_bag.py alone held the bag against RFC 8493" >&2
  skipped=$((skipped + 1))
fi

# Tables: the very texts that went in, by Python's csv, csvkit and sqlite3.
cat >texts.py <<'PYTHON'
import csv, sys
rows = list(csv.DictReader(open(sys.argv[1], newline="", encoding="utf-8"), strict=True))
notes = [r["entered"] for r in rows if r["measure"] == "note"]
assert notes == ['geese, "many" of them', "=1+1", "café — 3 °C, 'dry'; a|b\\c"], notes
weight = [r for r in rows if r["measure"] == "gross_weight" and r["kind"] == "reading" and r["raw"]][0]
assert float(weight["value"]) == 12.35 and weight["raw"] == "ST,GS,+  12.35 lb", weight
assert [r["seq"] for r in rows] == [str(i) for i in range(1, len(rows) + 1)]
PYTHON
check "Python's csv reads the texts as they were typed" python3 texts.py "$records"
# Wide tables: joined by their ids, and a yield made again by hand.
cat >wide.py <<'PYTHON'
import csv, pathlib, sys
data = pathlib.Path(sys.argv[1])
table = lambda name: list(csv.DictReader(open(data / f"{name}.csv", newline="", encoding="utf-8"), strict=True))
plots, entries = ({r[key]: r for r in table(name)} for name, key in (("plots", "plot"), ("entries", "entry")))
stands = {r["number"]: r for r in table("ratings") if r["percent_stand_state"]}
assert {n: r["percent_stand"] for n, r in stands.items()} == {"101": "80", "102": "70", "201": "60", "202": "90"}, stands
for row in stands.values():
    assert plots[row["plot"]]["number"] == row["number"]
    assert entries[plots[row["plot"]]["entry"]]["label"] == row["entry"], row
(cut,) = [r for r in table("cuttings") if r["yield_kg_ha"]]
net, area, fraction = (float(cut[c]) for c in ("net_kg", "area_m2", "dry_matter"))
assert cut["number"] == "101" and cut["dry_matter_from"] == "own sample" and cut["bags"] == "17", cut
assert abs(float(cut["yield_kg_ha"]) - net * fraction / area * 10000) < 1e-9 * float(cut["yield_kg_ha"]), cut
(pair,) = table("raters")
assert (pair["rater"], pair["other"], pair["n"]) == ("CD", "AB", "3") and abs(float(pair["mean_difference"])) < 1e-12, pair
PYTHON
check "Python's csv joins the wide tables and makes the yield again" python3 wide.py "$name/data"
if has csvclean; then
  check "csvkit finds no fault in records.csv" bash -c "csvclean -n '$records' | grep -x 'No errors.'"
fi
if has sqlite3; then
  rows=$(sqlite3 :memory: -cmd ".import --csv $records r" \
    "SELECT count(*) || '|' || max(CASE WHEN seq='5' THEN entered END) FROM r")
  [[ $rows == '22|geese, "many" of them' ]] || fail "sqlite3 reads records.csv as: $rows"
  done_checks=$((done_checks + 1))
  echo "ok: sqlite3 imports records.csv"
fi

# The chain, by the page alone.
chain=$tree/tests/storage/ledger/verify_chain.py
check "the chain leads from its start to the head" python3 -B "$chain" "$records" "$name/data/stream.csv"
sed 's/,85,%,85,/,95,%,95,/' "$records" >forged.csv
cmp -s "$records" forged.csv && fail "the forged table is no other"
refuses "the chain shows a changed value" python3 -B "$chain" forged.csv "$name/data/stream.csv"

# Same records, same bytes: at another time, in other time zones, under other masks.
(umask 077 && TZ=America/New_York "$desk" seal --ledger north.ligule --out a >/dev/null)
(umask 0 && TZ=Asia/Kathmandu "$desk" seal --ledger north.ligule --out b >/dev/null)
check "sealed again elsewhere: the same bytes" cmp "$zip" "a/$zip"
check "and under another zone and mask" cmp "a/$zip" "b/$zip"

# The other way round: what other programs pack again is no season file of ours, though every byte inside is.
check "ligule-desk verifies the file" "$desk" verify "$zip"
if has zip; then
  zip -q -X -r deflated.zip "$name"
  zip -q -X -0 -r stored.zip "$name"
  zip -q -X -0 -r -P secret encrypted.zip "$name"
  for other in deflated stored encrypted; do
    status=0
    "$desk" verify "$other.zip" >/dev/null 2>said || status=$?
    [[ $status -eq 1 && $(wc -l <said) -eq 2 ]] || fail "a file packed again ($other): status $status, $(cat said)"
    done_checks=$((done_checks + 1))
  done
  echo "ok: files packed again by zip (deflated, stored, encrypted) are refused"
fi

echo "$done_checks checks by programs not ours, $skipped tools missing"
