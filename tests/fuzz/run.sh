#!/bin/bash
# Fuzzes each reader for SECONDS (60) with libFuzzer, AddressSanitizer and UBSan, beginning from the corpus; ends with 1
# where one of them crashed, and says which input. New finds go into corpus/NAME, where every test run replays them.
set -euo pipefail
root="$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)"
. "$root/sample_data/packages.sh"
install_missing $build_packages clang-16 libclang-rt-16-dev
build="$root/build/fuzz"
cmake -S "$root" -B "$build" -DCMAKE_BUILD_TYPE=Debug -DCMAKE_CXX_COMPILER=clang++-16 -DSTEELYARD_FUZZ=ON >/dev/null
cmake --build "$build" -j"$(nproc)" --target fuzz_sheet fuzz_fleet fuzz_csv fuzz_number fuzz_store >/dev/null
export UBSAN_OPTIONS=halt_on_error=1 ASAN_OPTIONS=detect_leaks=1
for name in sheet fleet csv number store; do
  found="$build/found/$name"
  mkdir -p "$found"
  echo "== $name"
  "$build/tests/fuzz/fuzz_$name" -max_total_time="${1:-60}" -timeout=20 -rss_limit_mb=2048 -print_final_stats=1 -verbosity=0 \
    -artifact_prefix="$found/" "$build/found/$name" "$root/tests/fuzz/corpus/$name" 2>&1 |
    grep -E "stat::number_of_executed|ERROR|SUMMARY|Test unit" || true
  test "${PIPESTATUS[0]}" -eq 0
done
