// A fleet drawn by the tests' simulator: rigs that obey statics, weighed with the errors that their sheets declare, with
// ratings near what they carry, of some clients, at some places.
#pragma once

#include "rig/session.hpp"

namespace steelyard::bench {

/// The session of that number; the same number gives the same session.
rig::Session simulated_session(int number);

}  // namespace steelyard::bench
