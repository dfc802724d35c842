// A plan as JSON: contract steelyard-plan/1, schema/steelyard-plan-1.schema.json.
//
// Loads in kg, lengths in mm, whatever the sheet's units; u is a standard uncertainty. One compact line
// without a line end. Nothing is computed or rounded here. Errors: none; what is not there is null.
#pragma once

#include <string>
#include <string_view>

#include "plan/plan.hpp"
#include "rig/session.hpp"

namespace steelyard::reports {

std::string plan_json(const rig::Session& sheet, const plan::Plan& plan, std::string_view engine_version);

}  // namespace steelyard::reports
