// Which blunders of the trade would make the readings agree (reconciliation model, section 7, Explanations).
//
// Every hypothesis is first weighed in the linear problem near a sound solution, by rank-one updates; those
// that may pass are solved. Sources: a row's deletion and mean shift, R. Cook, S. Weisberg, Residuals and
// Influence in Regression (1982), 2.2; several rows at once, W. Baarda (1968). Internal to src/reconcile.
#pragma once

#include <vector>

#include "reconcile/findings.hpp"
#include "reconcile/hypotheses.hpp"
#include "reconcile/solve_rig.hpp"

namespace steelyard::reconcile {

/// Those that make the global test pass, the best fit first, of equal fits whole figures before free sizes.
/// `near`: unknowns near the truth; `aside`: rows that take no part whatever the hypothesis.
std::vector<Explanation> explain(const SolvedRig& solved, const adjust::Vector& near,
                                 const std::vector<Index>& aside, const std::vector<Hypothesis>& all);

}  // namespace steelyard::reconcile
