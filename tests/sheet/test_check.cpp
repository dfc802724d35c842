// Sessions made by other means than a sheet: the same rules, and what only such a session can get wrong.
#include <boost/test/unit_test.hpp>
#include <functional>
#include <limits>

#include "sheets.hpp"

using namespace steelyard;

namespace {

void check_fault(const std::function<void(rig::Session&)>& spoil, const std::string& beginning) {
  rig::Session session = tests::sound(tests::case_text("whole.json"));
  spoil(session);
  const auto faults = sheet::check(session);
  BOOST_REQUIRE_MESSAGE(!faults.empty(), "nothing was found; wanted " + beginning);
  BOOST_CHECK_MESSAGE(sheet::to_text(faults[0]).starts_with(beginning),
                      sheet::to_text(faults[0]) + "\n  wanted " + beginning);
}

}  // namespace

BOOST_AUTO_TEST_SUITE(checking)

BOOST_AUTO_TEST_CASE(a_sound_session_has_no_faults) {
  BOOST_CHECK(sheet::check(tests::sound(tests::case_text("whole.json"))).empty());
  BOOST_CHECK(sheet::check(tests::sound(tests::case_text("every_field.json"))).empty());
}

BOOST_AUTO_TEST_CASE(figures_that_are_not_finite) {
  const double nan = std::numeric_limits<double>::quiet_NaN(), inf = std::numeric_limits<double>::infinity();
  check_fault([&](auto& s) { s.states[0].readings[0].load.figure = nan; },
              "states[0].readings[0].load: must be from 0 to 200000 kg, is not a finite number");
  check_fault([&](auto& s) { s.states[1].readings[0].load.figure = inf; },
              "states[1].readings[0].load: must be from 0");
  check_fault([&](auto& s) { s.rig.tow_vehicle.axles[1].at.figure = nan; },
              "rig.tow_vehicle.axles[1].at: must be from");
  check_fault([&](auto& s) { s.scales[0].gain_u = nan; },
              "scales[0].gain_u: a standard uncertainty must be above 0");
  check_fault([&](auto& s) { s.placement_u = -inf; }, "placement_u: must be from 0");
  check_fault([&](auto& s) { s.states[0].slope->value = nan; }, "states[0].slope: must be from");
}

BOOST_AUTO_TEST_CASE(texts_that_are_not_utf8) {
  check_fault(
      [](auto& s) {
        s.states[0].readings[0].struck = rig::Strike{"moved \xFF", "", ""};
      },
      "states[0].readings[0].struck.why: is not UTF-8 at byte 6");
  check_fault([](auto& s) { s.client.name = "\xED\xA0\x80"; }, "client.name: is not UTF-8 at byte 0");
}

BOOST_AUTO_TEST_CASE(a_new_reading_is_held_to_the_rules_of_a_sheet) {
  const auto add = [](const char* at, double load, std::vector<std::string> scales) {
    return [=](rig::Session& s) {
      s.states[1].readings.push_back(
          {"", *rig::parse_position(at), {load, units::LoadUnit::kilogram}, scales, {}, "", {}});
    };
  };
  check_fault(add("tow.3", 100, {}), "states[1].readings[1].at: names axle 3");
  check_fault(add("coupling", 100, {}), "states[1].readings[1].at: no scale stands under the coupling");
  check_fault(add("tow.1", 501, {"N1"}), "states[1].readings[1].load: is above the capacity");
  check_fault(add("tow.1", 100, {"N2"}), "states[1].readings[1].scale: \"N2\" is not in the list");
  rig::Session session = tests::sound(tests::case_text("whole.json"));
  add("tow.1", 499, {"N1"})(session);
  BOOST_CHECK(sheet::check(session).empty());
}

BOOST_AUTO_TEST_CASE(units_that_no_sheet_could_say) {
  check_fault(
      [](auto& s) {
        s.scales[0].capacity->unit = units::LoadUnit::pound;
        s.states[0].readings.clear();
      },
      "scales[0].capacity: must be in the sheet's unit of load");
  check_fault([](auto& s) { s.rig.trailer->coupling_to_axles->u->unit = units::LengthUnit::inch; },
              "rig.trailer.coupling_to_axles.u: must be in the sheet's unit of length");
}

BOOST_AUTO_TEST_CASE(check_weights_that_no_sheet_could_say) {
  const auto with = [](double mass, double load, units::LoadUnit shown) {
    return [=](rig::Session& s) {
      s.scales[0].check_weights = {{{mass, units::LoadUnit::kilogram}, {load, shown}, ""}};
    };
  };
  const auto kilogram = units::LoadUnit::kilogram;
  check_fault(with(500, 1100, units::LoadUnit::pound),
              "scales[0].check_weights[0].load: must be in the unit of its mass");
  check_fault(with(500, std::numeric_limits<double>::infinity(), kilogram),
              "scales[0].check_weights[0].load: must be from -200000 to 200000 kg");
  check_fault(with(-1, 0, kilogram), "scales[0].check_weights[0].mass: must be from 1e-06");
  rig::Session session = tests::sound(tests::case_text("whole.json"));
  with(1500, 1500, kilogram)(session);  // the capacity itself is allowed
  BOOST_CHECK(sheet::check(session).empty());
}

BOOST_AUTO_TEST_CASE(values_of_the_wrong_kind_in_a_limit) {
  check_fault([](auto& s) { s.rig.limits[0].number = 0.5; },
              "rig.limits[0].value: is not the kind of number");
  check_fault([](auto& s) { s.rig.limits[0].axle = 2; }, "rig.limits[0].of: only limits of one axle");
  check_fault([](auto& s) { s.rig.limits[0].basis = rig::Basis::axles; },
              "rig.limits[0].basis: goes only with");
  check_fault([](auto& s) { s.rig.limits[0].tyres = 2; }, "rig.limits[0].tyres: goes only with load_index");
}

BOOST_AUTO_TEST_CASE(extras_that_would_not_come_back) {
  check_fault([](auto& s) { s.extras = {{"states[7]", "x-a", "1"}}; }, "extras: 1 of them name a place");
  check_fault([](auto& s) { s.extras = {{"", "note", "1"}}; }, "note: an extra key must begin with x-");
  check_fault([](auto& s) { s.extras = {{"", "x-a", "{ }"}}; }, "x-a: must be one compact JSON value");
  check_fault([](auto& s) { s.extras = {{"", "x-a", "1,\"id\":2"}}; }, "x-a: must be one compact JSON value");
  check_fault([](auto& s) { s.extras = {{"", "x-a", "1"}, {"", "x-a", "2"}}; }, "x-a: is given twice");
}

BOOST_AUTO_TEST_CASE(ride_heights_out_of_order) {
  check_fault(
      [](auto& s) {
        s.states[2].ride_heights.insert(s.states[2].ride_heights.begin(), {"rear", {1, {}}});
      },
      "states[2].ride_heights.front_left: the heights must be sorted");
}

BOOST_AUTO_TEST_SUITE_END()
