// The same rig gives the same answer: in pounds and inches, with readings in another order, with states
// renamed.
#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <cmath>

#include "reconcile/reconcile.hpp"
#include "sheets.hpp"

namespace {

using namespace steelyard;
using units::Length;
using units::Load;

/// Agreement that the model asks of two implementations: 1e-6 of the value or 1e-4 of its u.
bool same(const reconcile::Quantity& a, const reconcile::Quantity& b) {
  if (a.determinable != b.determinable) return false;
  if (!a.determinable) return true;
  return std::abs(a.value - b.value) <= std::max(1e-6 * std::abs(a.value), 1e-4 * a.u) &&
         std::abs(a.u - b.u) <= 1e-4 * a.u + 1e-12;
}

void compare(const reconcile::Findings& one, const reconcile::Findings& other, const rig::Session& session) {
  BOOST_TEST_CONTEXT("session " << session.id << " " << session.rig.tow_vehicle.label) {
    BOOST_TEST(std::abs(one.fit.chi_square - other.fit.chi_square) <= 1e-6 * (1 + one.fit.chi_square));
    BOOST_TEST(one.fit.degrees_of_freedom == other.fit.degrees_of_freedom);
    BOOST_REQUIRE_EQUAL(one.quantities.size(), other.quantities.size());
    for (std::size_t i = 0; i < one.quantities.size(); ++i) {
      const auto &a = one.quantities[i], &b = other.quantities[i];
      BOOST_TEST_CONTEXT(a.name << ' ' << a.state.value_or("") << ' ' << a.at.value_or(""))
      BOOST_TEST(same(a, b));
    }
  }
}

void turn(Load& load) {
  load = load.unit == units::LoadUnit::kilogram ? Load{to_pounds(load.kg()).value(), units::LoadUnit::pound}
                                                : Load{load.kg().value(), units::LoadUnit::kilogram};
}
void turn(Length& length) {
  length = length.unit == units::LengthUnit::millimetre
               ? Length{to_inches(length.mm()).value(), units::LengthUnit::inch}
               : Length{length.mm().value(), units::LengthUnit::millimetre};
}
void turn(rig::MeasuredLength& length) {
  turn(length.value);
  if (length.u) turn(*length.u);
}
template <class Quantity>
void turn(std::optional<Quantity>& quantity) {
  if (quantity) turn(*quantity);
}

rig::Session in_other_units(rig::Session session) {
  for (rig::Scale& scale : session.scales) {
    turn(scale.capacity);
    turn(scale.division);
    turn(scale.repeatability);
  }
  rig::TowVehicle& tow = session.rig.tow_vehicle;
  for (rig::Axle& axle : tow.axles) turn(axle.at);
  turn(tow.wheelbase_u);
  turn(tow.overhang);
  turn(tow.cg_height);
  if (session.rig.trailer) {
    turn(session.rig.trailer->coupling_to_axles);
    turn(session.rig.trailer->coupling_to_jockey);
  }
  turn(session.assumptions.unmeasured_height_u);
  for (rig::State& state : session.states) {
    turn(state.coupling_height);
    for (rig::Reading& reading : state.readings) {
      turn(reading.load);
      turn(reading.raised);
    }
  }
  return session;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(invariance)

BOOST_AUTO_TEST_CASE(units_do_not_matter) {
  for (const rig::Session& session : test::sample_fleet())
    compare(reconcile::reconcile(session), reconcile::reconcile(in_other_units(session)), session);
}

BOOST_AUTO_TEST_CASE(order_of_readings_does_not_matter) {
  for (const rig::Session& session : test::sample_fleet()) {
    rig::Session turned = session;
    for (rig::State& state : turned.states) std::reverse(state.readings.begin(), state.readings.end());
    std::reverse(turned.scales.begin(), turned.scales.end());
    compare(reconcile::reconcile(session), reconcile::reconcile(turned), session);
  }
}

BOOST_AUTO_TEST_CASE(names_of_states_do_not_matter) {
  for (const rig::Session& session : test::sample_fleet()) {
    rig::Session renamed = session;
    for (std::size_t k = 0; k < renamed.states.size(); ++k)
      renamed.states[k].name = "state " + std::to_string(9 - k);
    compare(reconcile::reconcile(session), reconcile::reconcile(renamed), session);
  }
}

BOOST_AUTO_TEST_CASE(the_same_session_gives_the_same_bits) {
  for (const rig::Session& session : test::sample_fleet()) {
    const auto one = reconcile::reconcile(session), other = reconcile::reconcile(session);
    BOOST_REQUIRE_EQUAL(one.quantities.size(), other.quantities.size());
    for (std::size_t i = 0; i < one.quantities.size(); ++i) {
      BOOST_TEST(one.quantities[i].value == other.quantities[i].value);
      BOOST_TEST(one.quantities[i].u == other.quantities[i].u);
    }
  }
}

BOOST_AUTO_TEST_SUITE_END()
