// The fleet that the import is timed with.
#pragma once

#include <string>

#include "rig/session.hpp"

namespace steelyard::bench {

/// The session of that number: a utility with a two-axle trailer, 3 states, 30 readings on 5 scales, 6
/// limits. The same number gives the same session.
rig::Session fleet_session(int number);

}  // namespace steelyard::bench
