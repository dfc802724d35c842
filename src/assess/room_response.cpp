#include "assess/room_response.hpp"

#include <algorithm>

namespace steelyard::assess {
namespace {

using reconcile::ObservationKind;
using reconcile::Quantity;
using rig::Group;
using rig::LimitKind;
using rig::Vehicle;

const rig::State* state_of(const rig::Session& session, const Row& row) {
  return row.state ? rig::find_state(session, *row.state) : nullptr;
}

std::string trailer_name(std::size_t axle) {
  return to_text(rig::Position::whole_axle(Vehicle::trailer, static_cast<int>(axle)));
}

std::string tow_name(std::size_t axle) {
  return to_text(rig::Position::whole_axle(Vehicle::tow, static_cast<int>(axle + 1)));
}

}  // namespace

std::optional<double> Addition::found(std::string_view name, std::string_view state, std::string_view at) {
  const Quantity* quantity = findings_.find(name, state, at);
  if (!quantity) quantity = findings_.find_for_limit(name, state, at);
  if (quantity && quantity->determinable) return quantity->value;
  reason_ = quantity && quantity->needs ? quantity->needs->text : "";
  if (reason_.empty()) {
    reason_ = std::string(name) + " is not known from these readings";
    if (!at.empty()) reason_ = std::string("weigh ").append(at).append(" in state “").append(state) + "”";
  }
  return std::nullopt;
}

std::optional<double> Addition::fitted(ObservationKind kind, std::string_view state) const {
  for (const reconcile::Observation& observation : findings_.observations)
    if (observation.kind == kind && observation.state.value_or("") == state) return observation.fitted;
  return std::nullopt;
}

double Addition::wheelbase() const {
  if (const auto found = fitted(ObservationKind::wheelbase)) return *found;
  double sum[2] = {}, count[2] = {};
  for (const rig::Axle& axle : session_.rig.tow_vehicle.axles) {
    sum[axle.group == Group::rear] += axle.at.mm().value();
    ++count[axle.group == Group::rear];
  }
  return sum[1] / count[1] - sum[0] / count[0];
}

/// A length that the model had to suppose tells nothing of where a load goes.
std::optional<double> Addition::to_axles() {
  const auto length = fitted(ObservationKind::coupling_to_axles);
  if (session_.rig.trailer->coupling_to_axles && length) return length;
  reason_ = "measure from the coupling to the trailer's axles";
  return std::nullopt;
}

/// C, and every Cₖ alike.
Addition::Rate Addition::coupling() {
  if (!on_trailer() || !coupled()) return 0.0;
  if (place_.at_mm == 0) return 1.0;
  const auto reach = to_axles();
  return reach ? Rate(1 - place_.at_mm / *reach) : std::nullopt;
}

Addition::Rate Addition::net(const rig::State& state) {
  return state.hitched ? coupling() : 0.0;
}

Addition::Rate Addition::tow_total(const rig::State& state) {
  return on_trailer() ? net(state) : 1.0;
}

/// About the front group's centre.
Addition::Rate Addition::tow_moment(const rig::State& state) {
  if (!on_trailer()) return place_.at_mm;
  const Rate load = net(state);
  if (!load || *load == 0) return load;
  const auto overhang = found("overhang");
  return overhang ? Rate(*load * (wheelbase() + *overhang)) : std::nullopt;
}

int Addition::axles_of(Group group) const {
  const auto& axles = session_.rig.tow_vehicle.axles;
  return static_cast<int>(
      std::count_if(axles.begin(), axles.end(), [group](const auto& axle) { return axle.group == group; }));
}

std::optional<double> Addition::share(const rig::State& state, std::size_t axle) {
  const auto& axles = session_.rig.tow_vehicle.axles;
  if (axle >= axles.size()) return std::nullopt;
  const Group group = axles[axle].group;
  if (axles_of(group) == 1) return 1.0;
  supposed_ = true;
  const auto own = found("axle_load", state.name, tow_name(axle));
  const auto all = found("group_load", state.name, group == Group::rear ? "tow.rear" : "tow.front");
  if (!own || !all) return std::nullopt;
  if (*all > 0) return *own / *all;
  reason_ = "an axle group carries nothing";
  return std::nullopt;
}

std::optional<double> Addition::centre(const rig::State& state, Group group) {
  const auto& axles = session_.rig.tow_vehicle.axles;
  const double nominal = group == Group::rear ? wheelbase() : 0;
  if (axles_of(group) == 1) return nominal;
  double mean = 0, carried = 0;
  for (std::size_t a = 0; a < axles.size(); ++a) {
    if (axles[a].group != group) continue;
    const auto part = share(state, a);
    if (!part) return std::nullopt;
    mean += axles[a].at.mm().value() / axles_of(group);
    carried += axles[a].at.mm().value() * *part;
  }
  return nominal + carried - mean;
}

/// What the axles of a group then stand on, the ground as it is.
Addition::Rate Addition::tow_group_on_site(const rig::State& state, Group group) {
  const auto front = centre(state, Group::front), rear = centre(state, Group::rear);
  const Rate total = tow_total(state), level_moment = tow_moment(state);
  if (!front || !rear || !total || !level_moment) return std::nullopt;
  const double moment = *level_moment + *total * fitted(ObservationKind::level, state.name).value_or(0);
  const double on_rear = (moment - *total * *front) / (*rear - *front);
  return group == Group::rear ? on_rear : *total - on_rear;
}

/// As the limits on groups take it: Fₖ or Rₖ of a single axle; of several their sum on site, made level.
Addition::Rate Addition::tow_group(const rig::State& state, Group group) {
  const Rate total = tow_total(state), moment = tow_moment(state);
  if (!total || !moment) return std::nullopt;
  if (axles_of(group) == 1) {
    const double rear = *moment / wheelbase();
    return group == Group::rear ? rear : *total - rear;
  }
  const Rate sum = tow_group_on_site(state, group);
  if (!sum) return std::nullopt;
  const double shift = *total * fitted(ObservationKind::level, state.name).value_or(0) / wheelbase();
  return group == Group::rear ? *sum - shift : *sum + shift;
}

Addition::Rate Addition::trailer_axles(const rig::State& state) {
  if (!on_trailer() || !coupled()) return on(Vehicle::trailer);
  const Rate load = coupling();
  if (!load || state.hitched || state.support == rig::Support::coupling)
    return load ? Rate(1 - *load) : std::nullopt;
  if (!state.support) {
    reason_ = "nothing is known of what holds the nose in state “" + state.name + "”";
    return std::nullopt;
  }
  const auto reach = to_axles(), jockey = fitted(ObservationKind::coupling_to_jockey);
  if (!reach || !jockey) return std::nullopt;
  return 1 - *load * *reach / (*reach - *jockey);
}

Addition::Rate Addition::axle(const rig::State& state, const rig::Position& at) {
  const auto number = static_cast<std::size_t>(at.axle);
  if (at.vehicle == Vehicle::tow) {
    const auto part = share(state, number - 1);
    if (!part) return std::nullopt;
    const Rate group = tow_group_on_site(state, session_.rig.tow_vehicle.axles[number - 1].group);
    return group ? Rate(*part * *group) : std::nullopt;
  }
  const Rate all = trailer_axles(state);
  if (!all || *all == 0 || session_.rig.trailer->axles == 1) return all;
  supposed_ = true;
  const auto own = found("axle_load", state.name, trailer_name(number));
  const auto sum = found("group_load", state.name, "trailer");
  if (!own || !sum) return std::nullopt;
  if (*sum > 0) return *all * *own / *sum;
  reason_ = "the trailer's axles carry nothing";
  return std::nullopt;
}

Addition::Answer Addition::plain(const Row& row, Rate rate) const {
  return rate ? Answer(Response{*row.value, *rate, 1, 0, *row.u}) : std::nullopt;
}

/// A ratio whose lower part is `under` now; written so that the lower part is positive.
Addition::Answer Addition::over(const Row& row, Rate rate, std::optional<double> under,
                                Rate under_rate) const {
  if (!rate || !under || !under_rate || *under == 0) return std::nullopt;
  const double sign = *under > 0 ? 1 : -1;
  return Response{sign * *row.value * *under, sign * *rate, sign * *under, sign * *under_rate, *row.u};
}

Addition::Answer Addition::wheel(const Row& row, const rig::State& state) {
  const auto end = rig::parse_position(row.at);
  if (!end) return std::nullopt;
  supposed_ = true;
  const rig::Position whole = rig::Position::whole_axle(end->vehicle, end->axle);
  const auto load = found("axle_load", state.name, to_text(whole));
  const Rate rate = axle(state, whole);
  if (!load || !rate) return std::nullopt;
  if (*load > 0) return plain(row, *rate * *row.value / *load);
  reason_ = "the axle carries nothing";
  return std::nullopt;
}

/// Every axle that was weighed by its ends: another one may come to differ most.
std::vector<Response> Addition::side_differences(const rig::State& state) {
  std::vector<Response> out;
  for (const Quantity& share : findings_.limit_quantities) {
    if (share.name != "side_difference_share" || share.state != state.name || !share.determinable) continue;
    const auto whole = rig::parse_position(*share.at);
    const auto load = found("axle_load", state.name, *share.at);
    const Rate rate = whole ? axle(state, *whole) : std::nullopt;
    if (!load || !rate || *load <= 0) return {};
    out.push_back({share.value * *load, 0, *load, *rate, share.u});
  }
  return out;
}

Addition::Answer Addition::answer_in(const Row& row, const rig::Limit& limit, const rig::State& state) {
  switch (limit.kind) {
    case LimitKind::tow_gross:
      return plain(row, tow_total(state));
    case LimitKind::tow_front:
      return plain(row, tow_group(state, Group::front));
    case LimitKind::tow_rear:
      return plain(row, tow_group(state, Group::rear));
    case LimitKind::tow_front_minimum_share:
      return over(row, tow_group(state, Group::front), found("tow_load", state.name), tow_total(state));
    case LimitKind::tow_axle:
      return plain(row, axle(state, rig::Position::whole_axle(Vehicle::tow, limit.axle)));
    case LimitKind::trailer_axle:
      return plain(row, axle(state, rig::Position::whole_axle(Vehicle::trailer, limit.axle)));
    case LimitKind::trailer_axles:
      return plain(row, trailer_axles(state));
    case LimitKind::coupling:
      return plain(row, coupling());
    case LimitKind::wheel:
      return wheel(row, state);
    case LimitKind::front_axle_restoration_minimum:
    case LimitKind::front_axle_restoration_maximum:
      return over(row, 0.0, found("coupling_load_at_height", state.name), coupling());
    default:
      return std::nullopt;
  }
}

Addition::Answer Addition::answer(const Row& row, const rig::Limit& limit) {
  const double mass = on(Vehicle::trailer);
  switch (limit.kind) {
    case LimitKind::combination:
      return plain(row, 1.0);
    case LimitKind::trailer_gross:
    case LimitKind::towed_mass:
    case LimitKind::towed_mass_unbraked: {
      if (limit.basis == rig::Basis::whole) return plain(row, mass);
      const Rate resting = coupling();
      return resting ? plain(row, mass - *resting) : std::nullopt;
    }
    case LimitKind::coupling_minimum:
      return plain(row, coupling());
    case LimitKind::coupling_share_minimum:
    case LimitKind::coupling_share_maximum:
      return over(row, coupling(), found("trailer_mass"), mass);
    case LimitKind::mass_ratio:
      if (limit.against) return plain(row, mass / limit.against->kg().value());
      return over(row, mass, found("tow_unhitched_total"), on(Vehicle::tow));
    case LimitKind::d_value:
    case LimitKind::dc_value:
      return plain(row, 0.0);  // it follows from ratings alone
    default:
      break;
  }
  const rig::State* state = state_of(session_, row);
  return state ? answer_in(row, limit, *state) : std::nullopt;
}

Told Addition::told(const Row& row) {
  reason_.clear();
  supposed_ = false;
  Told out;
  const rig::Limit& limit = session_.rig.limits[row.limit];
  const rig::State* state = state_of(session_, row);
  if (limit.kind == LimitKind::side_difference && state)
    out.responses = side_differences(*state);
  else if (const Answer one = answer(row, limit))
    out.responses.push_back(*one);
  out.supposed = supposed_;
  if (out.responses.empty())
    out.reason = reason_.empty() ? "how it answers to the load is not known from these readings" : reason_;
  return out;
}

}  // namespace steelyard::assess
