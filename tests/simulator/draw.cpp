#include "simulator/draw.hpp"

#include "simulator/draw_parts.hpp"

namespace steelyard::simulator {
namespace {

bool anything_read(const rig::Session& session) {
  for (const rig::State& state : session.states)
    if (!state.readings.empty()) return true;
  return false;
}

}  // namespace

Simulation draw(std::uint64_t seed, std::uint64_t number, const Draw& how) {
  // A session in which every position happened to be passed over is drawn anew, from a stream of its own.
  for (std::uint64_t attempt = 0;; ++attempt) {
    Drawing drawing{Random(seed, number, attempt), how, {}, {}, {}, 0, 0};
    rig::Session& session = drawing.out.session;
    session.id =
        std::string("simulated-").append(std::to_string(seed)).append("-").append(std::to_string(number));
    session.client.name = "Tallow Creek Water Board";
    session.weighed.at = "2026-10-03T08:40:00+02:00";
    if (drawing.random.chance(0.2)) session.units = {units::LoadUnit::pound, units::LengthUnit::inch};
    draw_rig(drawing);
    draw_scales(drawing);
    draw_states(drawing);
    if (!anything_read(session)) continue;
    int id = 0;
    for (rig::State& state : session.states)
      for (rig::Reading& reading : state.readings) reading.id = std::string("r").append(std::to_string(++id));
    return std::move(drawing.out);
  }
}

}  // namespace steelyard::simulator
