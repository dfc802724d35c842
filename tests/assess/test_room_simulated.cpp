// The room that was told is put on simulated rigs: their own statics say whether the limit named is then at
// its edge and every other within it.
//
// The readings are exact, so that what is found is what is true. Values to compare come from the simulator's
// loads and from the definitions of the reconciliation model, sections 2, 6 and 8, and from nothing of
// src/assess.
#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <map>

#include "assess/room.hpp"
#include "reconcile/reconcile.hpp"
#include "simulator/draw.hpp"
#include "simulator/exact.hpp"

namespace {

using namespace steelyard;
using rig::Group;
using rig::LimitKind;
using rig::Position;
using rig::Vehicle;
using simulator::Loads;
using simulator::Random;
using simulator::TrueRig;
using simulator::TrueState;

rig::MeasuredLength exactly(double mm) {
  return {{mm, units::LengthUnit::millimetre}, std::nullopt};
}

/// The rig as it travels, and its loads as they were before anything was added.
struct Truth {
  TrueRig rig;
  TrueState travelling;
  Loads before;

  [[nodiscard]] double axle(const Loads& loads, Vehicle vehicle, int n) const {
    return load_at(loads, Position::whole_axle(vehicle, n));
  }
  [[nodiscard]] double wheel(const Loads& loads, Vehicle vehicle, int n) const {
    return std::max(load_at(loads, Position::wheel(vehicle, n, rig::Side::left)),
                    load_at(loads, Position::wheel(vehicle, n, rig::Side::right)));
  }
  /// Of a single axle by the moment on level ground; of several their sum, corrected for the slope.
  [[nodiscard]] double group(const TrueRig& with, Group wanted) const {
    TrueState level = travelling;
    const auto& groups = with.tow.groups;
    const bool single = std::count(groups.begin(), groups.end(), wanted) == 1;
    if (single) level.level = 0;
    const Loads there = loads(with, level);
    double total = 0, moment = 0, sum = 0;
    for (std::size_t a = 0; a < groups.size(); ++a) {
      const double load = axle(there, Vehicle::tow, static_cast<int>(a + 1));
      total += load;
      moment += load * with.tow.places[a];
      if (groups[a] == wanted) sum += load;
    }
    const double rear = moment / with.tow.wheelbase;
    if (single) return wanted == Group::rear ? rear : total - rear;
    const double shift = total * travelling.level / with.tow.wheelbase;
    return wanted == Group::rear ? sum - shift : sum + shift;
  }
  /// The sides differ as they did before; the axles carry what they carry now.
  [[nodiscard]] double difference(const Loads& now) const {
    double most = 0;
    for (const Vehicle vehicle : {Vehicle::tow, Vehicle::trailer})
      for (std::size_t a = 0; a < before.wheels[vehicle == Vehicle::trailer].size(); ++a) {
        const auto& ends = before.wheels[vehicle == Vehicle::trailer][a];
        most = std::max(most, std::abs(ends[0] - ends[1]) / axle(now, vehicle, static_cast<int>(a + 1)));
      }
    return most;
  }
  [[nodiscard]] double restored(const TrueRig& with) const {
    const auto& on = *with.trailer;
    const double length = with.tow.wheelbase, lost = on.coupling * on.overhang / length;
    return travelling.bars / length * (1 + on.overhang / on.to_axles) / lost;
  }
  [[nodiscard]] double value(const rig::Limit& limit, const TrueRig& with) const;
};

double Truth::value(const rig::Limit& limit, const TrueRig& with) const {
  const Loads now = loads(with, travelling);
  const double mass = with.trailer ? with.trailer->mass : 0, alone = with.tow.front + with.tow.rear;
  const double resting = with.trailer && !with.trailer->self_supporting ? with.trailer->coupling : 0;
  switch (limit.kind) {
    case LimitKind::tow_gross:
      return load_at(now, Position::whole(Vehicle::tow));
    case LimitKind::tow_front:
      return group(with, Group::front);
    case LimitKind::tow_rear:
      return group(with, Group::rear);
    case LimitKind::tow_front_minimum_share:
      return group(with, Group::front) / load_at(now, Position::whole(Vehicle::tow));
    case LimitKind::tow_axle:
      return axle(now, Vehicle::tow, limit.axle);
    case LimitKind::trailer_axle:
      return axle(now, Vehicle::trailer, limit.axle);
    case LimitKind::wheel:
      return wheel(now, limit.vehicle, limit.axle);
    case LimitKind::combination:
      return alone + mass;
    case LimitKind::trailer_axles:
      return load_at(now, Position::whole(Vehicle::trailer));
    case LimitKind::coupling:
    case LimitKind::coupling_minimum:
      return resting;
    case LimitKind::coupling_share_minimum:
    case LimitKind::coupling_share_maximum:
      return resting / mass;
    case LimitKind::mass_ratio:
      return mass / (limit.against ? limit.against->kg().value() : alone);
    case LimitKind::front_axle_restoration_minimum:
    case LimitKind::front_axle_restoration_maximum:
      return restored(with);
    case LimitKind::side_difference:
      return difference(now);
    default:
      return limit.basis == rig::Basis::axles ? mass - resting : mass;
  }
}

struct Case {
  Truth truth;
  rig::Session session;
};

void declare(rig::Session& session, const TrueRig& rig) {
  session.id = "water tank";
  for (std::size_t a = 0; a < rig.tow.places.size(); ++a)
    session.rig.tow_vehicle.axles.push_back(
        {{rig.tow.places[a] - rig.tow.places[0], units::LengthUnit::millimetre}, rig.tow.groups[a]});
  session.rig.tow_vehicle.cg_height = exactly(rig.tow.cg_height);
  if (!rig.trailer) return;
  rig::Trailer& trailer = session.rig.trailer.emplace();
  trailer.axles = rig.trailer->axles;
  trailer.suspension = rig.trailer->suspension;
  trailer.self_supporting = rig.trailer->self_supporting;
  if (trailer.self_supporting) return;
  session.rig.tow_vehicle.overhang = exactly(rig.trailer->overhang);
  trailer.coupling_to_axles = exactly(rig.trailer->to_axles);
}

void share_unevenly(TrueState& state, const TrueRig& rig, Random& random) {
  for (std::size_t v = 0; v < 2; ++v) {
    std::map<bool, double> sum;
    const auto rear = [&](std::size_t a) { return v == 0 && rig.tow.groups[a] == Group::rear; };
    for (double& left : state.left[v]) left = random.uniform({0.46, 0.54});
    for (std::size_t a = 0; a < state.share[v].size(); ++a)
      sum[rear(a)] += state.share[v][a] = random.uniform({0.42, 0.58});
    for (std::size_t a = 0; a < state.share[v].size(); ++a) state.share[v][a] /= sum[rear(a)];
  }
}

/// Every wheel end, and the nose where a scale stands under it.
void weigh(Case& out, rig::State sheet, Random& random) {
  const TrueRig& rig = out.truth.rig;
  TrueState state = simulator::plain_state(rig, sheet.hitched, sheet.support);
  share_unevenly(state, rig, random);
  const double slope = std::round(random.uniform({-10, 10}));
  sheet.slope = rig::MeasuredSlope{slope, std::nullopt};
  state.level = rig.tow.cg_height * slope / 1000;
  if (sheet.weight_distribution) state.bars = simulator::bars_for(*rig.trailer, 0.6);
  const Loads there = loads(rig, state);
  const auto read = [&](const Position& at) {
    rig::Reading& reading = sheet.readings.emplace_back();
    reading.id = sheet.name + to_text(at);
    reading.at = at;
    reading.load = {load_at(there, at), units::LoadUnit::kilogram};
  };
  for (const Vehicle vehicle : {Vehicle::tow, Vehicle::trailer})
    for (std::size_t a = 0; a < there.wheels[vehicle == Vehicle::trailer].size(); ++a)
      for (const rig::Side side : {rig::Side::left, rig::Side::right})
        read(Position::wheel(vehicle, static_cast<int>(a + 1), side));
  if (sheet.support) read(Position::support_at_coupling());
  out.session.states.push_back(std::move(sheet));
  out.truth.travelling = state;
  out.truth.before = there;
}

rig::State arrangement(const char* name, bool hitched, bool bars = false) {
  rig::State out;
  out.name = name;
  out.hitched = hitched;
  out.weight_distribution = bars;
  return out;
}

Case weighed(std::uint64_t number, Random& random) {
  Case out;
  out.truth.rig = simulator::draw(71, number).rig;
  if (auto& trailer = out.truth.rig.trailer) {
    trailer->sensitivity = 0;
    if (!trailer->self_supporting) trailer->coupling = std::max(trailer->coupling, 20.0);
  }
  const auto& trailer = out.truth.rig.trailer;
  declare(out.session, out.truth.rig);
  rig::State apart = arrangement("apart", false);
  if (trailer && !trailer->self_supporting) apart.support = rig::Support::coupling;
  weigh(out, apart, random);
  if (!trailer) return out;
  weigh(out, arrangement("together", true), random);
  if (!trailer->self_supporting && trailer->overhang > 0 && random.chance(0.5))
    weigh(out, arrangement("as driven", true, true), random);
  return out;
}

std::vector<rig::Limit> limits_that_fit(const Case& on) {
  std::vector<std::string> names{"tow_gross", "tow_front", "tow_rear", "tow_front_minimum_share",
                                 "side_difference"};
  const auto& trailer = on.truth.rig.trailer;
  for (std::size_t a = 1; a <= on.truth.rig.tow.places.size(); ++a)
    for (const char* stem : {"tow_axle.", "wheel.tow."}) names.push_back(stem + std::to_string(a));
  if (!trailer) names.erase(names.begin() + 3);  // its least front share is asked of hitched states only
  if (trailer) {
    names.insert(names.end(), {"combination", "trailer_gross", "towed_mass", "towed_mass_unbraked",
                               "trailer_axles", "mass_ratio"});
    for (int a = 1; a <= trailer->axles; ++a)
      for (const char* stem : {"trailer_axle.", "wheel.trailer."}) names.push_back(stem + std::to_string(a));
    if (!trailer->self_supporting)
      names.insert(names.end(),
                   {"coupling", "coupling_minimum", "coupling_share_minimum", "coupling_share_maximum"});
    if (on.truth.travelling.bars != 0)
      names.insert(names.end(), {"front_axle_restoration_minimum", "front_axle_restoration_maximum"});
  }
  std::vector<rig::Limit> out;
  for (const std::string& name : names) out.push_back(rig::parse_limit_name(name).value());
  return out;
}

double rating(const rig::Limit& limit) {
  return limit.load ? limit.load->kg().value() : *limit.number;
}

/// Some of the limits, each a little beyond what is true.
void rate(Case& on, Random& random) {
  for (rig::Limit limit : limits_that_fit(on)) {
    if (!random.chance(0.3)) continue;
    if (limit.kind == LimitKind::trailer_gross || limit.kind == LimitKind::towed_mass)
      limit.basis = random.chance(0.5) ? rig::Basis::axles : rig::Basis::whole;
    if (limit.kind == LimitKind::mass_ratio && random.chance(0.5))
      limit.against = units::Load{1500, units::LoadUnit::kilogram};
    const double part = random.uniform({0.002, 0.06}), now = on.truth.value(limit, on.truth.rig);
    BOOST_REQUIRE(now > 0);
    const double edge = now * (rig::is_minimum(limit.kind) ? 1 - part : 1 + part);
    if (rig::measure_of(limit.kind) == rig::Measure::load)
      limit.load = units::Load{edge, units::LoadUnit::kilogram};
    else
      limit.number = edge;
    on.session.rig.limits.push_back(limit);
  }
}

assess::Place somewhere(const TrueRig& rig, Random& random) {
  if (!rig.trailer || random.chance(0.4))
    return {Vehicle::tow, random.uniform({-800, rig.tow.wheelbase + 1500}), "somewhere"};
  return {Vehicle::trailer, random.uniform({0.02, 1.3}) * rig.trailer->to_axles, "somewhere"};
}

/// In kg, or of a ratio in parts of it.
double margin(const Case& on, const rig::Limit& limit, const assess::Place& place, double kg) {
  const double value = on.truth.value(limit, with_mass(on.truth.rig, place.vehicle, place.at_mm, kg));
  return rig::is_minimum(limit.kind) ? value - rating(limit) : rating(limit) - value;
}

double tolerance(const rig::Limit& limit) {
  return rig::measure_of(limit.kind) == rig::Measure::load ? 1e-3 : 1e-6;
}

/// Restoration means nothing once the coupling carries nothing: there it ends without being at its rating.
bool nothing_to_restore(const Case& on, const rig::Limit& limit, const assess::Place& place, double kg) {
  return limit.kind == LimitKind::front_axle_restoration_minimum &&
         std::abs(with_mass(on.truth.rig, place.vehicle, place.at_mm, kg).trailer->coupling) < 1e-3;
}

void check_others(const Case& on, const assess::Place& place, double kg, std::size_t named) {
  for (std::size_t i = 0; i < on.session.rig.limits.size(); ++i) {
    const rig::Limit& limit = on.session.rig.limits[i];
    if (i == named || nothing_to_restore(on, limit, place, kg)) continue;
    BOOST_TEST(margin(on, limit, place, kg) > -tolerance(limit), rig::limit_name(limit) << " after " << kg);
  }
}

BOOST_AUTO_TEST_SUITE(room_simulated)

BOOST_AUTO_TEST_CASE(the_limit_named_is_at_its_edge_and_no_other_is_broken) {
  constexpr std::uint64_t rigs = 400;
  constexpr std::size_t none = 1000;
  std::map<std::string, int> named;
  int unlimited = 0, tandem = 0;
  for (std::uint64_t number = 0; number < rigs; ++number) {
    Random random(72, number);
    Case on = weighed(number, random);
    rate(on, random);
    if (on.session.rig.limits.empty()) continue;
    const auto findings = reconcile::reconcile(on.session);
    const auto assessment = assess::assess(on.session, findings);
    for (int i = 0; i < 3; ++i) {
      const assess::Place place = somewhere(on.truth.rig, random);
      const assess::Room room = assess::room_to_load(on.session, findings, assessment, {place}).at(0);
      BOOST_TEST_CONTEXT("rig " << number << " at " << place.at_mm << " of "
                                << static_cast<int>(place.vehicle)) {
        BOOST_TEST(room.left_out.empty());
        BOOST_TEST(!room.already_outside);
        if (room.unlimited) {
          ++unlimited;
          check_others(on, place, 500, none);
          continue;
        }
        BOOST_REQUIRE(room.most);
        const double most = room.most->kg;
        const rig::Limit& limit = on.session.rig.limits.at(room.most->limit);
        const std::string name = rig::limit_name(limit);
        ++named[name.substr(0, name.find_last_not_of(".0123456789") + 1)];
        tandem += on.truth.rig.tow.places.size() > 2;
        BOOST_TEST(most > 0);
        if (!nothing_to_restore(on, limit, place, most)) {
          BOOST_TEST(std::abs(margin(on, limit, place, most)) < tolerance(limit), name << " after " << most);
        }
        BOOST_TEST(margin(on, limit, place, 1.01 * most) < 0, name << " after more than " << most);
        check_others(on, place, most, room.most->limit);
        check_others(on, place, most / 2, none);
        BOOST_TEST((!room.sure || room.sure->kg <= most));
      }
    }
  }
  // Every kind but the two coupling forces, which no mass changes, ended it somewhere; wheels of either
  // vehicle.
  BOOST_TEST(named.size() == 21u);
  for (const auto& [name, count] : named) BOOST_TEST_MESSAGE(name << ' ' << count);
  BOOST_TEST(unlimited > 0);
  BOOST_TEST(tandem > 20);
}

BOOST_AUTO_TEST_SUITE_END()

}  // namespace
