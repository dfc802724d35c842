// Whether a session has only grown: what Store::extend takes.
#pragma once

#include <optional>
#include <string>

#include "rig/session.hpp"

namespace steelyard::store {

/// The first place in the sheet where `extended` is anything but `stored` with additions and with empty figures filled
/// in, and what is wrong there: "states[0].readings[1].load is not as stored". Nothing where there is none.
std::optional<std::string> other_than_growth(const rig::Session& stored, const rig::Session& extended);

}  // namespace steelyard::store
