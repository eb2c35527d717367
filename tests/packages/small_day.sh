#!/usr/bin/env bash
# small_day.sh DESK LIGULE PLAN FOLDER: a plan enrolled, the first plot rated on the tablet's program without a display,
# sealed, verified, gathered, all in FOLDER; exits 1 where the value does not arrive.
set -euo pipefail
desk=$1
ligule=$2
plan=$3
folder=$4
mkdir -p "$folder/seals"
cd "$folder"
day=2026-03-26
"$desk" enrol --ledger tablet.ligule --device "Tablet 1" --demo --today "$day" "$plan"
cat >day.drive <<'DRIVE'
expect "Who has the tablet?"
type "CR\n"
expect "Today"
tap "Today/TF24/2026-spring-stand/Rate"
tap "Stake/101"
tap "Stand/85"
wait 2000
expect "102"
shot card.png
quit
DRIVE
"$ligule" --ledger tablet.ligule --headless --size 1280x800 --ppi 150 --today "$day" --drive day.drive
[[ -s card.png ]]
"$desk" seal --ledger tablet.ligule --out seals
"$desk" verify seals/season-*.zip
grep -aqE '^[^,]*,[0-9]+,[^,]*,reading,.*,percent_stand,.*,85,%,85,' seals/season-*.zip
"$desk" trust --ledger desk.ligule --label "Tablet 1" tablet.ligule.pub
"$desk" gather --ledger desk.ligule seals/season-*.zip
"$desk" ledger-check --ledger desk.ligule
