// The page that says what was simulated and what came out of it.
#pragma once

#include <string>

#include "proof/results.hpp"

namespace steelyard::proof {

std::string page(const Results& results);

/// "Where it falls short": only rows that the figures call for.
std::string shortfalls(const Results& results);

}  // namespace steelyard::proof
