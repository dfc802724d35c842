// Sound sheets and what is read from them: the contract's example, and a sheet that uses every field there
// is.
#include <boost/test/unit_test.hpp>
#include <cmath>

#include "sheets.hpp"

using namespace steelyard;

BOOST_AUTO_TEST_SUITE(reading)

BOOST_AUTO_TEST_CASE(the_contracts_example) {
  const rig::Session session = tests::sound(tests::case_text("whole.json"));
  BOOST_CHECK_EQUAL(session.id, "7c1a52f0-6a5e-4f0e-9a51-2f5b8f0f9d11");
  BOOST_CHECK_EQUAL(session.weighed.at, "2026-10-03T08:40:00+02:00");
  BOOST_CHECK_EQUAL(session.client.uid, "tcwb");
  BOOST_CHECK_EQUAL(session.carried.occupants.value(), 2);
  BOOST_CHECK_EQUAL(session.modifications.at(0).mass->kg().value(), 38);
  BOOST_CHECK_EQUAL(session.scales.at(1).id, "P2");
  BOOST_CHECK(session.scales.at(1).accuracy_class == rig::AccuracyClass::III);
  BOOST_CHECK(!session.scales.at(1).gain_u);
  BOOST_CHECK_EQUAL(session.scales.at(2).gain.value(), 0.0004);
  BOOST_CHECK_EQUAL(session.rig.tow_vehicle.axles.at(1).at.mm().value(), 3085);
  BOOST_CHECK_EQUAL(session.rig.tow_vehicle.overhang->u->mm().value(), 10);
  BOOST_CHECK(session.rig.trailer->suspension == rig::Suspension::independent);
  BOOST_CHECK_EQUAL(session.rig.limits.at(2).part, "towbar plate");
  BOOST_CHECK_EQUAL(session.rig.limits.at(4).number.value(), 0.05);
  BOOST_CHECK(session.rig.limits.at(4).advice);
}

BOOST_AUTO_TEST_CASE(the_states_of_the_contracts_example) {
  const rig::Session session = tests::sound(tests::case_text("whole.json"));
  BOOST_REQUIRE_EQUAL(session.states.size(), 3u);
  const rig::State& apart = session.states[0];
  BOOST_CHECK(apart.support == rig::Support::coupling);
  BOOST_CHECK_EQUAL(apart.slope->u.value(), 2);
  BOOST_CHECK_EQUAL(apart.readings.at(1).raised->mm().value(), 45);
  BOOST_CHECK((apart.readings.at(2).scales == std::vector<std::string>{"P1", "P2"}));
  BOOST_CHECK(apart.readings.at(3).at == rig::Position::support_at_coupling());
  BOOST_CHECK_EQUAL(apart.readings.at(3).load.kg().value(), 176.5);
  const rig::State& together = session.states[1];
  BOOST_CHECK(together.hitched && !together.coupling_height->u);
  BOOST_CHECK_EQUAL(together.readings.at(0).struck->why, "door open, man on the step");
  const rig::State& driven = session.states[2];
  BOOST_CHECK(driven.weight_distribution && driven.travels && driven.readings.empty());
  BOOST_CHECK_EQUAL(driven.ride_heights.at(0).first, "front_left");
  BOOST_CHECK_EQUAL(driven.ride_heights.at(0).second.mm().value(), 512);
}

BOOST_AUTO_TEST_CASE(pounds_and_inches_govern_what_has_no_unit_of_its_own) {
  const rig::Session session = tests::sound(tests::case_text("every_field.json"));
  // By hand: 8120 lb = 8120 · 0.45359237 = 3683.1700444 kg; 151.5 in = 151.5 · 25.4 = 3848.1 mm.
  BOOST_CHECK_CLOSE_FRACTION(session.states[0].readings[0].load.kg().value(), 3683.1700444, 1e-15);
  BOOST_CHECK_CLOSE_FRACTION(session.rig.tow_vehicle.axles[1].at.mm().value(), 3848.1, 1e-15);
  BOOST_CHECK_EQUAL(session.states[0].readings[2].load.kg().value(), 1985.5);  // "unit": "kg"
  BOOST_CHECK_EQUAL(session.rig.limits[1].load->kg().value(), 1900);           // "unit": "kg"
  BOOST_CHECK(session.rig.limits[0].load->unit == units::LoadUnit::pound);
  BOOST_CHECK_EQUAL(session.rig.limits[19].against->kg().value(), 2900);
  BOOST_CHECK_EQUAL(session.rig.limits[19].number.value(), 0.85);
  BOOST_CHECK_EQUAL(session.rig.limits[23].number.value(), 17.5);  // kN whatever the sheet's units
  BOOST_CHECK_EQUAL(session.states[0].slope->value, -3.5);         // mm per m whatever the sheet's units
  BOOST_CHECK_EQUAL(session.assumptions.raised_kg_per_mm.value(), 10);
  BOOST_CHECK_CLOSE_FRACTION(session.assumptions.unmeasured_height_u->mm().value(), 19.05, 1e-15);
  BOOST_CHECK(session.scales[0].capacity->unit == units::LoadUnit::pound);
}

BOOST_AUTO_TEST_CASE(check_weights_and_the_amendment_are_taken_as_given) {
  const rig::Session session = tests::sound(tests::case_text("every_field.json"));
  const auto pound = units::LoadUnit::pound, kilogram = units::LoadUnit::kilogram;
  const std::vector<rig::CheckWeight> weights{{{1000, pound}, {1002, pound}, "2026-11-05T13:55:00-06:00"},
                                              {{500, kilogram}, {499.5, kilogram}, ""}};
  BOOST_CHECK(session.scales[0].check_weights == weights);
  BOOST_CHECK(session.scales[1].check_weights.empty());
  const rig::Revised revised{"jockey reading was on\nthe other card", "M. Adeyemi", "2026-11-06T08:05:00-06:00"};
  BOOST_CHECK(session.revised == revised);
  BOOST_CHECK(!tests::sound(tests::case_text("whole.json")).revised);
}

BOOST_AUTO_TEST_CASE(readings_without_an_id_get_the_next_free_one) {
  const rig::Session session = tests::sound(tests::case_text("every_field.json"));  // r2 and w1 are given
  std::vector<std::string> ids;
  for (const rig::State& state : session.states)
    for (const rig::Reading& reading : state.readings) ids.push_back(reading.id);
  BOOST_CHECK((ids == std::vector<std::string>{"r1", "r2", "r3", "r4", "w1", "r5"}));
}

BOOST_AUTO_TEST_CASE(extras_are_kept_with_their_place) {
  const rig::Session session = tests::sound(tests::case_text("every_field.json"));
  const std::vector<rig::Extra> expected{
      {"", "x-origin", "\"typed from a card\""},
      {"revised", "x-form", "4"},
      {"rig.tow_vehicle.axles[2]", "x-lift", "true"},
      {"rig.tow_vehicle.overhang", "x-by", "\"tape\""},
      {"scales[0]", "x-battery", "\"changed\""},
      {"scales[0].check_weights[0]", "x-stamp", "\"F1\""},
      {"states[2].readings[1]", "x-photo", R"({"by":null,"file":"p12","pixels":[640,480],"sharp":true})"},
      {"states[2].ride_heights", "x-how", "\"arch to hub\""}};
  BOOST_CHECK(session.extras == expected);
}

BOOST_AUTO_TEST_CASE(the_smallest_sheet_has_every_default) {
  const rig::Session session = tests::sound(tests::smallest());
  BOOST_CHECK_EQUAL(session.revision, 1);
  BOOST_CHECK(session.units == rig::SheetUnits{});
  BOOST_CHECK(!session.rig.trailer && session.scales.empty() && session.extras.empty());
  BOOST_CHECK_EQUAL(session.states[0].readings[0].id, "r1");
  BOOST_CHECK(session.states[0].readings[0].scales.empty());
}

BOOST_AUTO_TEST_CASE(a_negative_zero_is_zero) {
  const rig::Session session =
      tests::sound(tests::smallest(R"(,"modifications":[{"what":"nothing","mass":-0.0}])"));
  BOOST_CHECK(!std::signbit(session.modifications.at(0).mass->figure));
}

BOOST_AUTO_TEST_SUITE_END()
