// The part of the JSON result that says what a session says against its own scales: `scales`. Loads in kg.
#pragma once

#include "reports/result/json_text.hpp"
#include "rig/session.hpp"

namespace steelyard::reports {

/// Writes the key and its list, one object for each scale of the session.
void write_scales(JsonText& out, const rig::Session& session);

}  // namespace steelyard::reports
