#!/usr/bin/env bash
# Installs what is missing, builds and tests Ligule on Debian 12, as root or with sudo, with no display.
#
#   tests/run.sh          build at -O2 with warnings as errors, run all tests
#   tests/run.sh format   clang-format on the whole tree, shellcheck on the scripts
#   tests/run.sh tidy     clang-tidy-19 without its path analyzer on changed files, after `format`
#   tests/run.sh asan     storage, sync and their tests under AddressSanitizer and UBSan
#   tests/run.sh bench    frames against a peer measured in the same run, planted slips that are caught, checks of one
#                         value in a ledger of a million records, tables against R's lm, and what a ledger of ten thousand
#                         and of a million records costs from the tap to the season file; judges nothing but that R comes
#                         to the same figures
#   tests/run.sh fuzz [SECONDS]
#                         libFuzzer on all that reads what strangers, sticks and machines bring, so many seconds each (60);
#                         tells runs and speed. `tests/fuzz/fuzz.sh keep build-fuzz` keeps what it found
#   tests/run.sh packages the two .debs of `cpack`: judged by lintian, installed on a fresh Debian 12, worked with, removed;
#                         as root only
#   tests/run.sh arm64    storage, sync and their tests for 64-bit ARM by a cross compiler, run under qemu; season files,
#                         drawn plans and tables the same to the byte as this machine's
#   tests/run.sh ci       build and tests, the demonstration's day, format, asan on the rooms that read what people write
#                         (on a machine fast enough that 17 minutes are not over by then), tidy on changed files (4 minutes
#                         at most): what .ci/run calls
#   tests/run.sh full     the same with asan on all of storage and sync, fuzz, packages and arm64, a ledger of ten million
#                         records, clang-tidy and its path analyzer on every file
#
# Stops at the first step that fails, with one line that names it. The last line counts tests and checks.
set -euo pipefail

top=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
cd "$top"
jobs=$(nproc)
passed=0
failed=0
skipped=0
current="start"

# On every way out: a failed step is named once, and the count is the last line.
finish() {
  local status=$?
  if [[ $status -ne 0 ]]; then
    [[ $failed -gt 0 ]] || failed=1
    echo "tests/run.sh: step '$current' failed; what went wrong stands above" >&2
  fi
  if [[ $skipped -gt 0 ]]; then
    echo "tests/run.sh: $skipped tests could not run here; see SKIPPED above" >&2
    echo "$passed passed, $failed failed, $skipped skipped"
  else
    echo "$passed passed, $failed failed"
  fi
}

# step NAME COMMAND...: says what is done and how long it took.
step() {
  current=$1
  shift
  echo "== $current"
  local began=$SECONDS
  "$@"
  echo "== $current: done in $((SECONDS - began)) s"
}

packages() {
  app/packaging/install-packages.sh app/packaging/build-packages.txt app/packaging/test-packages.txt || return
  # Debian's npm can't stand beside a nodejs of another vendor: only where there is neither, and never what stops the run.
  if ! command -v node >/dev/null && ! command -v npm >/dev/null; then
    app/packaging/install-packages.sh app/packaging/node-packages.txt ||
      echo "tests/run.sh: no node here: season files are not judged by readers of Data Packages that are not ours" >&2
  fi
}

configure() { # FOLDER OPTIONS...
  cmake -S . -B "$1" -G Ninja "${@:2}" >"/tmp/ligule-configure.$$" 2>&1 || {
    cat "/tmp/ligule-configure.$$" >&2
    rm -f "/tmp/ligule-configure.$$"
    return 1
  }
  rm -f "/tmp/ligule-configure.$$"
}

build() { # FOLDER OPTIONS...
  configure "$@"
  ninja -C "$1" -j"$jobs"
}

# The rooms that read what people write. The sanitizers take three times as long over all of storage and sync, season
# files among them: `asan` and `full` do that.
reading_rooms=(trial_test files_test)

# Runs every test of a build folder; adds to the count what ctest counted.
run_tests() { # FOLDER OPTIONS...
  local log status=0 line left_out
  log=$(mktemp)
  ctest --test-dir "$1" -j"$jobs" --output-on-failure --no-tests=error --progress "${@:2}" 2>&1 | tee "$log" || status=$?
  line=$(grep -Eo '[0-9]+ tests? failed out of [0-9]+' "$log" | tail -n 1 || true)
  # ctest counts a skipped test as passed, and shows of no test that did not fail what it left out.
  grep -h '^SKIPPED' "$1/Testing/Temporary/LastTest.log" >&2 || true
  left_out=$(grep -cE '^[[:space:]]*[0-9]+ - .* \(Skipped\)$' "$log" || true)
  rm -f "$log"
  skipped=$((skipped + left_out))
  if [[ $line =~ ^([0-9]+)\ tests?\ failed\ out\ of\ ([0-9]+)$ ]]; then
    failed=$((failed + BASH_REMATCH[1]))
    passed=$((passed + BASH_REMATCH[2] - BASH_REMATCH[1] - left_out))
  fi
  return "$status"
}

format() {
  local sources scripts
  mapfile -t sources < <(find storage sync app tests demo-plots -name '*.cc' -o -name '*.h' | sort)
  clang-format --dry-run -Werror "${sources[@]}"
  mapfile -t scripts < <(find .ci app tests demo-plots -type f \( -name '*.sh' -o -path .ci/run \) | sort)
  shellcheck "${scripts[@]}"
  echo "${#sources[@]} sources and ${#scripts[@]} scripts are in order"
  passed=$((passed + 1))
}

tidy() { # changed | all, more options
  # Its own folder, never built: it wants a command for each source, and `build` has batches of tests.
  configure build-tidy -DLIGULE_BATCHES=OFF || return
  python3 tests/tidy.py --build build-tidy --jobs "$jobs" "$@" || return
  passed=$((passed + 1))
}

# What is left of so many minutes since the start: 1 at least, 4 at most.
minutes_left() { # MINUTES
  local left=$(($1 - SECONDS / 60))
  ((left > 1)) || left=1
  ((left < 4)) || left=4
  echo "$left"
}

# The main job, from plans to tables, through the real programs.
day() {
  demo-plots/run.sh --headless
  passed=$((passed + 1))
}

asan() { # all, or the tests to build
  configure build-asan -DLIGULE_SANITIZE=ON -DLIGULE_APP=OFF
  ninja -C build-asan -j"$jobs" "$@"
}

bench() {
  build build
  # Never what stops the run: without R the bench says so.
  if [[ -z ${LIGULE_RSCRIPT:-} ]] && ! command -v Rscript >/dev/null; then
    app/packaging/install-packages.sh app/packaging/bench-packages.txt || true
  fi
  python3 -B tests/bench/report.py build/frames_bench
  build/slips_bench tests/published/data
  # On the disk that the build lies on: a durable commit is what it is held against.
  build/checks_bench build
  python3 -B tests/bench/tables_bench.py build/ligule-desk
  python3 -B tests/bench/speed_bench.py build build
  passed=$((passed + 1))
}

fuzz() { # SECONDS
  local targets=(season_file season_rows tables scale_lines drive_file plan_folder ledger_file)
  app/packaging/install-packages.sh app/packaging/fuzz-packages.txt || return
  configure build-fuzz -DCMAKE_CXX_COMPILER=clang++-19 -DLIGULE_FUZZ=ON -DLIGULE_APP=OFF -DLIGULE_ARCHIVE=OFF || return
  ninja -C build-fuzz -j"$jobs" fuzz_seeds "${targets[@]/#/fuzz_}" || return
  tests/fuzz/fuzz.sh run build-fuzz "$1" || return
  passed=$((passed + ${#targets[@]}))
}

packages_installed() {
  app/packaging/install-packages.sh app/packaging/release-packages.txt || return
  build build || return
  tests/packages/packages_test.sh "$top/build" "$top" || return
  tests/packages/packages_in_chroot.sh "$top/build" "$top" || return
  passed=$((passed + 2))
}

arm64() {
  app/packaging/install-packages.sh app/packaging/arm64-packages.txt || return
  app/packaging/arm64-sysroot.sh app/packaging/arm64-libraries.txt build-arm64/sysroot || return
  # This machine's own programs, to hold against the others what those make.
  configure build || return
  ninja -C build -j"$jobs" ligule-desk ligule_demo_past season_sample || return
  build build-arm64 -DCMAKE_TOOLCHAIN_FILE=app/packaging/arm64.cmake -DLIGULE_APP=OFF -DLIGULE_ARCHIVE=OFF \
    -DLIGULE_NATIVE_BUILD="$top/build"
}

word=${1:-}
seconds=60
if [[ $word == fuzz && ${2:-} =~ ^[1-9][0-9]*$ ]]; then
  seconds=$2
  set -- fuzz
fi
[[ $# -le 1 ]] || { echo "tests/run.sh: one word at most; got: $*" >&2; exit 2; }
case $word in
  '' | format | tidy | asan | bench | fuzz | packages | arm64 | ci | full) ;;
  -h | --help | help) sed -n '2,/^[^#]/s/^# \{0,1\}//p' "${BASH_SOURCE[0]}"; exit 0 ;;
  *)
    echo "tests/run.sh: no such word: $word (there are format, tidy, asan, bench, fuzz, packages, arm64, ci, full, or none)" >&2
    exit 2
    ;;
esac

trap finish EXIT
# Every order of a season's files, not a part of them (tests/sync/desk/season_of_three.h). More kills and taps, one byte in
# twenty of a ledger damaged, not one in five hundred, and every call of a piece of work failing, not every few (tests/faults).
[[ $word != full ]] || export LIGULE_ORDERS=720 LIGULE_KILLS=500 LIGULE_TAPS=50000 LIGULE_DAMAGES=15000 LIGULE_FAULTS=all
step packages packages
case $word in
  '' | ci | full)
    step build build build
    step tests run_tests build
    ;;
esac
case $word in
  ci | full) step "the demonstration's day" day ;;
esac
case $word in
  format | tidy | ci | full) step format format ;;
esac
[[ $word != bench ]] || step bench bench
# Twelve gigabytes of disk, half an hour.
[[ $word != full ]] || step "bench of ten million records" python3 -B tests/bench/speed_bench.py build build 10000 10000000
case $word in
  fuzz | full) step fuzz fuzz "$seconds" ;;
esac
case $word in
  packages | full) step "packages installed and removed" packages_installed ;;
esac
case $word in
  asan | full)
    step "sanitizer build" asan all
    step "tests under sanitizers" run_tests build-asan
    ;;
  ci)
    # ci is to end within half an hour, whatever the machine.
    if ((SECONDS < 17 * 60)); then
      step "sanitizer build of what reads" asan "${reading_rooms[@]}"
      # Others are not built; each test carries the name of its program as a label.
      step "tests of it under sanitizers" run_tests build-asan -L "^($(IFS='|'; echo "${reading_rooms[*]}"))\$"
    else
      echo "== sanitizers: not run, $((SECONDS / 60)) minutes are over; tests/run.sh asan runs them all"
    fi
    ;;
esac
case $word in
  tidy) step "tidy on changed files" tidy changed ;;
  # A change of everything takes 20 minutes on two cores: ci comes to it last and gives it what is left of 27.
  ci) step "tidy on changed files" tidy changed --minutes "$(minutes_left 27)" ;;
  full) step "tidy on every file" tidy all ;;
esac
case $word in
  arm64 | full)
    # Emulated, all takes many times as long: what is tried more often in `full` is tried as often as in ordinary tests.
    [[ $word != full ]] || unset LIGULE_ORDERS LIGULE_KILLS LIGULE_TAPS LIGULE_DAMAGES LIGULE_FAULTS
    step "build for arm64" arm64
    step "tests on an emulated arm64" run_tests build-arm64
    ;;
esac
