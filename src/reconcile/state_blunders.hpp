// Blunders that change the rig in one state, not a reading: what each does to the loads. Internal to
// src/reconcile.
#pragma once

#include <vector>

#include "reconcile/hypotheses.hpp"

namespace steelyard::reconcile {

/// Adds them for every state in which they may have happened.
void add_state_blunders(const SolvedRig& solved, const adjust::Vector& sound, std::vector<Hypothesis>& out);

}  // namespace steelyard::reconcile
