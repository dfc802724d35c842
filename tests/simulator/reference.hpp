// The state whose height is the reference height (reconciliation model, section 2).
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "rig/session.hpp"

namespace steelyard::simulator {

/// The first hitched state without weight distribution, else the first hitched one, else the first with a
/// support.
std::optional<std::size_t> reference_of(const std::vector<rig::State>& states);

}  // namespace steelyard::simulator
