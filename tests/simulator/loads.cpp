#include "simulator/loads.hpp"

namespace steelyard::simulator {
namespace {

constexpr std::size_t tow = 0, trailer = 1;

std::vector<std::array<double, 2>> split(const std::vector<double>& axles, const std::vector<double>& left) {
  std::vector<std::array<double, 2>> out;
  for (std::size_t a = 0; a < axles.size(); ++a)
    out.push_back({axles[a] * left[a], axles[a] * (1 - left[a])});
  return out;
}

/// The trailer's weight and whoever is on it, taken as moments about its axle group; gives what its axles
/// carry.
double trailer_axles(const TrueTrailer& on, const TrueState& state, Loads& out) {
  const double reach = on.to_axles;
  const bool somebody = state.person && state.person->vehicle == rig::Vehicle::trailer;
  const double person = somebody ? state.person->mass : 0;
  const double weight = on.mass + person;
  if (on.self_supporting) return weight;
  out.static_coupling = on.coupling + state.height_effect;
  const double centre = reach * (1 - out.static_coupling / on.mass);  // of gravity, behind the coupling
  double turning = on.mass * (reach - centre);
  if (somebody) turning += person * (reach - state.person->place);
  if (state.hitched) {
    turning -= state.bars + state.on_jockey * (reach - on.to_jockey);
    out.net_coupling = turning / reach;
    return weight - state.on_jockey - out.net_coupling;
  }
  double held_at = state.stand;
  if (state.support) held_at = *state.support == rig::Support::jockey ? on.to_jockey : 0;
  out.support = turning / (reach - held_at);
  return weight - out.support;
}

/// Sum and moment about the front group's centre, shared between the groups and within each.
std::vector<double> tow_axles(const TrueRig& rig, const TrueState& state, double net) {
  const TrueTow& vehicle = rig.tow;
  double total = vehicle.front + vehicle.rear, moment = vehicle.rear * vehicle.wheelbase;
  if (state.person && state.person->vehicle == rig::Vehicle::tow) {
    total += state.person->mass;
    moment += state.person->mass * state.person->place;
  }
  if (rig.trailer && state.hitched) {
    total += net;
    moment += net * (vehicle.wheelbase + rig.trailer->overhang) - state.bars;
  }
  moment += total * state.level;
  const double front = group_place(vehicle, state.share[tow], rig::Group::front),
               rear = group_place(vehicle, state.share[tow], rig::Group::rear);
  const double on_rear = (moment - total * front) / (rear - front);
  std::vector<double> out;
  for (std::size_t a = 0; a < vehicle.places.size(); ++a)
    out.push_back(state.share[tow][a] * (vehicle.groups[a] == rig::Group::rear ? on_rear : total - on_rear));
  return out;
}

}  // namespace

double group_place(const TrueTow& vehicle, const std::vector<double>& share, rig::Group group) {
  double out = 0;
  for (std::size_t a = 0; a < vehicle.places.size(); ++a)
    if (vehicle.groups[a] == group) out += share[a] * vehicle.places[a];
  return out;
}

TrueState plain_state(const TrueRig& rig, bool hitched, std::optional<rig::Support> support) {
  TrueState out;
  out.hitched = hitched;
  out.support = support;
  std::array<double, 2> count{};
  for (const rig::Group group : rig.tow.groups) ++count[group == rig::Group::rear ? 1 : 0];
  for (const rig::Group group : rig.tow.groups)
    out.share[tow].push_back(1 / count[group == rig::Group::rear ? 1 : 0]);
  out.left[tow].assign(rig.tow.places.size(), 0.5);
  if (!rig.trailer) return out;
  const auto axles = static_cast<std::size_t>(rig.trailer->axles);
  out.share[trailer].assign(axles, 1.0 / static_cast<double>(axles));
  out.left[trailer].assign(axles, 0.5);
  return out;
}

Loads loads(const TrueRig& rig, const TrueState& state) {
  Loads out;
  if (rig.trailer) {
    const double all = trailer_axles(*rig.trailer, state, out);
    std::vector<double> axles;
    for (const double share : state.share[trailer]) axles.push_back(share * all);
    out.wheels[trailer] = split(axles, state.left[trailer]);
  }
  out.wheels[tow] = split(tow_axles(rig, state, out.net_coupling), state.left[tow]);
  return out;
}

TrueRig with_mass(TrueRig rig, rig::Vehicle vehicle, double place, double mass) {
  if (vehicle == rig::Vehicle::tow) {
    const double total = rig.tow.front + rig.tow.rear + mass;
    const double moment = rig.tow.rear * rig.tow.wheelbase + mass * place;
    rig.tow.rear = moment / rig.tow.wheelbase;
    rig.tow.front = total - rig.tow.rear;
    return rig;
  }
  TrueTrailer& on = rig.trailer.value();
  const double before = on.mass;
  on.mass += mass;
  if (on.self_supporting) return rig;
  const double centre = on.to_axles * (1 - on.coupling / before);  // of gravity, behind the coupling
  const double moved = (before * centre + mass * place) / on.mass;
  on.coupling = on.mass * (on.to_axles - moved) / on.to_axles;
  return rig;
}

double load_at(const Loads& loads, const rig::Position& at) {
  const auto& wheels = loads.wheels[at.vehicle == rig::Vehicle::tow ? tow : trailer];
  const auto axle = [&](std::size_t a) { return wheels.at(a)[0] + wheels.at(a)[1]; };
  switch (at.extent) {
    case rig::Extent::wheel:
      return wheels.at(static_cast<std::size_t>(at.axle - 1))[at.side == rig::Side::left ? 0 : 1];
    case rig::Extent::axle:
      return axle(static_cast<std::size_t>(at.axle - 1));
    case rig::Extent::vehicle: {
      double sum = 0;
      for (std::size_t a = 0; a < wheels.size(); ++a) sum += axle(a);
      return sum;
    }
    case rig::Extent::coupling:
    case rig::Extent::jockey:
      break;
  }
  return loads.support;
}

}  // namespace steelyard::simulator
