// Identity of a session by its content.
#pragma once

#include <string>

#include "rig/session.hpp"

namespace steelyard::sheet {

/// The id of a sheet that brings none: SHA-256 (FIPS 180-4) of its canonical form without an id, its first
/// 128 bits laid out as a UUID of version 8, "custom" (RFC 9562, 5.8).
std::string derived_id(const rig::Session& session);

}  // namespace steelyard::sheet
