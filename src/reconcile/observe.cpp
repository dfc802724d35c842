// Values and standard uncertainties of everything observed (reconciliation model, section 4).
#include <cmath>
#include <limits>

#include "reconcile/rig_model.hpp"
#include "rig/scale_errors.hpp"

namespace steelyard::reconcile {
namespace {

// Defaults: common practice, no source (model, section 4).
constexpr double default_placement_u = 0.002;
constexpr double default_wheelbase_u = 5, default_overhang_u = 10;
constexpr double default_to_axles = 4000, default_to_axles_u = 10, unknown_to_axles_u = 1500;
constexpr double default_to_jockey = 500, default_to_jockey_u = 5, unknown_to_jockey_u = 200;
constexpr double default_height_u = 5, unmeasured_height_u = 18;
constexpr double default_cg_height = 700, default_cg_height_u = 100, default_slope_u = 2;
constexpr double stiff_sensitivity_u = 0.15, independent_sensitivity_u = 1.0, raised_kg_per_mm = 12;

using rig::default_division_kg;
using rig::default_gain_u;

/// Largest in-service error of a scale over its capacity, as a rectangular distribution.
double class_gain_u(rig::AccuracyClass of, double capacity, double division) {
  return rig::largest_error_in_service(of, capacity, division) / (capacity * std::sqrt(3.0));
}

/// Dates are YYYY-MM-DD, times begin with one in the place's own day; text order is the order of days.
bool in_date(const rig::Scale& scale, const std::string& weighed_at) {
  return scale.due.empty() || weighed_at.empty() || weighed_at.substr(0, 10) <= scale.due;
}

double gain_u(const rig::Scale& scale, const std::string& weighed_at) {
  if (scale.gain_u) return *scale.gain_u;
  if (scale.accuracy_class && scale.capacity && in_date(scale, weighed_at))
    return class_gain_u(*scale.accuracy_class, scale.capacity->kg().value(), rig::division_or_default(scale));
  return default_gain_u;
}

double squared(double x) {
  return x * x;
}

double anonymous_gain_u(const rig::Session& session) {
  return session.assumptions.anonymous_gain_u.value_or(default_gain_u);
}

/// What an axle of an independently sprung group may carry besides when it stands above the others.
double raised_trailer(const rig::Session& session, const rig::Reading& reading) {
  const bool part = reading.at.extent == rig::Extent::wheel || reading.at.extent == rig::Extent::axle;
  if (!reading.raised || !part || reading.at.vehicle != rig::Vehicle::trailer) return 0;
  if (session.rig.trailer->suspension_or_default() != rig::Suspension::independent) return 0;
  const double share = reading.at.extent == rig::Extent::axle ? 1 : 0.5;
  return session.assumptions.raised_kg_per_mm.value_or(raised_kg_per_mm) * share *
         reading.raised->mm().value();
}

class Observer {
 public:
  Observer(const Layout& layout, bool tape) : at_(layout), session_(*layout.session), tape_(tape) {}

  std::vector<Observation> all() {
    for (const ReadingRow& row : at_.rows) reading(row);
    for (const rig::Scale& scale : session_.scales)
      plain(ObservationKind::gain, 0, gain_u(scale, session_.weighed.at)).scales.push_back(scale.id);
    if (at_.anonymous_gain) plain(ObservationKind::gain, 0, anonymous_gain_u(session_));
    const rig::TowVehicle& tow = session_.rig.tow_vehicle;
    plain(ObservationKind::wheelbase, at_.wheelbase_mm,
          tow.wheelbase_u ? tow.wheelbase_u->mm().value() : default_wheelbase_u);
    if (at_.coupled) trailer();
    for (const StateLayout& place : at_.states)
      if (place.level) level(*place.state);
    if (at_.cg_height) plain(ObservationKind::cg_height, cg_height(), cg_height_u());
    return std::move(out_);
  }

 private:
  Observation& plain(ObservationKind kind, double value, double u) {
    Observation& observation = out_.emplace_back();
    observation.kind = kind;
    observation.value = value;
    observation.u = u;
    return observation;
  }

  void reading(const ReadingRow& row) {
    const rig::Reading& reading = *row.reading;
    const Figure figure = as_observed(session_, reading, reading.load.kg().value());
    Observation& observation = plain(ObservationKind::reading, figure.value, figure.u);
    observation.id = reading.id;
    observation.state = at_.states[row.state].state->name;
    observation.at = rig::to_text(reading.at);
    observation.scales = reading.scales;
  }

  void length(ObservationKind kind, const std::optional<rig::MeasuredLength>& given, double value,
              double bare_u, double unknown_u) {
    if (!given)
      plain(kind, value, unknown_u);
    else
      plain(kind, given->value.mm().value(), given->u ? given->u->mm().value() : bare_u);
  }

  void trailer() {
    const rig::Trailer& trailer = *session_.rig.trailer;
    const auto& taped = session_.rig.tow_vehicle.overhang;
    if (taped && tape_ && at_.lever)
      length(ObservationKind::overhang, taped, 0, default_overhang_u, default_overhang_u);
    length(ObservationKind::coupling_to_axles, trailer.coupling_to_axles, default_to_axles,
           default_to_axles_u, unknown_to_axles_u);
    if (at_.to_jockey)
      length(ObservationKind::coupling_to_jockey, trailer.coupling_to_jockey, default_to_jockey,
             default_to_jockey_u, unknown_to_jockey_u);
    const double u = session_.assumptions.height_sensitivity_u.value_or(
        trailer.suspension_or_default() == rig::Suspension::independent ? independent_sensitivity_u
                                                                        : stiff_sensitivity_u);
    plain(ObservationKind::height_sensitivity, 0, u);
    for (const StateLayout& place : at_.states)
      plain(ObservationKind::coupling_height, 0, u * height_u(*place.state)).state = place.state->name;
  }

  double height_u(const rig::State& state) const {
    if (!state.coupling_height) {
      const auto& assumed = session_.assumptions.unmeasured_height_u;
      return assumed ? assumed->mm().value() : unmeasured_height_u;
    }
    return state.coupling_height->u ? state.coupling_height->u->mm().value() : default_height_u;
  }

  double cg_height() const {
    const auto& given = session_.rig.tow_vehicle.cg_height;
    return given ? given->value.mm().value() : default_cg_height;
  }
  double cg_height_u() const {
    const auto& given = session_.rig.tow_vehicle.cg_height;
    return given && given->u ? given->u->mm().value() : default_cg_height_u;
  }

  void level(const rig::State& state) {
    const double slope = state.slope ? state.slope->value : 0;
    const double slope_u = state.slope && state.slope->u ? *state.slope->u : default_slope_u;
    const double u = std::sqrt(squared(cg_height() * slope_u) + squared(slope * cg_height_u())) / 1000;
    plain(ObservationKind::level, cg_height() * slope / 1000, u).state = state.name;
  }

  const Layout& at_;
  const rig::Session& session_;
  bool tape_;
  std::vector<Observation> out_;
};

}  // namespace

Figure as_observed(const rig::Session& session, const rig::Reading& reading, double load_kg) {
  double known = 0, indication = 0;
  for (const std::string& id : reading.scales) {
    const rig::Scale& scale = *rig::find_scale(session, id);
    known += scale.gain.value_or(0) / static_cast<double>(reading.scales.size());
    indication += squared(rig::division_or_default(scale)) / 6 + squared(rig::repeatability_or_default(scale));
  }
  if (reading.scales.empty()) indication = squared(default_division_kg) / 6 + squared(default_division_kg);
  const double y = load_kg / (1 + known);
  const bool on_support =
      reading.at.extent == rig::Extent::coupling || reading.at.extent == rig::Extent::jockey;
  const double placement = on_support ? 0 : session.placement_u.value_or(default_placement_u);
  double apart = reading.scales.empty() ? squared(anonymous_gain_u(session) * y) : 0;
  apart += squared(raised_trailer(session, reading));
  return {y, std::sqrt(indication + squared(placement * y) + apart)};
}

std::vector<Observation> observe(const Layout& layout, bool tape) {
  return Observer(layout, tape).all();
}

}  // namespace steelyard::reconcile
