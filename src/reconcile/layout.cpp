#include "reconcile/layout.hpp"

namespace steelyard::reconcile {
namespace {

// Typical sizes, model section 5.
constexpr double load_scale = 1e3, coupling_scale = 1e2, height_scale = 10, length_scale = 1e3,
                 gain_scale = 1e-3, moment_scale = 1e6, sensitivity_scale = 1;

constexpr std::size_t index_of(rig::Vehicle vehicle) {
  return vehicle == rig::Vehicle::tow ? 0 : 1;
}

bool on_axles(const rig::Position& at) {
  return at.extent == rig::Extent::wheel || at.extent == rig::Extent::axle ||
         at.extent == rig::Extent::vehicle;
}

std::optional<std::size_t> reference_state(const rig::Session& session) {
  std::optional<std::size_t> hitched, supported;
  for (std::size_t k = 0; k < session.states.size(); ++k) {
    const rig::State& state = session.states[k];
    if (state.hitched && !state.weight_distribution) return k;
    if (state.hitched && !hitched) hitched = k;
    if (state.support && !supported) supported = k;
  }
  return hitched ? hitched : supported;
}

std::vector<double> offsets(const rig::TowVehicle& tow, double& wheelbase) {
  std::array<double, 2> sum{}, count{};
  const auto group = [](const rig::Axle& axle) { return axle.group == rig::Group::front ? 0u : 1u; };
  for (const rig::Axle& axle : tow.axles) {
    sum[group(axle)] += axle.at.mm().value();
    count[group(axle)] += 1;
  }
  const std::array<double, 2> centre{sum[0] / count[0], sum[1] / count[1]};
  wheelbase = centre[1] - centre[0];
  std::vector<double> out;
  for (const rig::Axle& axle : tow.axles) out.push_back(axle.at.mm().value() - centre[group(axle)]);
  return out;
}

}  // namespace

Layout::Layout(const rig::Session& of, Lever lever_as, double held)
    : session(&of),
      lever_kind(lever_as),
      held_overhang(held),
      coupled(of.rig.trailer && !of.rig.trailer->self_supporting),
      has_trailer(of.rig.trailer.has_value()) {
  axle_offset = offsets(of.rig.tow_vehicle, wheelbase_mm);
  front = take(load_scale);
  rear = take(load_scale);
  wheelbase = take(length_scale);
  if (has_trailer) trailer = take(load_scale);
  if (coupled) {
    coupling = take(coupling_scale);
    if (lever_kind != Lever::held) lever = take(lever_kind == Lever::overhang ? length_scale : moment_scale);
    to_axles = take(length_scale);
    sensitivity = take(sensitivity_scale);
    for (const rig::State& state : of.states)
      if (state.support == rig::Support::jockey && !to_jockey) to_jockey = take(length_scale);
  }
  for (std::size_t i = 0; i < of.scales.size(); ++i) gains.push_back(take(gain_scale));
  reference = coupled ? reference_state(of) : std::nullopt;
  place_states();
  place_rows();
}

Index Layout::take(double scale) {
  scaled_.emplace_back(count, scale);
  return count++;
}

void Layout::place_states() {
  const rig::Rig& rig = session->rig;
  const std::array<std::size_t, 2> axle_count{rig.tow_vehicle.axles.size(),
                                              rig.trailer ? static_cast<std::size_t>(rig.trailer->axles) : 0};
  const auto height_of = [](const rig::State& state) {
    return state.coupling_height ? std::optional(state.coupling_height->value.mm().value()) : std::nullopt;
  };
  for (const rig::State& state : session->states) {
    StateLayout& place = states.emplace_back();
    place.state = &state;
    std::array<std::vector<bool>, 2> wheel_read{std::vector<bool>(axle_count[0]),
                                                std::vector<bool>(axle_count[1])};
    for (const rig::Reading& reading : state.readings) {
      if (reading.struck || !on_axles(reading.at)) continue;
      const std::size_t v = index_of(reading.at.vehicle);
      place.read[v] = true;
      if (reading.at.extent == rig::Extent::wheel)
        wheel_read[v][static_cast<std::size_t>(reading.at.axle - 1)] = true;
    }
    for (std::size_t v = 0; v < 2; ++v) {
      if (!place.read[v]) continue;
      for (std::size_t a = 0; a < axle_count[v]; ++a) {
        AxleUnknowns& axle = place.axles[v].emplace_back();
        axle.split = wheel_read[v][a];
        axle.first = take(load_scale);
        if (axle.split) axle.second = take(load_scale);
      }
    }
    if (place.read[0]) place.level = take(length_scale);
    if (!coupled) continue;
    place.height = take(height_scale);
    if (state.support) place.support = take(coupling_scale);
    if (state.hitched && state.weight_distribution) place.distribution = take(moment_scale);
    if (!reference) continue;
    const auto here = height_of(state), there = height_of(session->states[*reference]);
    if (here && there) place.height_difference = *here - *there;
  }
}

void Layout::place_rows() {
  for (std::size_t k = 0; k < states.size(); ++k) {
    const StateLayout& place = states[k];
    for (const rig::Reading& reading : place.state->readings) {
      if (reading.struck) continue;
      ReadingRow& row = rows.emplace_back();
      row.reading = &reading;
      row.state = k;
      const rig::Position& at = reading.at;
      if (on_axles(at)) {
        const auto& axles = place.axles[index_of(at.vehicle)];
        const auto whole = [&row](const AxleUnknowns& axle) {
          row.loads.push_back(axle.first);
          if (axle.split) row.loads.push_back(axle.second);
        };
        if (at.extent == rig::Extent::vehicle) {
          for (const AxleUnknowns& axle : axles) whole(axle);
        } else {
          const AxleUnknowns& axle = axles[static_cast<std::size_t>(at.axle - 1)];
          if (at.extent == rig::Extent::axle)
            whole(axle);
          else
            row.loads.push_back(at.side == rig::Side::left ? axle.first : axle.second);
        }
        if (reading.raised && at.vehicle == rig::Vehicle::tow && at.extent != rig::Extent::vehicle) {
          row.raised = reading.raised->mm().value() * (at.extent == rig::Extent::axle ? 1.0 : 0.5);
          if (!cg_height) cg_height = take(length_scale);
        }
      } else {
        row.loads.push_back(place.support.value());
      }
      if (reading.scales.empty()) {
        if (!anonymous_gain) anonymous_gain = take(gain_scale);
        row.gains.push_back(*anonymous_gain);
      }
      for (const std::string& id : reading.scales)
        row.gains.push_back(
            gains[static_cast<std::size_t>(rig::find_scale(*session, id) - session->scales.data())]);
    }
  }
}

Index Layout::constraint_count() const {
  Index count_of = 0;
  for (const StateLayout& place : states) {
    if (place.read[0]) count_of += 2;
    if (place.read[1] && (!coupled || place.state->hitched || place.support)) ++count_of;
    if (place.support) ++count_of;
  }
  return count_of;
}

adjust::Vector Layout::scale() const {
  adjust::Vector out(count);
  for (const auto& [index, size] : scaled_) out[index] = size;
  return out;
}

}  // namespace steelyard::reconcile
