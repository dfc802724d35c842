#include "simulator/reference.hpp"

#include <algorithm>

namespace steelyard::simulator {

std::optional<std::size_t> reference_of(const std::vector<rig::State>& states) {
  const auto first = [&](auto&& wanted) -> std::optional<std::size_t> {
    const auto found = std::find_if(states.begin(), states.end(), wanted);
    if (found == states.end()) return std::nullopt;
    return static_cast<std::size_t>(found - states.begin());
  };
  if (const auto k = first([](const rig::State& s) { return s.hitched && !s.weight_distribution; })) return k;
  if (const auto k = first([](const rig::State& s) { return s.hitched; })) return k;
  return first([](const rig::State& s) { return s.support.has_value(); });
}

}  // namespace steelyard::simulator
