#!/usr/bin/env bash
# The main job on the invented station, from a fresh Debian 12: installs what is missing, builds into build/ and
#
#   demo-plots/run.sh               with a display: opens the touch program on the station's tablet
#   demo-plots/run.sh --headless    plays the scripted day (rate, weigh, dry, day's end) through the real touch program,
#                                   seals, verifies, gathers and prints the tables; so too where there is no display
#
# Leaves under demo-plots/out/: pictures/ of every screen, season files (zip), public keys (pub), tests.csv, means.csv,
# long_term.csv, report.html and ratings under measures/. Stops at the first step that fails, with one line that names it.
set -euo pipefail

top=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
cd "$top"
plots=demo-plots
out=$plots/out
desk=build/ligule-desk
ligule=build/ligule
wednesday=2026-05-20
thursday=2026-05-21
friday=2026-05-22
lying=1920x1200
upright=1200x1920
ppi=224
current="start"

finish() {
  local status=$?
  [[ $status -eq 0 ]] || echo "demo-plots/run.sh: step '$current' failed; what went wrong stands above" >&2
}

step() { # NAME COMMAND...
  current=$1
  shift
  echo "== $current"
  "$@"
}

headless=no
case ${1:-} in
  '') ;;
  --headless) headless=yes ;;
  -h | --help) sed -n '2,/^[^#]/s/^# \{0,1\}//p' "${BASH_SOURCE[0]}"; exit 0 ;;
  *) echo "demo-plots/run.sh: no such option: $1 (there is --headless)" >&2; exit 2 ;;
esac
[[ $# -le 1 ]] || { echo "demo-plots/run.sh: one option at most; got: $*" >&2; exit 2; }
[[ -n ${DISPLAY:-}${WAYLAND_DISPLAY:-} ]] || headless=yes
trap finish EXIT

packages() {
  app/packaging/install-packages.sh app/packaging/build-packages.txt app/packaging/demo-packages.txt
}

build() {
  local log
  log=$(mktemp)
  if ! { cmake -S . -B build -G Ninja && ninja -C build ligule ligule-desk ligule_demo_past; } >"$log" 2>&1; then
    tail -n 40 "$log" >&2
    rm -f "$log"
    return 1
  fi
  rm -f "$log"
}

# Two tablets that have been in use since March 2025: one of the home farm, one of the annex. Both hold the plans of their
# trials and every value recorded before the scripted day, and were sealed when the last of them was weighed.
past_seasons() {
  mkdir -p "$out"
  find "$out" -mindepth 1 -maxdepth 1 ! -name hands-on -exec rm -rf {} +
  mkdir -p "$out/pictures/looks"
  build/ligule_demo_past "$out/home.ledger" "Home tablet" "$plots" "$out/season-files" TF24 AL24 SS25 SS26 OG25 PR25 WC25
  build/ligule_demo_past "$out/annex.ledger" "Annex tablet" "$plots" "$out/season-files" TF23
}

# A stick in the tablet: room for the day's copy.
stick() {
  mkdir -p "$out/media/Stick 1"
}

# A plan that is new to the tablet, and one with faults: in its own folder, not on the stick, from where Today would offer them
# above what is due.
plans_to_load() {
  local plans=$out/plans
  mkdir -p "$plans"
  cp -r "$plots/plans/TF23" "$plans/TF23"
  cp -r "$plots/plans/TF23" "$plans/TF23-draft"
  sed -i '3s/tall_fescue/tall_fescu/' "$plans/TF23-draft/entries.csv"
  sed -i 's/^102,/101,/' "$plans/TF23-draft/plots.csv"
  sed -i 's/2026-06-30/2026-06-31/' "$plans/TF23-draft/occasions.csv"
}

# The tablet somebody taps on at a display is one of its own: what they enter stays between runs.
hands_on() {
  local tablet=$out/hands-on
  if [[ ! -f $tablet/home.ledger ]]; then
    mkdir -p "$tablet"
    build/ligule_demo_past "$tablet/home.ledger" "Home tablet" "$plots" "$tablet/season-files" TF24 AL24 SS25 SS26 OG25 PR25 WC25
  fi
  "$ligule" --ledger "$tablet/home.ledger" --today "$wednesday"
}

# Sticks are looked for in the folder that `media` names.
media=media
play() { # LEDGER DAY FILE SIZE
  (cd "$out" && LIGULE_MEDIA=$top/$out/$media "$top/$ligule" --ledger "$1" --headless --size "$4" --ppi "$ppi" --today "$2" --drive "$top/$plots/day/$3")
}

# The same with the harvester's scale plugged in: a simulated indicator, and a crew that loads it plot by plot.
play_with_scale() { # LEDGER DAY FILE SIZE
  local simulator status=0
  mkdir -p "$out/crew" "$out/ports"
  python3 -B "$plots/scale_simulator.py" --link "$out/ports/harvest-scale" --rate 100 --loads "$plots/day/weights.csv" \
    --trial PR25 --crew "$out/crew" &
  simulator=$!
  LIGULE_PORTS=$top/$out/ports play "$@" || status=$?
  kill "$simulator" 2>/dev/null || true
  wait "$simulator" 2>/dev/null || true
  rm -rf "$out/crew" "$out/ports"
  return "$status"
}

# Every screen in both languages and themes, the tablet held both ways: pictures/looks/HELD-LANGUAGE-THEME-SCREEN.png. Both at
# once, on copies of the ledger and of the stick: what is begun to show a screen is no part of the day.
looks() {
  local held size looking status=0
  local -a at_work=()
  plans_to_load
  for held in lying upright; do
    size=$lying
    [[ $held == lying ]] || size=$upright
    cp "$out/home.ledger" "$out/$held.ledger"
    cp -r "$out/media" "$out/media-$held"
    media=media-$held play "$held.ledger" "$thursday" "2-looks-$held.drive" "$size" &
    at_work+=("$!")
  done
  for looking in "${at_work[@]}"; do
    wait "$looking" || status=$?
  done
  rm -r "$out"/{lying,upright}.ledger* "$out"/media-{lying,upright} "$out/plans"
  return "$status"
}

# Day's end seals into season-files/ beside the ledger. The desk seals the annex tablet once more: nothing is new there.
season_files() {
  "$desk" seal --ledger "$out/annex.ledger" --out "$out/season-files"
  cp "$out"/season-files/season-*.zip "$out/"
  cp "$out/home.ledger.pub" "$out/home-tablet.pub"
  cp "$out/annex.ledger.pub" "$out/annex-tablet.pub"
}

gather() {
  "$desk" trust "$out/home-tablet.pub" --ledger "$out/desk.ledger" --label "Home tablet"
  "$desk" trust "$out/annex-tablet.pub" --ledger "$out/desk.ledger" --label "Annex tablet"
  "$desk" gather "$out"/season-*.zip --ledger "$out/desk.ledger"
  echo "-- once more: nothing is new"
  "$desk" gather "$out"/season-*.zip --ledger "$out/desk.ledger"
  "$desk" ledger-check --ledger "$out/desk.ledger"
}

if [[ $headless == no ]]; then
  step packages packages
  step build build
  step "the touch program" hands_on
  exit 0
fi

step packages packages
step build build
step "past seasons" past_seasons
step "a stick" stick
step "Wednesday: rate, weigh, rate" play home.ledger "$wednesday" 1-wednesday.drive "$lying"
step "Thursday: every screen in every look" looks
step "Thursday: rated on, PR25 from the scale, clover rated" play_with_scale home.ledger "$thursday" 2-thursday.drive "$lying"
step "Friday: dry weights, day's end" play home.ledger "$friday" 3-friday.drive "$lying"
step "season files" season_files
step verify "$desk" verify "$out"/season-*.zip
step gather gather
step tables "$desk" tables --ledger "$out/desk.ledger" --out "$out" --site-notes "$plots/desk/site-notes.csv" \
  --weather "$plots/desk/weather.csv" --varieties "$plots/desk/varieties.csv" --wished-lsd "10%"
step "print the tables" python3 -B "$plots/print_tables.py" "$out"
step "trace every number" python3 -B "$plots/check_numbers.py" --means "$out/means.csv" --entered "$plots" "$out"/season-*.zip
echo "Pictures, season files, keys, tables and report.html lie in $out/"
