#!/bin/bash
# Builds the proof program as released and makes PROOF.md anew: bash tests/proof/run.sh. About two minutes of two
# cores after building. Exit code 1 where a claim of the page does not hold; the page is written all the same.
set -euo pipefail

root="$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)"
. "$root/sample_data/packages.sh"
install_missing $build_packages $test_packages
build="$root/build/release-tests"
cmake -G "Unix Makefiles" -S "$root" -B "$build" -DCMAKE_BUILD_TYPE=Release -DSTEELYARD_TESTS=ON >/dev/null
cmake --build "$build" -j"$(nproc)" --target steelyard_proof
"$build/tests/proof/steelyard_proof" --threads "$(nproc)" --to "$root/tests/proof/PROOF.md"
