// Every blunder of the trade, made on purpose: is it found, and is what is proposed first what was done?
#pragma once

#include <array>

#include "proof/coverage.hpp"
#include "simulator/blunder.hpp"

namespace steelyard::proof {

/// How large a blunder is, in smallest detectable errors: the root of what it adds to chi-square over that of
/// what such an error adds on average. Of a single reading that is its error over its smallest detectable
/// error; of several it counts only what the rest of the session can tell, so that a shift of all repeats is
/// not large.
inline constexpr double large_times = 5;

struct Explained {
  Count found;  // of all made
  Count first;  // of those found: kind and place are those of the first explanation
  Count tied;   // of those found: of the first, or of one that fits as well
};

struct BlunderRow {
  simulator::BlunderKind kind = simulator::BlunderKind::digits_swapped;
  Explained all, large;
  int unsolved = 0;
};

using BlunderTable = std::array<BlunderRow, simulator::blunder_kinds>;

/// `sessions.count` blunders of each kind.
BlunderTable blunder_table(const Sessions& sessions, const Workers& workers);

}  // namespace steelyard::proof
