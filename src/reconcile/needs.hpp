// What to weigh or measure so that what is not determinable becomes so. Internal to src/reconcile.
//
// Every answer is tried before it is given: the readings are added to the session with plausible loads, the
// session is solved, and the first addition that makes the quantity determinable is the one named, the least
// work first.
#pragma once

#include "reconcile/solve_rig.hpp"

namespace steelyard::reconcile {

/// Fills `needs` of every quantity of `derived` that is not determinable.
void find_needs(const rig::Session& session, const SolvedRig& solved, DerivedSet& derived);

}  // namespace steelyard::reconcile
