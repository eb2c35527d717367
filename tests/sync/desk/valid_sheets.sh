#!/usr/bin/env bash
# Whether plot sheets are valid HTML, by a validator that is not ours: tidy (Debian's package of that name).
# Usage: valid_sheets.sh LIGULE_DESK PLANS. Exit 77: there is no tidy here.
set -euo pipefail
command -v tidy >/dev/null || exit 77

desk=$1
plans=$2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# Every rating and cutting of the invented station, on both papers, blind and open.
made=0
for plan in "$plans"/*/; do
  while IFS=, read -r code job year cutting _; do
    [[ $job == rate ]] && which=(--rating "$code") || which=(--cutting "$year/$cutting")
    for paper in letter a4; do
      for names in blind open; do
        "$desk" plot-sheets "$plan" "${which[@]}" --paper "$paper" --names "$names" --out "$work/s.html" >/dev/null
        # Warnings count: tidy says by them what a browser would guess.
        tidy -quiet -errors -utf8 "$work/s.html" || { echo "$plan $code, $paper, $names: not valid" >&2; exit 1; }
        made=$((made + 1))
      done
    done
  done < <(tail -n +2 "$plan/occasions.csv" | tr -d '\r')
done
((made > 0)) || { echo "no sheets were made of $plans" >&2; exit 1; }
