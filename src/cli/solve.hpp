// Results for people, and the names by which commands solve. Errors: reconcile::NotSolved, naming the session.
#pragma once

#include <string>

#include "issued/solve.hpp"

namespace steelyard::cli {

using issued::solve;
using issued::Solved;

/// Everything; with `detail` the statistics besides.
std::string table(const Solved& solved, bool detail);
/// What a reading changes: outcome, figures, margins, trust.
std::string summary(const Solved& solved);

std::string version();

}  // namespace steelyard::cli
