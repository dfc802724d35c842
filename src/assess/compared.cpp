#include "assess/compared.hpp"

#include <array>

#include "assess/assessment.hpp"

namespace steelyard::assess {
namespace {

using reconcile::Quantity;
using rig::LimitKind;

constexpr double standard_gravity_r55 = 9.81;  // m/s², UNECE R55

}  // namespace

std::optional<double> rating_of(const rig::Limit& limit) {
  if (limit.load) return limit.load->kg().value();
  if (limit.number) return *limit.number;
  if (limit.load_index)
    if (const auto one = load_index_kilograms(*limit.load_index)) return *one * limit.tyres;
  return std::nullopt;
}

Compared Comparer::quantity(std::string_view name, const rig::State* state, std::string_view at) const {
  Compared out;
  const std::string_view where = state ? std::string_view(state->name) : std::string_view();
  out.quantity = findings_.find(name, where, at);
  if (!out.quantity) out.quantity = findings_.find_for_limit(name, where, at);
  out.at = at;
  return out;
}

Compared Comparer::stateless(const rig::Limit& limit) const {
  switch (limit.kind) {
    case LimitKind::combination:
      return quantity("combination_mass");
    case LimitKind::trailer_gross:
    case LimitKind::towed_mass:
    case LimitKind::towed_mass_unbraked:
      return quantity(limit.basis == rig::Basis::axles ? "trailer_axles_static" : "trailer_mass");
    case LimitKind::coupling_minimum:
      return quantity("coupling_load");
    case LimitKind::coupling_share_minimum:
    case LimitKind::coupling_share_maximum:
      return quantity("coupling_share");
    case LimitKind::mass_ratio:
      return quantity(limit.against ? "trailer_mass" : "mass_ratio");
    default:
      return coupling_force(limit.kind);
  }
}

Compared Comparer::in_state(const rig::Limit& limit, const rig::State& state) const {
  switch (limit.kind) {
    case LimitKind::tow_gross:
      return quantity("tow_load", &state);
    case LimitKind::tow_front:
      return group(state, "tow_front_load");
    case LimitKind::tow_rear:
      return group(state, "tow_rear_load");
    case LimitKind::tow_front_minimum_share:
      return group(state, "tow_front_share");
    case LimitKind::tow_axle:
      return axle(state, rig::Vehicle::tow, limit.axle);
    case LimitKind::trailer_axle:
      return axle(state, rig::Vehicle::trailer, limit.axle);
    case LimitKind::trailer_axles: {
      if (session_.rig.trailer->self_supporting) return quantity("trailer_mass");
      return quantity("trailer_axles_hitched", &state);
    }
    case LimitKind::coupling:
      return quantity("coupling_load_at_height", &state);
    case LimitKind::wheel:
      return wheel(state, limit);
    case LimitKind::side_difference:
      return side_difference(state, limit);
    default:
      return quantity("front_axle_restoration", &state);
  }
}

Compared Comparer::group(const rig::State& state, std::string_view name) const {
  Compared out = quantity(name, &state);
  if (out.quantity && !out.quantity->determinable)
    out.reason = out.quantity->needs ? out.quantity->needs->text
                                     : "weigh every axle of the tow vehicle in state “" + state.name + "”";
  return out;
}

Compared Comparer::axle(const rig::State& state, rig::Vehicle vehicle, int n) const {
  const std::string at = to_text(rig::Position::whole_axle(vehicle, n));
  Compared out = quantity("axle_load", &state, at);
  if (!out.quantity) out.reason = "weigh axle " + at + " in state “" + state.name + "”";
  return out;
}

Compared Comparer::wheel(const rig::State& state, const rig::Limit& limit) const {
  std::array<Compared, 2> ends;
  for (const rig::Side side : {rig::Side::left, rig::Side::right})
    ends[side == rig::Side::left ? 0 : 1] =
        quantity("wheel_load", &state, to_text(rig::Position::wheel(limit.vehicle, limit.axle, side)));
  const std::string place = to_text(rig::Position::whole_axle(limit.vehicle, limit.axle));
  if (!ends[0].quantity || !ends[1].quantity) {
    Compared out;
    out.reason = "weigh each wheel end of " + place + " in state “" + state.name + "”";
    return out;
  }
  for (std::size_t known : {0u, 1u}) {
    if (ends[1 - known].quantity->determinable) continue;
    // The heavier end is at least the one that is known; over with that one, it is over.
    const Quantity& end = *ends[known].quantity;
    const auto rating = rating_of(limit);
    return end.determinable && rating && end.value > *rating ? ends[known] : ends[1 - known];
  }
  return ends[0].quantity->value >= ends[1].quantity->value ? ends[0] : ends[1];
}

/// The axle that differs most. One read on one side only is not passed over: the limit is not assessed
/// then, unless another axle is over it already.
Compared Comparer::side_difference(const rig::State& state, const rig::Limit& limit) const {
  Compared out;
  const Quantity* open = nullptr;
  for (const Quantity& candidate : findings_.limit_quantities) {
    if (candidate.name != "side_difference_share" || candidate.state != state.name) continue;
    if (!candidate.determinable) {
      open = &candidate;
      continue;
    }
    if (out.quantity && out.quantity->value >= candidate.value) continue;
    out.quantity = &candidate;
    out.at = *candidate.at;
  }
  const auto rating = rating_of(limit);
  if (open && !(out.quantity && rating && out.quantity->value > *rating)) {
    out.quantity = open;
    out.at = *open->at;
  }
  if (!out.quantity) out.reason = "weigh left and right of an axle apart in state “" + state.name + "”";
  return out;
}

/// The lowest rating of a kind: where two sources disagree the lower governs.
std::optional<double> Comparer::lowest(LimitKind kind) const {
  std::optional<double> out;
  for (const rig::Limit& limit : session_.rig.limits) {
    if (limit.kind != kind || limit.advice) continue;
    const auto rating = rating_of(limit);
    if (rating && (!out || *rating < *out)) out = rating;
  }
  return out;
}

/// D = g·Tv·Tt/(Tv + Tt) from the ratings in tonnes, in kN; Dc takes the trailer's axle load for Tt (UNECE
/// R55).
Compared Comparer::coupling_force(LimitKind kind) const {
  const auto tow = lowest(LimitKind::tow_gross);
  auto towed = lowest(kind == LimitKind::d_value ? LimitKind::trailer_gross : LimitKind::trailer_axles);
  if (!towed && kind == LimitKind::d_value) towed = lowest(LimitKind::towed_mass);
  Compared out;
  if (!tow || !towed) {
    out.reason = std::string("it follows from ratings that the sheet does not give: add ") +
                 (tow ? "" : "tow_gross") + (tow || towed ? "" : " and ") +
                 (towed                        ? ""
                  : kind == LimitKind::d_value ? "trailer_gross"
                                               : "trailer_axles");
    return out;
  }
  out.value = standard_gravity_r55 * *tow * *towed / (*tow + *towed) / 1000;
  out.u = 0;
  return out;
}

}  // namespace steelyard::assess
