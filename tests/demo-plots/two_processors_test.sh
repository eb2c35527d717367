#!/usr/bin/env bash
# The same plans, values and seeds through the programs of two processors: season files, drawn plans, pages and tables, of
# the invented station and of published values, must be the same to the byte.
#
# usage: two_processors_test.sh PROGRAMS OTHER_PROGRAMS SOURCE_TREE, all absolute
# In both folders of programs: ligule-desk, ligule_demo_past and season_sample, of one processor each.
set -euo pipefail

plots=$3/demo-plots
published=$3/tests/published/data
work=$(mktemp -d)
# What a program said is shown where it was the last to say something.
finish() {
  if [[ -e $work/said ]]; then tail -n 3 "$work/said" >&2; fi
  rm -rf "$work"
}
trap finish EXIT

fail() {
  echo "two_processors_test: $*" >&2
  exit 1
}

seal() { # PROGRAMS
  # The key of this one is drawn anew each time: its wide tables are compared, how raters agree among them.
  mkdir sample
  unzip -qj "sample/$("$1/season_sample" "$PWD/sample")" '*/data/raters.csv' '*/data/ratings.csv' '*/data/cuttings.csv' -d wide
  rm -r sample
  "$1/ligule_demo_past" home.ledger "Home tablet" "$plots" season-files TF24 AL24 SS25 SS26 OG25 PR25 WC25
  "$1/ligule_demo_past" annex.ledger "Annex tablet" "$plots" season-files TF23
}

gather() { # DESK
  "$1" trust home.ledger.pub --ledger desk.ledger --label "Home tablet"
  "$1" trust annex.ledger.pub --ledger desk.ledger --label "Annex tablet"
  "$1" gather season-files/*.zip --ledger desk.ledger
}

tables() { # DESK
  local values
  "$1" tables --ledger desk.ledger --out tables/station --site-notes "$plots/desk/site-notes.csv" \
    --weather "$plots/desk/weather.csv" --varieties "$plots/desk/varieties.csv" --wished-lsd 10%
  # Published values of every shape we have: complete, with gaps, with bad rows, several tests, several years.
  while read -r values; do
    "$1" tables --values "$values" --skip-bad --out "tables/$(basename "$values" .csv)"
  done < <(grep -l '^test,site,year,cutting,rep,entry,value' "$published"/*.csv | LC_ALL=C sort)
}

draw() { # DESK
  local design
  for design in rcb crd alpha row_column; do
    sed "s/^design,row_column,/design,$design,/" "$plots/desk/site-sheet.csv" >site-sheet.csv
    cp "$plots/desk/entry-list.csv" entry-list.csv
    if [[ $design == alpha ]]; then  # ten entries, each once a block
      sed -i 's/,yes,2,/,yes,,/' entry-list.csv
      echo "incomplete_block_size,5," >>site-sheet.csv
    fi
    "$1" lay-out --entries entry-list.csv --site-sheet site-sheet.csv --seed 20260910 \
      --occasions "$plots/desk/occasion-list.csv" --out "plans/$design"
    "$1" labels "plans/$design" --out "pages/$design-stakes.html"
    "$1" planting-list "plans/$design" --out "pages/$design-sowing.html"
  done
}

# What is compared: not the desk's own ledger, whose times are those of its making.
leave() { # FOLDER PROGRAMS
  mkdir -p "$work/$1/pages"
  cd "$work/$1"
  seal "$2"
  gather "$2/ligule-desk"
  draw "$2/ligule-desk"
  tables "$2/ligule-desk"
  rm -f ./*.ledger ./*.ledger-*
}

(leave one "$1" >"$work/said" 2>&1)
(leave other "$2" >"$work/said" 2>&1)
rm "$work/said"
diff -r "$work/one" "$work/other" >"$work/differences" || fail "files differ: $(head -c 2000 "$work/differences")"
for kind in zip key csv html; do
  [[ -n $(find "$work/one" -name "*.$kind") ]] || fail "no file *.$kind was made"
done
echo "$(find "$work/one" -type f | wc -l) files are the same to the byte, $(find "$work/one" -name '*.csv' | wc -l) tables among them"
