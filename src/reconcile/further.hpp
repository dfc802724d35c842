// The readings that could still be taken, and which of them would tell most (reconciliation model, section 7,
// The next reading). Internal to src/reconcile.
#pragma once

#include <optional>
#include <vector>

#include "reconcile/findings.hpp"
#include "reconcile/solve_rig.hpp"

namespace steelyard::reconcile {

/// A reading that could be taken: how its value hangs on the unknowns, and what uncertainty of its own it has.
struct Further {
  NextReading reading;
  adjust::Vector gradient;
  double u = 0;
  double expected = 0;  // kg, or mm for the tape
};

/// Every position again, those passed over, a support not read, the coupling in a state of its own, the tape.
/// `z`: the unknowns to suppose loads from.
std::vector<Further> further_readings(const SolvedRig& solved, const adjust::Vector& z);

/// The one that leaves the smallest suspect set, supposing that each member of `set` in turn is the one that
/// is off: the mean size it would leave. Of equals, the one that sets the members furthest apart. One rank-one
/// update for each candidate, of the solution as read; what the reading would then show comes from a solution
/// without the member, as a gross error is not linear. `near`: unknowns near the truth; `given`: what takes
/// part.
std::optional<NextReading> separating(const SolvedRig& solved, const adjust::Observed& given,
                                      const adjust::Vector& near, const std::vector<Further>& candidates,
                                      const SuspectSet& set);

/// The one that most reduces the u of a function of the unknowns: (cᵀΣa)²/(u² + aᵀΣa) of its variance.
std::optional<NextReading> sharpening(const std::vector<Further>& candidates, const adjust::Solution& at,
                                      const adjust::Vector& gradient);

}  // namespace steelyard::reconcile
