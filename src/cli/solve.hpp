// A session, solved and assessed: the one way in which commands get from readings to results.
// Errors: reconcile::NotSolved, naming the session.
#pragma once

#include <optional>
#include <string>

#include "assess/assessment.hpp"
#include "reconcile/findings.hpp"
#include "reconcile/monte_carlo.hpp"
#include "rig/session.hpp"

namespace steelyard::cli {

struct Solved {
  rig::Session session;
  reconcile::Findings findings;
  assess::Assessment assessment;
  std::optional<reconcile::MonteCarlo> monte_carlo = {};  // only where it was asked for

  [[nodiscard]] std::string json() const;     // steelyard-result/1, one line
  [[nodiscard]] std::string table(bool detail = false) const;  // everything, for people; with the statistics
  [[nodiscard]] std::string summary() const;  // what a reading changes: outcome, figures, margins, trust
  /// True where a rating is not passed in some state or a reading is suspect.
  [[nodiscard]] bool worrying() const;
};

Solved solve(const rig::Session& session);

std::string version();

}  // namespace steelyard::cli
