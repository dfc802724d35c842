#!/bin/bash
# Every test, twice: as released, and with AddressSanitizer and UndefinedBehaviourSanitizer. Installs by package name
# what is missing, builds into build/release-tests and build/sanitize-tests, and ends with one line of counts over
# both runs. Exit code 0 only where everything was built and every test passed.
set -uo pipefail

root="$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)"
. "$root/sample_data/packages.sh"
. "$root/tests/field/browser/install.sh"
install_missing $build_packages $test_packages || exit 1
install_browser_tests "$root/build" || exit 1

passed=0
failed=0
broken=0

# run_build FOLDER CMAKE-OPTION…: builds, runs ctest, adds to the counts.
run_build() {
  local folder="$root/build/$1"
  shift
  echo "== $folder"
  if ! cmake -G "Unix Makefiles" -S "$root" -B "$folder" "$@" >"$folder.configure.log" 2>&1; then
    cat "$folder.configure.log"
    broken=$((broken + 1))
    return
  fi
  # One test program that does not compile must not hide what the others find: the build keeps going.
  if ! cmake --build "$folder" -j"$(nproc)" -- -k >"$folder.build.log" 2>&1; then
    grep -E "error|Error" "$folder.build.log" | head -50
    broken=$((broken + 1))
  fi
  local report="$folder/ctest.xml"
  rm -f "$report"
  ctest --test-dir "$folder" -j"$(nproc)" --output-on-failure --output-junit "$report" || true
  # The numbers come from the report, not from what was printed: no report means that the run did not happen.
  local counts
  if ! counts="$(read_counts "$report")"; then
    echo "no report of the tests in $report"
    broken=$((broken + 1))
    return
  fi
  passed=$((passed + ${counts% *}))
  failed=$((failed + ${counts#* }))
}

# read_counts REPORT: "passed failed"; a test that could not run counts as failed.
read_counts() {
  /usr/bin/python3 - "$1" <<'PYTHON'
import sys
import xml.etree.ElementTree as tree

cases = tree.parse(sys.argv[1]).getroot().findall("testcase")
good = sum(1 for case in cases if case.get("status") == "run")
print(good, len(cases) - good)
sys.exit(0 if cases else 1)
PYTHON
}

mkdir -p "$root/build"
run_build release-tests -DCMAKE_BUILD_TYPE=Release -DSTEELYARD_UNITY=ON -DSTEELYARD_TESTS=ON
# Leaks are faults too; a sanitizer's finding ends the program, so that its test fails.
export ASAN_OPTIONS="detect_leaks=1:abort_on_error=1" UBSAN_OPTIONS="print_stacktrace=1:halt_on_error=1"
run_build sanitize-tests -DCMAKE_BUILD_TYPE=Debug -DSTEELYARD_SANITIZE=ON -DSTEELYARD_UNITY=ON -DSTEELYARD_TESTS=ON

[ "$broken" -eq 0 ] || echo "a build or a test run did not happen, see above"
echo "$passed passed, $((failed + broken)) failed"
[ "$failed" -eq 0 ] && [ "$broken" -eq 0 ]
