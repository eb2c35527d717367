#!/usr/bin/env bash
# A season file's tables before readers of Data Packages that are not ours (npm: datapackage, tableschema): every cell of every
# row, primary and foreign keys; then the same tables with faults planted, each of which they must refuse by name.
#
# usage: outside_package_test.sh SAMPLE_PROGRAM FOLDER
# FOLDER: of the build; the readers are installed there. Exit 77, with what was not checked, where they can't be had.
set -euo pipefail

sample=$1
folder=$2
outside=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)/outside
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

status=0
"$outside/install.sh" "$folder" || status=$?
if [[ $status -eq 77 ]]; then
  echo "SKIPPED: no reader of Data Packages but ours judged the tables of a season file: cells, primary keys and foreign" \
    "keys were checked by check_bag.py alone"
  exit 77
fi
[[ $status -eq 0 ]] || exit 1

# Whatever the readers would fetch (a profile, a schema by its address), they get no network where it can be taken from them.
alone=()
for way in 'unshare -n' 'unshare -rn'; do
  read -ra words <<<"$way"
  if "${words[@]}" true 2>/dev/null; then
    alone=("${words[@]}")
    break
  fi
done
[[ ${#alone[@]} -gt 0 ]] || echo "unshare -n is not allowed here: the readers ran with the network they have"

zip=$("$sample" "$work")
python3 -m zipfile -e "$work/$zip" "$work"
"${alone[@]}" node "$outside/judge_package.js" "$folder" "$work/${zip%.zip}/data" plant
