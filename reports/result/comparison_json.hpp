// A comparison of two sessions as JSON: contract steelyard-comparison/1,
// schema/steelyard-comparison-1.schema.json.
//
// Loads in kg, lengths in mm, whatever the sheets' units. One compact line without a line end; the same
// comparison gives the same bytes. Nothing is computed or rounded here. Errors: none; a value that is not
// there, or not finite, is null.
#pragma once

#include <string>
#include <string_view>

#include "compare/comparison.hpp"

namespace steelyard::reports {

std::string comparison_json(const rig::Session& before, const rig::Session& after,
                            const compare::Comparison& comparison, std::string_view engine_version);

}  // namespace steelyard::reports
