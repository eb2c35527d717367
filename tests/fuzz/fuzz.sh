#!/usr/bin/env bash
# Runs the fuzzing programs of a build folder (configured with -DLIGULE_FUZZ=ON), or keeps what they found.
#
#   tests/fuzz/fuzz.sh run BUILD SECONDS [TARGET...]   every target, or those named, so many seconds each, two at a time
#   tests/fuzz/fuzz.sh keep BUILD                      puts the smallest set of inputs that takes the same branches into
#                                                      tests/fuzz/corpus, which the ordinary tests replay
#
# `run` goes on from tests/fuzz/corpus, seeds and what earlier runs left in BUILD/fuzz/corpus. An input that breaks a
# promise, takes 10 s or 1 GiB ends its target's turn; it lies in BUILD/fuzz/found/TARGET. Exits 1 when there is one.
set -euo pipefail

top=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
word=${1:-}
build=${2:-}
targets=(season_file season_rows tables scale_lines drive_file plan_folder ledger_file)
[[ -x $build/fuzz_seeds ]] || {
  echo "tests/fuzz/fuzz.sh: $build/fuzz_seeds is not there: name a folder that was built with -DLIGULE_FUZZ=ON" >&2
  exit 2
}
work=$build/fuzz
# -g1 names functions and lines; a leak is found at the end of each input.
export ASAN_OPTIONS=detect_leaks=1:allocator_may_return_null=0 UBSAN_OPTIONS=print_stacktrace=1

# What a target gets besides the limits that all have. A ledger's input is a few changes, the others are whole texts.
options_of() { # TARGET
  case $1 in
    ledger_file) echo "-max_len=64" ;;
    season_file | plan_folder) echo "-max_len=16384" ;;
    *) echo "-max_len=4096" ;;
  esac
}

run_target() { # TARGET SECONDS
  local target=$1 log=$work/$1.log options
  mkdir -p "$work/corpus/$target" "$work/found/$target" "$top/tests/fuzz/corpus/$target"
  read -ra options <<<"$(options_of "$target")"
  "$build/fuzz_$target" "${options[@]}" -max_total_time="$2" -timeout=10 -rss_limit_mb=1024 -print_final_stats=1 \
    -artifact_prefix="$work/found/$target/" "$work/corpus/$target" "$top/tests/fuzz/corpus/$target" \
    "$work/seeds/$target" >"$log" 2>&1 || echo "$target: broken, see $log" >>"$work/broken"
}

# One line a target: runs, runs a second, branches taken.
tell() { # TARGET
  local log=$work/$1.log
  printf '%-12s %12s runs %8s a second %8s branches\n' "$1" \
    "$(sed -n 's/^stat::number_of_executed_units: *//p' "$log")" \
    "$(sed -n 's/^stat::average_exec_per_sec: *//p' "$log")" \
    "$(grep -Eo 'cov: [0-9]+' "$log" | tail -n 1 | cut -d' ' -f2)"
}

run() { # SECONDS TARGET...
  local seconds=$1
  shift
  [[ $# -gt 0 ]] || set -- "${targets[@]}"
  "$build/fuzz_seeds" "$work/seeds"
  rm -f "$work/broken"
  local target
  for target in "$@"; do
    # Two at a time.
    while [[ $(jobs -rp | wc -l) -ge 2 ]]; do wait -n; done
    run_target "$target" "$seconds" &
  done
  wait
  for target in "$@"; do tell "$target"; done
  [[ ! -e $work/broken ]] || { cat "$work/broken" >&2; return 1; }
}

keep() {
  local target
  for target in "${targets[@]}"; do
    rm -rf "$work/kept/$target"
    mkdir -p "$work/kept/$target" "$work/corpus/$target"
    # Branches only, not how often each was taken: hundreds of inputs in place of thousands.
    "$build/fuzz_$target" -merge=1 -use_counters=0 -use_value_profile=0 -timeout=10 "$work/kept/$target" \
      "$top/tests/fuzz/corpus/$target" "$work/corpus/$target" "$work/seeds/$target" >"$work/$target.keep.log" 2>&1
    rm -rf "$top/tests/fuzz/corpus/$target"
    cp -r "$work/kept/$target" "$top/tests/fuzz/corpus/$target"
    echo "$target: $(find "$top/tests/fuzz/corpus/$target" -type f | wc -l) inputs," \
      "$(du -sb "$top/tests/fuzz/corpus/$target" | cut -f1) bytes"
  done
}

case $word in
  run) run "${@:3}" ;;
  keep) keep ;;
  *)
    echo "tests/fuzz/fuzz.sh: say run or keep" >&2
    exit 2
    ;;
esac
