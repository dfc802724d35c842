// Suspects, explanations and next readings in the result's JSON. Internal to reports/result.
#pragma once

#include <optional>
#include <string_view>

#include "reconcile/findings.hpp"
#include "reports/result/json_text.hpp"

namespace steelyard::reports {

void write_suspects(JsonText& out, const reconcile::Findings& findings);
/// The field `next_reading`; `after` names what NextReading::after is here.
void write_next_reading(JsonText& out, const std::optional<reconcile::NextReading>& next,
                        std::string_view after);

}  // namespace steelyard::reports
