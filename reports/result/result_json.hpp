// The result of one reconciliation as JSON: contract steelyard-result/1,
// schema/steelyard-result-1.schema.json.
//
// Loads in kg, lengths in mm, whatever the sheet's units. One compact line without a line end; the contract's
// field names in the contract's order; the same findings give the same bytes. Nothing is computed or rounded
// here. Errors: none; a value that is not there, or not finite, is null.
#pragma once

#include <string>
#include <string_view>

#include "assess/assessment.hpp"
#include "reconcile/findings.hpp"
#include "reconcile/monte_carlo.hpp"
#include "rig/session.hpp"

namespace steelyard::reports {

std::string result_json(const rig::Session& session, const reconcile::Findings& findings,
                        const assess::Assessment& assessment, std::string_view engine_version,
                        const reconcile::MonteCarlo* monte_carlo = nullptr);

}  // namespace steelyard::reports
