// Two results held against each other, figure by figure. Internal to src/issued; the tolerance is issued.hpp's.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace steelyard::issued {

struct Differences {
  std::vector<std::string> first;  // at most `most`
  std::size_t count = 0;
  std::vector<std::string> added;  // members and elements that only `is` has; each kind once
};

inline constexpr std::size_t most_told = 5;

/// `was` and `is` are JSON; tolerance 0 asks for equal numbers, and what is added is a difference then. `passed_over`
/// is a member of the outermost object that is not compared. A text that is no JSON is one difference.
Differences compare(std::string_view was, std::string_view is, double tolerance, std::string_view passed_over = "");

}  // namespace steelyard::issued
