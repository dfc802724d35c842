// A session, solved and assessed: the one way from readings to results.
// Errors: reconcile::NotSolved, naming the session.
#pragma once

#include <optional>
#include <string>

#include "assess/assessment.hpp"
#include "reconcile/findings.hpp"
#include "reconcile/monte_carlo.hpp"
#include "rig/session.hpp"

namespace steelyard::issued {

struct Solved {
  rig::Session session;
  reconcile::Findings findings;
  assess::Assessment assessment;
  std::optional<reconcile::MonteCarlo> monte_carlo = {};  // only where it was asked for

  [[nodiscard]] std::string json() const;  // steelyard-result/1, one line
  /// True where a rating is not passed in some state or a reading is suspect.
  [[nodiscard]] bool worrying() const;
};

Solved solve(const rig::Session& session);

/// Version of the program that computes.
std::string engine_version();

}  // namespace steelyard::issued
