#include "proof/page.hpp"

namespace steelyard::proof {
namespace {

using simulator::Range;
namespace ranges = simulator::ranges;

std::string from_to(Range range, double times = 1, int decimals = 0) {
  return number_text(range.low * times, decimals) + " to " + number_text(range.high * times, decimals);
}

std::string drawn() {
  std::string out =
      "## What was drawn\n\nEvenly between the ends given; kg and mm unless it says otherwise.\n\n";
  const auto row = [&](const std::string& what, const std::string& where) {
    out += "| " + what + " | " + where + " |\n";
  };
  out += "| of the rig | from |\n|---|---|\n";
  row("tow vehicle, front and rear load alone", from_to(ranges::front) + "; " + from_to(ranges::rear));
  row("wheelbase; spacing where a group has two or three axles (15 in 100 rigs)",
      from_to(ranges::wheelbase) + "; " + from_to(ranges::tandem_spacing));
  row("height of its centre of gravity; slope, mm per m, where given",
      from_to(ranges::cg_height) + "; " + from_to(ranges::slope));
  row("trailer of one, two or three axles, single, independent or load-sharing",
      from_to(ranges::trailer_mass));
  row("coupling load, part of the trailer; a small one (8 in 100)",
      from_to(ranges::coupling_share, 100) + " %; " + from_to(ranges::small_coupling));
  row("overhang; fifth wheel (8 in 100) with its coupling load",
      from_to(ranges::overhang) + "; " + from_to(ranges::fifth_wheel_overhang) + ", " +
          from_to(ranges::fifth_wheel_share, 100) + " %");
  row("coupling to axles; to jockey wheel", from_to(ranges::to_axles) + "; " + from_to(ranges::to_jockey));
  row("what weight distribution gives back of the front axle's loss",
      from_to(ranges::restoration, 100) + " %");
  row("left wheel end's part of an axle; share of one axle of a pair",
      from_to(ranges::left, 100) + " %; " + from_to(ranges::share_of_pair, 100) + " %");
  row("scales", "none named or one to five, divisions 0.5 to 2 kg or 1 to 5 lb, gain u " +
                    from_to(ranges::gain_u, 100, 2) + " %, of class III, or not stated");
  row("u of wheelbase; overhang; coupling to axles; to jockey wheel",
      from_to(ranges::wheelbase_u) + "; " + from_to(ranges::overhang_u) + "; " + from_to(ranges::to_axles_u) +
          "; " + from_to(ranges::to_jockey_u) + "; the default where given bare");
  out +=
      "\nA rig in twenty has no trailer, a few trailers stand on their own axles, one sheet in five is in "
      "pounds and "
      "inches. One to four states, with and without support, at the coupling or the jockey wheel, one or "
      "several "
      "hitched; wheels, axles and whole vehicles read in mixture, positions left out, axles raised on pads. "
      "Errors are "
      "drawn as section 4 of the reconciliation model declares them. Never drawn: a length D or j that "
      "nobody "
      "measured, and a support that carries less than seven divisions of its scale.\n\n";
  return out;
}

std::string claim_table(const Results& results) {
  std::string out = "## What is claimed\n\n| claim | wanted | found | |\n|---|---|---|---|\n";
  for (const Claim& claim : claims(results))
    out += "| " + claim.what + " | " + claim.wanted + " | " + claim.found + " | " +
           (claim.holds ? "holds" : "**falls short**") + " |\n";
  out +=
      "\nA share holds where it is within three standard errors of what is wanted, so a small count decides "
      "little. The "
      "smallest detectable error is the middle one of all that were tried. The suspect set has " +
      number_text(results.once.mean_set_size, 1) + " members on average with one pass, " +
      number_text(results.twice.mean_set_size, 1) +
      " with every position read twice and the error 1.5 times as large; se: standard error.\n\n";
  return out;
}

std::string coverage_table(const Coverage& coverage) {
  std::string out =
      "## Coverage by quantity\n\nOne instance a session, by chance, of those that are reported; the "
      "inferred quantities "
      "by Fieller's interval.\n\n| quantity | truth in the interval | off 95 % by |\n|---|---|---|\n";
  for (const Row& row : coverage.rows)
    out += "| " + code(row.name) + " | " + share_text(row.all, 2) + " | " + deviation_text(row.all, 0.95) +
           " |\n";
  return out + "\n";
}

std::string blunder_rows(const BlunderTable& table) {
  std::string out =
      "| blunder | found | then first | first or tied | large: found | first | first or tied |\n";
  out += "|---|---|---|---|---|---|---|\n";
  const auto row = [&](const std::string& name, const Explained& all, const Explained& large) {
    out += "| " + name;
    for (const Count& count : {all.found, all.first, all.tied, large.found, large.first, large.tied})
      out += " | " + share_text(count, 0);
    out += " |\n";
  };
  for (const BlunderRow& one : table) row(code(to_text(one.kind)), one.all, one.large);
  row("all", together(table, false), together(table, true));
  return out + "\n";
}

std::string blunder_tables(const Results& results) {
  std::string out = "## Blunders made on purpose\n\n";
  out += "One blunder a session, its size by chance: a scale off zero by " + from_to(ranges::not_zeroed) +
         " kg, " + from_to(ranges::still_on_jockey) + " kg left on the jockey wheel, a person of " +
         from_to(ranges::person) + " kg, " + from_to(ranges::off_scale, 100) +
         " % of a wheel off its scale, bars worth " + from_to(ranges::bars_at_front) +
         " kg at the front axle. *Found*: the session is called inconsistent. *First*: of those found, the "
         "first "
         "explanation proposed is the kind made, at the readings changed or in the state it was made in. "
         "*Tied*: it is "
         "first, or fits as well as the first. *Large*: at least " +
         number_text(large_times, 0) +
         " times the smallest detectable error, by what it adds to chi-square; of a single reading that is "
         "its error "
         "over its smallest detectable one, of several only what the rest of the session can tell. What "
         "nothing can find, because it changes next to "
         "nothing or "
         "nothing checks it, counts as not found.\n\n";
  out += "Each position read once:\n\n" + blunder_rows(results.blunders_once);
  out += "Each position read twice:\n\n" + blunder_rows(results.blunders_twice);
  return out;
}

}  // namespace

std::string page(const Results& results) {
  std::string out =
      "# What simulation proves\n\n"
      "Made by a program; do not edit. `bash tests/proof/run.sh` makes it anew from " +
      std::to_string(results.sessions) + " drawn sessions and " + std::to_string(results.blunders) +
      " blunders of each kind, seed " + std::to_string(results.seed) +
      ". Rigs, loads and errors come from `tests/simulator`, which works from moments about contact points "
      "and shares "
      "nothing with the engine but the sheet.\n\n";
  out += claim_table(results) + shortfalls(results) + coverage_table(results.declared);
  if (results.blunders > 0) out += blunder_tables(results);
  return out + drawn();
}

}  // namespace steelyard::proof
