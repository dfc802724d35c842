// How far the readings bear each other out (reconciliation model, section 7). Internal to src/reconcile.
#pragma once

#include "reconcile/findings.hpp"
#include "reconcile/solve_rig.hpp"

namespace steelyard::reconcile {

/// Fills fit, observations and suspects of `findings` from the solution with everything.
void judge(const SolvedRig& solved, Findings& findings);

}  // namespace steelyard::reconcile
