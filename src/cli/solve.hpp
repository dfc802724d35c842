// Results for people, and the names by which commands solve. Errors: reconcile::NotSolved, naming the session.
#pragma once

#include <string>

#include "issued/solve.hpp"
#include "reports/words/wording.hpp"
#include "rig/record.hpp"

namespace steelyard::cli {

using issued::solve;
using issued::Solved;

/// Everything; with `detail` the statistics besides, with a record its place in the store.
std::string table(const Solved& solved, bool detail, const rig::RecordNote* record = nullptr,
                  const reports::Reader& reader = {});
/// What a reading changes: outcome, figures, margins, trust.
std::string summary(const Solved& solved, const reports::Reader& reader = {});

std::string version();

}  // namespace steelyard::cli
