#include "weighed_twice.hpp"

#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <stdexcept>

namespace steelyard::test {
namespace {

using rig::Position;
using rig::Vehicle;
using simulator::Simulation;
using units::Length;
using units::LengthUnit;
using units::Load;
using units::LoadUnit;

constexpr double wheel_division = 1, nose_division = 0.5, placement = 0.002;

rig::Scale scale(const std::string& id, double division) {
  rig::Scale out;
  out.id = id;
  out.division = out.repeatability = Load{division};
  out.gain_u = 0.0006;
  return out;
}

rig::MeasuredLength taped(double mm, double u) {
  return {Length{mm}, Length{u}};
}

void build_rig(Simulation& out) {
  out.rig.tow = {{0, 3100}, {rig::Group::front, rig::Group::rear}, 3100, 1240, 1180, 700};
  simulator::TrueTrailer trailer;
  trailer.axles = 2;
  trailer.suspension = rig::Suspension::independent;
  trailer.mass = 1750;
  trailer.coupling = 190;
  trailer.overhang = 1200;
  trailer.to_axles = 3400;
  trailer.to_jockey = 800;
  out.rig.trailer = trailer;

  rig::TowVehicle& tow = out.session.rig.tow_vehicle;
  tow.axles = {{{0}, rig::Group::front}, {{3100}, rig::Group::rear}};
  tow.wheelbase_u = Length{5};
  tow.overhang = taped(1200, 10);
  tow.cg_height = taped(700, 100);
  rig::Trailer& sheet = out.session.rig.trailer.emplace();
  sheet.axles = 2;
  sheet.suspension = rig::Suspension::independent;
  sheet.coupling_to_axles = taped(3400, 10);
  sheet.coupling_to_jockey = taped(800, 5);
  for (const char* id : {"P1", "P2", "P3", "P4"}) out.session.scales.push_back(scale(id, wheel_division));
  out.session.scales.push_back(scale("N1", nose_division));
}

void add_state(Simulation& out, const std::string& name, bool hitched) {
  rig::State& sheet = out.session.states.emplace_back();
  sheet.name = name;
  sheet.hitched = hitched;
  if (!hitched) sheet.support = rig::Support::coupling;
  sheet.coupling_height = taped(440, 4);
  sheet.slope = rig::MeasuredSlope{0, 1.5};
  simulator::TrueState state = simulator::plain_state(out.rig, hitched, sheet.support);
  state.left = {std::vector<double>{0.48, 0.53}, std::vector<double>{0.46, 0.52}};
  state.share[1] = {0.47, 0.53};
  out.states.push_back(state);
  out.loads.push_back(simulator::loads(out.rig, state));
  out.takings.emplace_back();
}

/// Errors as section 4 of the model declares them: repeatability and the zero's rectangle, placement of a
/// wheel.
void take(Simulation& out, simulator::Random& random, std::size_t k, const Position& at,
          const std::string& id) {
  rig::State& sheet = out.session.states[k];
  const double division = rig::find_scale(out.session, id)->division->figure;
  simulator::Taking taking;
  taking.parts = {{0, 0, random.normal(0, division) + division * random.uniform({-0.5, 0.5}), division}};
  taking.placement = at.extent == rig::Extent::wheel ? random.normal(0, placement) : 0;
  rig::Reading& taken = sheet.readings.emplace_back();
  taken.at = at;
  taken.scales = {id};
  out.takings[k].push_back(taking);
  const std::size_t i = sheet.readings.size() - 1;
  taken.load = simulator::indicated(out, k, i, out.loads[k]);
}

void read_wheels(Simulation& out, simulator::Random& random, std::size_t k, Vehicle vehicle) {
  for (int pass = 0; pass < 2; ++pass)
    for (int axle = 1; axle <= 2; ++axle) {
      take(out, random, k, Position::wheel(vehicle, axle, rig::Side::left), axle == 1 ? "P1" : "P3");
      take(out, random, k, Position::wheel(vehicle, axle, rig::Side::right), axle == 1 ? "P2" : "P4");
    }
}

}  // namespace

Simulation weighed_twice(std::uint64_t seed) {
  Simulation out;
  out.session.id = "weighed twice";
  out.session.client.name = "Tallow Creek Water Board";
  build_rig(out);
  add_state(out, "apart", false);
  add_state(out, "together", true);
  simulator::Random random(seed, 0);
  read_wheels(out, random, 0, Vehicle::tow);
  read_wheels(out, random, 0, Vehicle::trailer);
  for (int pass = 0; pass < 2; ++pass) take(out, random, 0, Position::support_at_coupling(), "N1");
  read_wheels(out, random, 1, Vehicle::tow);
  read_wheels(out, random, 1, Vehicle::trailer);
  int id = 0;
  for (rig::State& state : out.session.states)
    for (rig::Reading& taken : state.readings) taken.id = std::string("r").append(std::to_string(++id));
  return out;
}

rig::Session weighed_as(const Simulation& weighed, std::size_t k, const simulator::TrueState& truly) {
  rig::Session out = weighed.session;
  const simulator::Loads on_site = simulator::loads(weighed.rig, truly);
  for (std::size_t i = 0; i < out.states[k].readings.size(); ++i)
    out.states[k].readings[i].load = simulator::indicated(weighed, k, i, on_site);
  return out;
}

rig::Reading& reading(rig::Session& session, const std::string& id) {
  for (rig::State& state : session.states)
    for (rig::Reading& one : state.readings)
      if (one.id == id) return one;
  BOOST_FAIL("no reading " << id);
  throw std::logic_error("not reached");
}

std::size_t row_of(const reconcile::Findings& findings, const std::string& id) {
  for (std::size_t i = 0; i < findings.observations.size(); ++i)
    if (findings.observations[i].id == id) return i;
  BOOST_FAIL("no observation of reading " << id);
  return 0;
}

std::string key_of(const reconcile::Observation& observation) {
  std::string out(reconcile::to_text(observation.kind));
  if (observation.kind == reconcile::ObservationKind::reading)
    return out + ' ' + observation.id.value_or("?");
  if (observation.state) out += ' ' + *observation.state;
  for (const std::string& id : observation.scales) out += ' ' + id;
  return out;
}

std::vector<std::string> keys_of(const reconcile::Findings& findings, const reconcile::SuspectSet& set) {
  std::vector<std::string> out;
  for (const reconcile::SuspectMember& member : set.members)
    out.push_back(key_of(findings.observations.at(member.observation)));
  std::sort(out.begin(), out.end());
  return out;
}

const reconcile::SuspectMember* member(const reconcile::Findings& findings, const reconcile::SuspectSet& set,
                                       const std::string& key) {
  for (const reconcile::SuspectMember& one : set.members)
    if (key_of(findings.observations.at(one.observation)) == key) return &one;
  return nullptr;
}

std::string likeliest(const reconcile::Findings& findings, const reconcile::SuspectSet& set) {
  return key_of(findings.observations.at(set.members.at(set.likeliest).observation));
}

rig::Session off(rig::Session session, const std::string& id, double by) {
  reading(session, id).load.figure += by;
  return session;
}

rig::Session two_blunders() {
  return off(off(weighed_twice().session, "r3", 70), "r29", -120);
}

rig::Session strike(rig::Session session, const std::string& id) {
  reading(session, id).struck = rig::Strike{"does not fit", "R. Okoye", ""};
  return session;
}

rig::Session in_pounds_and_inches(rig::Session session) {
  const auto load = [](std::optional<Load>& one) {
    if (one) one = Load{units::to_pounds(one->kg()).value(), LoadUnit::pound};
  };
  const auto length = [](Length& one) { one = {units::to_inches(one.mm()).value(), LengthUnit::inch}; };
  const auto measured = [&](std::optional<rig::MeasuredLength>& one) {
    if (!one) return;
    length(one->value);
    if (one->u) length(*one->u);
  };
  for (rig::Scale& one : session.scales)
    for (auto* figure : {&one.capacity, &one.division, &one.repeatability}) load(*figure);
  rig::TowVehicle& tow = session.rig.tow_vehicle;
  for (rig::Axle& axle : tow.axles) length(axle.at);
  if (tow.wheelbase_u) length(*tow.wheelbase_u);
  measured(tow.overhang);
  measured(tow.cg_height);
  if (session.rig.trailer) {
    measured(session.rig.trailer->coupling_to_axles);
    measured(session.rig.trailer->coupling_to_jockey);
  }
  for (rig::State& state : session.states) {
    measured(state.coupling_height);
    for (rig::Reading& one : state.readings)
      one.load = {units::to_pounds(one.load.kg()).value(), LoadUnit::pound};
  }
  return session;
}

double upper_tail(double x, int freedom) {
  const bool even = freedom % 2 == 0;
  const double root = std::sqrt(x);
  double sum = 0, term = even ? 1 : root;
  for (int r = 1; r <= freedom / 2; ++r) {
    sum += term;
    term *= even ? x / (2 * r) : x / (2 * r + 1);
  }
  constexpr double inverse_root_two_pi = 0.3989422804014327;
  if (even) return std::exp(-x / 2) * sum;
  return std::erfc(root / std::sqrt(2.0)) + 2 * inverse_root_two_pi * std::exp(-x / 2) * sum;
}

}  // namespace steelyard::test
