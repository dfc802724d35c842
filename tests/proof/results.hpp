// Everything that was simulated, and what is claimed of it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "proof/blunders.hpp"
#include "proof/coverage.hpp"
#include "proof/power.hpp"

namespace steelyard::proof {

struct Results {
  std::uint64_t seed = 1;
  std::size_t sessions = 0, blunders = 0;
  Coverage declared;     // errors drawn as section 4 of the model declares them
  Coverage through_rig;  // level and height errors worked through the rig
  Power once, twice;     // 1 × the smallest detectable error; every position twice, 1.5 ×
  BlunderTable blunders_once, blunders_twice;  // empty counts where none were asked for
};

inline constexpr double times_once = 1, times_twice = 1.5;

struct Claim {
  std::string what, wanted, found;
  bool holds = false;
};

/// What the model's section 9 wants proved, held against what was found.
std::vector<Claim> claims(const Results& results);

/// Blunders of all kinds together.
Explained together(const BlunderTable& table, bool large);

std::string code(std::string_view name);  // as Markdown writes it
/// "94.74 % of 16269"; "none" of nothing.
std::string share_text(const Count& count, int decimals);
std::string number_text(double value, int decimals);
std::string deviation_text(const Count& count, double expected);

}  // namespace steelyard::proof
