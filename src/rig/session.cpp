#include "rig/session.hpp"

#include <string_view>

namespace steelyard::rig {

const State* travelling_state(const Session& session) {
  const State* last_hitched = nullptr;
  for (const State& state : session.states) {
    if (state.travels) return &state;
    if (state.hitched) last_hitched = &state;
  }
  if (last_hitched || session.rig.trailer || session.states.empty()) return last_hitched;
  return &session.states.back();
}

const State* find_state(const Session& session, std::string_view name) {
  for (const State& state : session.states)
    if (state.name == name) return &state;
  return nullptr;
}

const Scale* find_scale(const Session& session, std::string_view id) {
  for (const Scale& scale : session.scales)
    if (scale.id == id) return &scale;
  return nullptr;
}

}  // namespace steelyard::rig
