// How far the readings bear each other out (reconciliation model, section 7). Internal to src/reconcile.
#pragma once

#include "reconcile/findings.hpp"
#include "reconcile/solve_rig.hpp"

namespace steelyard::reconcile {

inline constexpr double least_redundancy = 0.01;     // below it nothing checks the observation
inline constexpr double share_of_each_test = 0.025;  // two tests, 5 % between them
inline constexpr double apart_in_chi_square = 3.84;  // closer than this, two observations cannot be told apart

/// Fills fit and observations of `findings` from the solution with everything.
void judge(const SolvedRig& solved, Findings& findings);

/// The suspect set of a solution, whatever its tests say: all whose w² is within 3.84 of the largest. Empty
/// where nothing is checked. Rows set aside are never in it.
SuspectSet suspects_of(const std::vector<Observation>& observations, const adjust::Solution& solution);

}  // namespace steelyard::reconcile
