#include "plan/supposed.hpp"

#include <algorithm>
#include <cmath>

#include "assess/compared.hpp"

namespace steelyard::plan {
namespace {

using rig::LimitKind;

// Common practice, no source.
constexpr double loaded_share = 0.85;  // of a rating
constexpr double usual_tow_axle = 1300, usual_trailer_axle = 900;
constexpr double usual_coupling_share = 0.09, fifth_wheel_share = 0.20;
constexpr double usual_overhang = 1200, default_to_axles = 4000, default_to_jockey = 500, default_cg = 700;
constexpr double hitched_front_share = 0.45;  // of a two-axle vehicle's hitched mass

double or_else(const std::optional<rig::MeasuredLength>& given, double otherwise) {
  return given ? given->value.mm().value() : otherwise;
}

}  // namespace

std::optional<double> tightest(const rig::Session& session, LimitKind kind, int axle) {
  std::optional<double> out;
  for (const rig::Limit& limit : session.rig.limits) {
    if (limit.kind != kind || limit.advice || limit.axle != axle) continue;
    const auto rating = assess::rating_of(limit);
    if (rating && *rating > 0 && (!out || *rating < *out)) out = rating;
  }
  return out;
}

SupposedRig::SupposedRig(const rig::Session& sheet, const reconcile::Findings* found)
    : sheet_(sheet), found_(found), coupled_(sheet.rig.trailer && !sheet.rig.trailer->self_supporting) {
  lengths();
  if (sheet.rig.trailer) trailer_by_ratings();
  if (coupled_) coupling_by_ratings();
  vehicle_by_ratings();
  if (found) from_readings();
}

void SupposedRig::lengths() {
  double centre[2] = {0, 0};
  for (const rig::Axle& axle : sheet_.rig.tow_vehicle.axles) {
    const int group = axle.group == rig::Group::rear ? 1 : 0;
    centre[group] += axle.at.mm().value();
    ++count_[group];
  }
  wheelbase_ = centre[1] / count_[1] - centre[0] / count_[0];
  if (!coupled_) return;
  const auto figure = [](const std::optional<rig::MeasuredLength>& given, double otherwise) {
    return Figure{or_else(given, otherwise), given ? Origin::given : Origin::usual};
  };
  overhang_ = figure(sheet_.rig.tow_vehicle.overhang, usual_overhang);
  to_axles_ = figure(sheet_.rig.trailer->coupling_to_axles, default_to_axles);
  to_jockey_ = figure(sheet_.rig.trailer->coupling_to_jockey, default_to_jockey);
}

void SupposedRig::trailer_by_ratings() {
  for (const LimitKind kind : {LimitKind::trailer_gross, LimitKind::towed_mass, LimitKind::trailer_axles,
                               LimitKind::towed_mass_unbraked})
    if (const auto rating = tightest(sheet_, kind)) {
      trailer_ = {loaded_share * *rating, Origin::ratings};
      return;
    }
  double axles = 0;
  for (int n = 1; n <= sheet_.rig.trailer->axles; ++n) {
    const auto rating = tightest(sheet_, LimitKind::trailer_axle, n);
    if (!rating) {
      trailer_ = {usual_trailer_axle * sheet_.rig.trailer->axles, Origin::usual};
      return;
    }
    axles += *rating;
  }
  trailer_ = {loaded_share * axles, Origin::ratings};
}

void SupposedRig::coupling_by_ratings() {
  const double share = overhang_.value > 0 ? usual_coupling_share : fifth_wheel_share;
  coupling_ = {share * trailer_.value, trailer_.origin};
  if (const auto rating = tightest(sheet_, LimitKind::coupling))
    if (loaded_share * *rating < coupling_.value) coupling_ = {loaded_share * *rating, Origin::ratings};
}

void SupposedRig::vehicle_by_ratings() {
  const double axles = count_[0] + count_[1];
  const auto gross = tightest(sheet_, LimitKind::tow_gross), front = tightest(sheet_, LimitKind::tow_front),
             rear = tightest(sheet_, LimitKind::tow_rear),
             combination = tightest(sheet_, LimitKind::combination);
  const double on = coupled_ ? coupling_.value : 0, relief = coupled_ ? on * overhang_.value / wheelbase_ : 0;
  double hitched = usual_tow_axle * axles + on;
  Origin origin = Origin::ratings;
  if (gross)
    hitched = loaded_share * *gross;
  else if (front && rear)
    hitched = loaded_share * (*front + *rear);
  else if (combination && loaded_share * *combination - trailer_.value > usual_tow_axle)
    hitched = loaded_share * *combination - trailer_.value + on;
  else
    origin = Origin::usual;
  const double share = front && rear ? *front / (*front + *rear)
                       : axles == 2  ? hitched_front_share
                                     : count_[0] / axles;
  front_ = {share * hitched + relief, origin};
  rear_ = {(1 - share) * hitched - on - relief, origin};
  if (rear_.value > 0.2 * hitched) return;
  // The coupling would carry nearly all of the rear axle's load: unhitched, a vehicle stands on both.
  front_.value = rear_.value = (hitched - on) / 2;
}

std::optional<double> SupposedRig::read(const char* name, const std::string& state,
                                        const std::string& at) const {
  const reconcile::Quantity* quantity = found_->find(name, state, at);
  return quantity && quantity->determinable && std::isfinite(quantity->value) ? std::optional(quantity->value)
                                                                              : std::nullopt;
}

void SupposedRig::from_readings() {
  const auto take = [&](const char* name, Figure& figure) {
    if (const auto value = read(name)) figure = {*value, Origin::readings};
  };
  take("coupling_load", coupling_);
  if (overhang_.origin != Origin::given) take("overhang", overhang_);
  for (const rig::State& state : sheet_.states)
    if (const auto w = read("weight_distribution_moment", state.name)) read_moment_[state.name] = *w;
  complete_from_hitched();
  take("tow_unhitched_front", front_);
  take("tow_unhitched_rear", rear_);
  take("trailer_mass", trailer_);
}

/// What a hitched state alone tells, with the coupling load as supposed.
void SupposedRig::complete_from_hitched() {
  for (const rig::State& state : sheet_.states) {
    if (!state.hitched) continue;
    const double n = coupled_ ? net(state) : 0, w = coupled_ ? moment(state) : 0,
                 arm = coupled_ ? overhang_.value / wheelbase_ : 0;
    const auto front = read("tow_hitched_front", state.name), rear = read("tow_hitched_rear", state.name),
               axles = read("group_load", state.name, "trailer");
    if (front && rear) {
      front_ = {*front + n * arm - w / wheelbase_, Origin::readings};
      rear_ = {*rear - n * (1 + arm) + w / wheelbase_, Origin::readings};
    }
    if (axles) trailer_ = {*axles + n, Origin::readings};
  }
}

double SupposedRig::moment(const rig::State& state) const {
  if (!coupled_ || !state.hitched || !state.weight_distribution) return 0;
  if (const auto read = read_moment_.find(state.name); read != read_moment_.end()) return read->second;
  if (overhang_.value <= 0) return 0;
  return usual_restoration * coupling_.value * overhang_.value / (1 + overhang_.value / to_axles_.value);
}

double SupposedRig::net(const rig::State& state) const {
  return coupled_ && state.hitched ? coupling_.value - moment(state) / to_axles_.value : 0;
}

double SupposedRig::support(const rig::State& state) const {
  if (!coupled_ || state.hitched) return 0;
  if (state.support != rig::Support::jockey) return coupling_.value;
  return coupling_.value * to_axles_.value / (to_axles_.value - to_jockey_.value);
}

double SupposedRig::tow_axle(const rig::State& state, int axle) const {
  const double n = net(state), w = moment(state), arm = coupled_ ? overhang_.value / wheelbase_ : 0;
  const double front = front_.value - n * arm + w / wheelbase_,
               rear = rear_.value + n * (1 + arm) - w / wheelbase_;
  // On a slope the load shifts as moments about the groups' centres demand.
  const double slope = state.slope ? state.slope->value : 0,
               shift = (front + rear) * or_else(sheet_.rig.tow_vehicle.cg_height, default_cg) * slope / 1000 /
                       wheelbase_;
  const auto& axles = sheet_.rig.tow_vehicle.axles;
  const bool behind = axles[static_cast<std::size_t>(axle - 1)].group == rig::Group::rear;
  return behind ? (rear + shift) / count_[1] : (front - shift) / count_[0];
}

double SupposedRig::trailer_axle(const rig::State& state) const {
  return (trailer_.value - net(state) - support(state)) / sheet_.rig.trailer->axles;
}

double SupposedRig::load(const rig::State& state, const rig::Position& at) const {
  if (at.extent == rig::Extent::coupling || at.extent == rig::Extent::jockey) return support(state);
  const double axle = at.vehicle == rig::Vehicle::tow ? tow_axle(state, at.axle) : trailer_axle(state);
  if (at.extent != rig::Extent::wheel) return axle;
  return axle * (at.side == rig::Side::left ? left_share : 1 - left_share);
}

bool SupposedRig::possible(const std::vector<rig::State>& states) const {
  if (coupled_ && !(coupling_.value > 0)) return false;
  return std::all_of(states.begin(), states.end(), [&](const rig::State& state) {
    const auto axles = static_cast<int>(sheet_.rig.tow_vehicle.axles.size());
    for (int n = 1; n <= axles; ++n)
      if (!(tow_axle(state, n) > 0)) return false;
    return (!sheet_.rig.trailer || trailer_axle(state) > 0) && support(state) >= 0;
  });
}

std::vector<Supposition> SupposedRig::told(const std::vector<rig::State>& states) const {
  using reconcile::Measure;
  std::vector<Supposition> out;
  const auto add = [&](const char* name, const Figure& figure, Measure measure = Measure::kilogram) {
    out.push_back({name, std::nullopt, measure, figure.value, figure.origin});
  };
  add("tow_unhitched_front", front_);
  add("tow_unhitched_rear", rear_);
  if (sheet_.rig.trailer) add("trailer_mass", trailer_);
  if (coupled_) {
    add("coupling_load", coupling_);
    add("overhang", overhang_, Measure::millimetre);
    add("coupling_to_axles", to_axles_, Measure::millimetre);
    const auto on_jockey = [](const rig::State& s) { return s.support == rig::Support::jockey; };
    if (std::any_of(states.begin(), states.end(), on_jockey))
      add("coupling_to_jockey", to_jockey_, Measure::millimetre);
  }
  for (const rig::State& state : states)
    if (coupled_ && state.hitched && state.weight_distribution)
      out.push_back({"weight_distribution_moment", state.name, Measure::kilogram_millimetre, moment(state),
                     read_moment_.contains(state.name) ? Origin::readings : Origin::usual});
  out.push_back({"left_share", std::nullopt, Measure::one, left_share, Origin::usual});
  return out;
}

}  // namespace steelyard::plan
