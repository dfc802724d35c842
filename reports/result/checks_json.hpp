// The parts of the result that check the figures: Monte Carlo and the cross-checks, as the contract's JSON.
//
// Units and null as in result_json.hpp. No errors.
#pragma once

#include "reconcile/findings.hpp"
#include "reconcile/monte_carlo.hpp"
#include "reports/result/json_text.hpp"
#include "rig/session.hpp"

namespace steelyard::reports {

/// The field `monte_carlo`: null where it was not asked for.
void write_monte_carlo(JsonText& out, const reconcile::Findings& findings,
                       const reconcile::MonteCarlo* monte_carlo);

/// The field `cross_checks`: an array, empty where no reading is there to check.
void write_cross_checks(JsonText& out, const rig::Session& session, const reconcile::Findings& findings);

}  // namespace steelyard::reports
