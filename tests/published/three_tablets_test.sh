#!/usr/bin/env bash
# A season of three tablets, five trials and four cuttings, sealed in pieces that overlap, with a gap, a fork and two
# conflicts, before programs that know nothing of ours: each file by unzip, sha512sum, sha256sum, minisign, check_bag.py with
# the official profile, Python's SHA-256 along the chain, and the npm readers of Data Packages. Then gathered: what is missing,
# what forked and what contradicts is named, and with the missing piece one ledger comes of it, whichever file came first.
#
# usage: three_tablets_test.sh SAMPLE_PROGRAM DESK_PROGRAM SOURCE_TREE FOLDER
# FOLDER: of the build; the npm readers are installed there. A tool that is not there is named loudly.
set -euo pipefail

sample=$1
desk=$2
tree=$3
folder=$4
published=$tree/tests/published
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work"
done_checks=0

fail() {
  echo "three_tablets_test: $*" >&2
  exit 1
}

check() { # NAME COMMAND...
  local name=$1 log
  shift
  log=$("$@" 2>&1) || fail "$name: $log"
  done_checks=$((done_checks + 1))
}

readers=yes
"$published/outside/install.sh" "$folder" || readers=no
[[ $readers == yes ]] || echo "SKIPPED: the npm readers of Data Packages can't be had: check_bag.py alone judged the tables" >&2
signs=yes
command -v minisign >/dev/null || signs=no
[[ $signs == yes ]] || echo "SKIPPED: minisign is not installed: nobody else looked at the signatures" >&2

"$sample" "$work" >files
[[ $(wc -l <files) -eq 7 ]] || fail "there are $(wc -l <files) files, not 7: $(cat files)"
while read -r which; do
  zip=$(find "$which" -name 'season-*.zip')
  check "$which: unzip -t" unzip -tq "$zip"
  unzip -q "$zip" -d "$which"
  bag=${zip%.zip}
  check "$which: sha512sum" bash -c "cd '$bag' && sha512sum -c --strict --quiet tagmanifest-sha512.txt manifest-sha512.txt"
  check "$which: sha256sum" bash -c "cd '$bag' && sha256sum -c --strict --quiet tagmanifest-sha256.txt manifest-sha256.txt"
  if [[ $signs == yes ]]; then
    check "$which: minisign" \
      minisign -V -q -H -p "$which/signer.pub" -m "$bag/tagmanifest-sha512.txt" -x "$bag/tagmanifest-sha512.txt.minisig"
  fi
  check "$which: RFC 8493, Data Package 2.0, Table Schemas" \
    python3 -B "$published/check_bag.py" "$bag" "$published/data/datapackage-2.0.json"
  check "$which: the chain" \
    python3 -B "$tree/tests/storage/ledger/verify_chain.py" "$bag/data/records.csv" "$bag/data/stream.csv"
  if [[ $readers == yes ]]; then
    check "$which: datapackage, tableschema" node "$published/outside/judge_package.js" "$folder" "$bag/data"
  fi
  check "$which: ligule-desk verify" "$desk" verify "$zip"
done <files

# Gathered the one way and the other; of the fork `c` is kept. The branch that is not kept is refused by name.
gathered() { # LEDGER WHICH...
  local ledger=$1 which
  shift
  for which in a-june b-june c; do "$desk" trust --ledger "$ledger" "$which/signer.pub" >/dev/null; done
  "$desk" gather --ledger "$ledger" --branch c/season-*.zip >/dev/null
  for which; do
    "$desk" gather --ledger "$ledger" "$which"/season-*.zip >>said 2>&1 || [[ $which == c-copy ]] || fail "$which: $(cat said)"
  done
}
gathered one.ligule a-june a-rest b-june b-rest c-copy
grep -q 'gap: records ' said || fail "no gap is told: $(cat said)"
grep -q 'forks at record ' said || fail "no fork is told: $(cat said)"
grep -q '2 conflicts' said || fail "two conflicts are not told: $(cat said)"
gathered one.ligule b-whole
gathered other.ligule b-whole c-copy a-rest b-rest a-june b-june
for ledger in one other; do
  "$desk" ledger-check --ledger "$ledger.ligule" >"$ledger.checked" || fail "$ledger.ligule is not whole: $(cat "$ledger.checked")"
done
digest() { grep -Eo '[0-9a-f]{64}' "$1" | sort -u; }
[[ -n $(digest one.checked) ]] || fail "ledger-check tells no digest: $(cat one.checked)"
check "one digest in either order" cmp <(digest one.checked) <(digest other.checked)

echo "7 files of three tablets, $done_checks checks"
