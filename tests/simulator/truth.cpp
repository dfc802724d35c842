// The true values of what the reconciliation reports (model, section 6).
#include <algorithm>

#include "simulator/draw.hpp"

namespace steelyard::simulator {
namespace {

std::optional<double> of_rig(const TrueRig& rig, std::string_view name) {
  const double front = rig.tow.front, rear = rig.tow.rear;
  if (name == "tow_unhitched_front") return front;
  if (name == "tow_unhitched_rear") return rear;
  if (name == "tow_unhitched_total") return front + rear;
  if (!rig.trailer) return std::nullopt;
  const TrueTrailer& trailer = *rig.trailer;
  if (name == "trailer_mass") return trailer.mass;
  if (name == "combination_mass") return front + rear + trailer.mass;
  if (trailer.self_supporting) return std::nullopt;
  const double relief = trailer.overhang / rig.tow.wheelbase;
  if (name == "coupling_load") return trailer.coupling;
  if (name == "coupling_share") return trailer.coupling / trailer.mass;
  if (name == "overhang" || name == "inferred_overhang") return trailer.overhang;
  if (name == "front_relief_ratio") return relief;
  if (name == "load_transfer_ratio" || name == "inferred_transfer_ratio") return 1 + relief;
  if (name == "height_sensitivity") return trailer.sensitivity;
  return std::nullopt;
}

/// A hitched state as it would stand on level ground.
std::optional<double> of_hitched(const TrueRig& rig, const TrueState& state, const Loads& on_site,
                                 std::string_view name) {
  const double net = on_site.net_coupling, length = rig.tow.wheelbase;
  const double overhang = rig.trailer ? rig.trailer->overhang : 0;
  const double total = rig.tow.front + rig.tow.rear + net;
  const double front = rig.tow.front - (net * overhang - state.bars) / length;
  if (name == "tow_hitched_total") return total;
  if (name == "tow_hitched_front") return front;
  if (name == "tow_hitched_rear") return total - front;
  if (!rig.trailer || rig.trailer->self_supporting) return std::nullopt;
  if (name == "coupling_load_net") return net;
  if (name == "trailer_axles_hitched") return rig.trailer->mass - net;
  if (name == "weight_distribution_moment") return state.bars;
  if (name == "front_axle_restoration") {
    const double lost = on_site.static_coupling * overhang / length;
    const double regained = state.bars / length * (1 + overhang / rig.trailer->to_axles);
    return regained / lost;
  }
  return std::nullopt;
}

std::optional<double> group_load(const TrueRig& rig, const Loads& on_site, std::string_view at) {
  if (at == "trailer") return load_at(on_site, rig::Position::whole(rig::Vehicle::trailer));
  const rig::Group wanted = at == "tow.rear" ? rig::Group::rear : rig::Group::front;
  double sum = 0;
  for (std::size_t a = 0; a < rig.tow.groups.size(); ++a)
    if (rig.tow.groups[a] == wanted)
      sum += load_at(on_site, rig::Position::whole_axle(rig::Vehicle::tow, static_cast<int>(a + 1)));
  return sum;
}

std::optional<double> at_position(const TrueRig& rig, const Loads& on_site, std::string_view name,
                                  std::string_view at) {
  if (name == "group_load") return group_load(rig, on_site, at);
  const auto position = rig::parse_position(at);
  if (!position) return std::nullopt;
  if (name == "wheel_load" || name == "axle_load") return load_at(on_site, *position);
  if (name != "side_difference") return std::nullopt;
  const auto side = [&](rig::Side s) {
    return load_at(on_site, rig::Position::wheel(position->vehicle, position->axle, s));
  };
  return side(rig::Side::left) - side(rig::Side::right);
}

}  // namespace

std::optional<double> Simulation::truth(std::string_view name, std::string_view state,
                                        std::string_view at) const {
  if (state.empty()) return of_rig(rig, name);
  const auto found = std::find_if(session.states.begin(), session.states.end(),
                                  [&](const rig::State& s) { return s.name == state; });
  if (found == session.states.end()) return std::nullopt;
  const auto k = static_cast<std::size_t>(found - session.states.begin());
  if (!at.empty()) return at_position(rig, loads[k], name, at);
  if (name == "coupling_load_at_height") return loads[k].static_coupling;
  return states[k].hitched ? of_hitched(rig, states[k], loads[k], name) : std::nullopt;
}

}  // namespace steelyard::simulator
