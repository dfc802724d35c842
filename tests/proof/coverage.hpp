// How often the truth lies in the 95 % interval, whether p-values are even, how often a good session is
// called bad.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "proof/statistics.hpp"
#include "proof/workers.hpp"
#include "simulator/draw.hpp"

namespace steelyard::proof {

/// The sessions to draw.
struct Sessions {
  std::uint64_t seed = 1;
  std::size_t count = 0;
  simulator::Draw how;
};

struct Row {
  std::string name;
  Count all;             // reported, one instance a session
  Count small_coupling;  // of these, where the true coupling load is below `small_coupling_load`
  Count other;           // of these, where it is not, or there is none
};

inline constexpr double small_coupling_load = 40;  // kg

struct Coverage {
  std::vector<Row> rows;  // in the order of the result form
  std::vector<double> p_values;
  Count alarms, by_chi_square, by_residual;  // of sessions that can be tested
  Count both;                                // of those that the largest residual calls so: chi-square too
  int untested = 0;                          // sessions at no freedom
  int overhang_held = 0;
};

Coverage cover(const Sessions& sessions, const Workers& workers);

}  // namespace steelyard::proof
