// Where it falls short: rows that the figures call for, with the reason where it is known.
#include <cmath>

#include "proof/page.hpp"

namespace steelyard::proof {
namespace {

constexpr double covered_share = 0.95;

/// Names of rows whose coverage is off, with their figures.
template <class Of>
std::string rows_off(const Coverage& coverage, Of&& of) {
  std::string out;
  for (const Row& row : coverage.rows) {
    const Count& count = of(row);
    if (count.of == 0 || near(count, covered_share)) continue;
    out += (out.empty() ? "" : "; ");
    out += code(row.name) + " " + share_text(count, 1);
  }
  return out;
}

std::string of_alarms(const Coverage& declared) {
  return "- **False alarms are rarer than allowed**: " + share_text(declared.alarms, 1) +
         " sessions. Residuals of one session hang together, which the bound for the largest of them does "
         "not know: it "
         "objects to " +
         share_text(declared.by_residual, 1) +
         " where 2.5 % were allowed, and of these chi-square objects to " + share_text(declared.both, 0) +
         " as well.\n";
}

std::string of_untested(const Coverage& declared) {
  if (declared.untested == 0) return {};
  return "- **Nothing to test**: " + std::to_string(declared.untested) + " of " +
         std::to_string(declared.untested + declared.alarms.of) +
         " sessions have no reading to spare; their intervals count above, their tests do not exist.\n";
}

std::string of_small_coupling(const Coverage& declared) {
  const std::string off = rows_off(declared, [](const Row& row) { return row.small_coupling; });
  return "- **Coupling loads below " + number_text(small_coupling_load, 0) + " kg**, looked at apart: " +
         (off.empty() ? std::string("no quantity's coverage is off by more than three standard errors")
                      : off) +
         ". Statics multiplies overhang and coupling load, so the smaller that load, the less linear the "
         "problem; and "
         "what divides by it is reported only where it came out clear of nothing, which picks sessions.\n";
}

std::string of_rig(const Coverage& through) {
  const Evenness even = evenness(through.p_values);
  const std::string off = rows_off(through, [](const Row& row) { return row.all; });
  std::string out =
      "- **Level and height errors are not independent**: the model gives every state its own. In truth the "
      "same "
      "centre of gravity stands behind each slope and the same sensitivity behind each height. Drawn so, " +
      (off.empty() ? std::string("no quantity's coverage is off by more than three standard errors")
                   : "these are off: " + off) +
      "; p-values are " + (even.even() ? "even" : "not even") + " (chi-square " +
      number_text(even.chi_square, 1) + ", D " + number_text(even.kolmogorov, 4) + "), " +
      share_text(through.alarms, 1) + " good sessions are called inconsistent.\n";
  return out;
}

std::string of_blunders(const Results& results) {
  std::string unfound, unnamed;
  for (const BlunderRow& row : results.blunders_twice) {
    const std::string name = code(to_text(row.kind)) + " ";
    if (!at_least(row.all.found, 0.8))
      unfound += (unfound.empty() ? "" : "; ") + name + share_text(row.all.found, 0);
    if (row.large.first.of > 0 && !at_least(row.large.first, 0.9))
      unnamed += (unnamed.empty() ? "" : "; ") + name + share_text(row.large.first, 0);
  }
  std::string out;
  if (!unfound.empty())
    out +=
        "- **Blunders that often stay hidden** even with every position read twice, found in less than four "
        "of five: " +
        unfound + ".\n";
  if (!unnamed.empty())
    out += "- **Large blunders not named first** in nine of ten, with every position read twice: " + unnamed +
           ".\n";
  return out;
}

}  // namespace

std::string shortfalls(const Results& results) {
  std::string out = "## Where it falls short\n\n";
  for (const Claim& claim : claims(results))
    if (!claim.holds) out += "- **Claim not met**: " + claim.what + ": " + claim.found + ".\n";
  if (results.blunders > 0) out += of_blunders(results);
  out += of_rig(results.through_rig) + of_small_coupling(results.declared) + of_alarms(results.declared) +
         of_untested(results.declared);
  if (results.declared.overhang_held > 0)
    out += "- **Overhang held**: " + std::to_string(results.declared.overhang_held) +
           " sessions were solved only with the overhang held.\n";
  return out + "\n";
}

}  // namespace steelyard::proof
