#!/bin/bash
# A tour of the main job on the sample fleet: from sheets to a store, to results, to the client's workbook.
# Builds into build/release, writes into build/tour, works from any folder, and may be run again.
#   tour.sh         the tour
#   tour.sh page    the tour, then the page for entering readings on the same store, until Ctrl-C
set -euo pipefail

here="$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)"
root="$(dirname "$here")"
build="$root/build/release"
tour="$root/build/tour"

. "$here/packages.sh"
install_missing $build_packages

echo "building into $build"
cmake -S "$root" -B "$build" -DCMAKE_BUILD_TYPE=Release -DSTEELYARD_TESTS=OFF >/dev/null
cmake --build "$build" --target steelyard -j"$(nproc)" >/dev/null

mkdir -p "$tour"
rm -f "$tour"/*.db "$tour"/*.xlsx "$tour"/*.html "$tour"/*.json "$tour"/*.jsonl
cd "$here"
export STEELYARD_STORE="$tour/fleet.db"

# say TEXT: what comes next and why.
say() { printf '\n\n%s\n%s\n\n' "## $1" "${2:-}"; }
# steelyard WORD…: shows the command, then runs it.
steelyard() {
  printf '$ steelyard %s\n' "$*"
  "$build/steelyard" "$@"
}

say "1. A store" "One file keeps every sheet and every reading."
steelyard init

say "2. The fleet's sheets" "Each is checked before it is kept; one that is there already is recognised."
steelyard import ./*.json
steelyard import tcw-012-pump-trailer.json

say "3. What is in it"
steelyard list

say "4. A rig weighed well" "Every reading takes part; what is left over says how far to trust the answer."
steelyard reconcile tcw-012-pump-trailer.json

say "5. Two digits swapped" "The readings contradict each other, and the one that is off is named."
steelyard reconcile tcw-012-digits-swapped.json

say "6. It is set aside, and stays on record"
session="$("$build/steelyard" show tcw-012-digits-swapped.json | sed -n 's/^session  \([^,]*\),.*/\1/p')"
steelyard strike "$session" r21 --why "digits swapped: 770 written as 707" --by "R. Okoye"
steelyard reconcile "$session"

say "7. Never weighed apart" "What cannot be known is not guessed: it says what to weigh."
steelyard reconcile tcw-021-weighed-hitched-only.json

say "8. Before and after" "The same rig, over its ratings and then within them."
steelyard reconcile tcw-018-before-springs.json
steelyard reconcile tcw-018-after-springs.json

say "9. The result for other programs" "One line of JSON a session."
"$build/steelyard" reconcile tcw-012-pump-trailer.json --json >"$tour/tcw-012-pump-trailer.result.json"
"$build/steelyard" reconcile --all --json >"$tour/fleet.results.jsonl"
echo "$(wc -l <"$tour/fleet.results.jsonl") results in $tour/fleet.results.jsonl"
head -c 400 "$tour/tcw-012-pump-trailer.result.json"
echo " …"

say "10. What to weigh next time" "Before weighing: positions, order and scales for a wanted uncertainty."
steelyard plan to_weigh/tcw-052-water-cart.json --coupling-u 2 --sheet-to "$tour/tcw-052-to-be-filled.json"

say "11. The client's workbook" "Who issues it is set once."
steelyard settings provider.name "Okoye & Adeyemi, mobile weighing"
steelyard report tcw-012-pump-trailer.json --to "$tour/tcw-012-pump-trailer.xlsx"
steelyard report tcw-018-before-springs.json --to "$tour/tcw-018-before-springs.xlsx"
steelyard report bfs-204-generator-trailer-pounds.json --to "$tour/bfs-204-generator-trailer.xlsx" --paper letter

say "12. Before and after" "What changed for certain, and what the fitted parts weigh by the axles."
steelyard compare tcw-018-before-springs.json tcw-018-after-springs.json --to "$tour/tcw-018-before-and-after.xlsx"

say "13. Each region's words" "One report in the words and units of each region; figures are the same."
for words in au uk us za; do
  steelyard report tcw-012-pump-trailer.json --to "$tour/tcw-012-words-$words.html" --words "$words"
done

say "14. The fleet's audit" "Who is outside a rating, how often, and how near the rest are."
steelyard settings overload_bands --from overload_bands.csv
steelyard audit --to "$tour/fleet-audit.xlsx"

say "15. Filled in by spreadsheet" "A workbook with lists to choose from; its sheets come back as CSV."
rm -f "$tour"/to-fill-in.xlsx
steelyard template --to "$tour/to-fill-in.xlsx"
"$build/steelyard" init --store "$tour/typed.db" >/dev/null
steelyard import --store "$tour/typed.db" spreadsheet/*.csv

say "16. Sealed, amended, verified" "What was read and what was issued can be shown to be so; a correction stands beside it."
steelyard seal "$session"
steelyard amend "$session" --why "the trailer plate was misread" --by "M. Adeyemi"
steelyard show "$session" --record
steelyard verify
steelyard backup "$tour/fleet-backup.db"

say "17. Another van" "What its store holds comes in once; who the rigs are is known by their uids."
"$build/steelyard" init --store "$tour/van-2.db" >/dev/null
"$build/steelyard" import tcw-018-before-springs.json tcw-018-after-springs.json --store "$tour/van-2.db" >/dev/null
steelyard merge "$tour/van-2.db"
steelyard history tcw-018
steelyard register scale

say "Everything the tour made is in $tour"
ls "$tour"

if [ "${1:-}" = page ]; then
  say "18. The page beside the rig" "Open it in a browser; what you read there goes into the tour's store. Ctrl-C ends it."
  steelyard field
else
  say "The page beside the rig" "\`bash sample_data/tour.sh page\` starts it on this store."
fi
