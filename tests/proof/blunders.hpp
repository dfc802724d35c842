// Every blunder of the trade, made on purpose: is it found, and is what is proposed first what was done?
#pragma once

#include <array>

#include "proof/coverage.hpp"
#include "simulator/blunder.hpp"

namespace steelyard::proof {

/// A blunder is large where it moved some reading by at least so many times that reading's smallest
/// detectable error, as the session without the blunder has it.
inline constexpr double large_times = 5;

struct Explained {
  Count found;  // of all made
  Count first;  // of those found: kind and place are those of the first explanation
  Count tied;   // of those found: of the first, or of one that fits as well
};

struct BlunderRow {
  simulator::BlunderKind kind = simulator::BlunderKind::digits_swapped;
  Explained all, large;
};

using BlunderTable = std::array<BlunderRow, simulator::blunder_kinds>;

/// `sessions.count` blunders of each kind.
BlunderTable blunder_table(const Sessions& sessions, const Workers& workers);

}  // namespace steelyard::proof
