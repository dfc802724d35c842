// What may still be loaded, worked out by hand for every kind of limit on the rig of rigs.hpp.
//
// It travels with bars on: front 1392, rear 1428, together 2820, trailer axles 1380, C 150, M 1500; L 3000,
// o 1200, D 4000. A kilogram x behind the front axle puts x/3000 on the rear one. A kilogram s behind the
// coupling puts c = 1 − s/4000 on it, which takes 0.4·c off the front axle and puts 1.4·c on the rear one.
#include <algorithm>
#include <boost/test/unit_test.hpp>

#include "assess/room.hpp"
#include "tests/assess/rigs.hpp"

namespace {

using namespace steelyard;
using rig::Vehicle;
using test::json;
namespace tt = boost::test_tools;

json of(const char* name, double value) {
  return {{"of", name}, {"value", value}};
}
json with(json limit, const char* key, const json& value) {
  limit[key] = value;
  return limit;
}

assess::Room room_at(const test::Assessed& rig, Vehicle vehicle, double at) {
  const auto rooms = assess::room_to_load(rig.session, rig.findings, rig.assessment, {{vehicle, at, "here"}});
  BOOST_REQUIRE_EQUAL(rooms.size(), 1u);
  BOOST_TEST(rooms[0].place.name == "here");
  return rooms[0];
}

assess::Room tow(const test::Assessed& rig, double at) {
  return room_at(rig, Vehicle::tow, at);
}
assess::Room trailer(const test::Assessed& rig, double at) {
  return room_at(rig, Vehicle::trailer, at);
}

struct Case {
  json limit;
  Vehicle vehicle;
  double at;
  double most;  // 0: never
  bool supposed = false;
};

constexpr auto car = Vehicle::tow, van = Vehicle::trailer;

std::vector<Case> of_tow_vehicle() {
  return {
      {of("tow_gross", 2900), car, 1500, 80},
      {of("tow_gross", 2900), van, 2000, 160},   // half of it on the coupling
      {of("tow_gross", 2900), van, 4000, 0},     // none of it
      {of("tow_front", 1442), car, 1500, 100},   // 50/0.5
      {of("tow_front", 1442), van, 4500, 1000},  // lifts 0.125 off the coupling: 50/(0.125·0.4)
      {of("tow_front", 1442), car, 4200, 0},     // lifts the front axle
      {of("tow_rear", 1498), car, 3000, 70},
      {of("tow_rear", 1498), car, 4200, 50},   // 70/1.4
      {of("tow_rear", 1498), van, 2000, 100},  // 70/(0.5·1.4)
      {of("tow_axle.1", 1442), car, 0, 50},
      {of("tow_axle.2", 1498), van, 2000, 100},
      // 1392 − 0.4·m = 0.48·(2820 + m): 38.4 = 0.88·m
      {of("tow_front_minimum_share", 0.48), car, 4200, 38.4 / 0.88},
      // 1392 − 0.2·m = 0.48·(2820 + 0.5·m): 38.4 = 0.44·m
      {of("tow_front_minimum_share", 0.48), van, 2000, 38.4 / 0.44},
      {of("tow_front_minimum_share", 0.48), car, 0, 0},
      // The right end carries 702 of 1392.
      {of("wheel.tow.1", 752), car, 0, 50.0 * 1392 / 702, true},
      // 12 kg on the front axle: 12/0.016 = 750 is where it differs too much; 642/0.4.
      {of("side_difference", 0.016), car, 4200, 1605},
      {of("side_difference", 0.016), van, 4000, 0, true},
  };
}

std::vector<Case> of_trailer() {
  return {
      {of("combination", 4250), car, 100, 50},
      {of("combination", 4250), van, 100, 50},
      {of("trailer_gross", 1600), van, 4000, 100},
      {of("trailer_gross", 1600), car, 4000, 0},
      {with(of("trailer_gross", 1400), "basis", "axles"), van, 2000, 100},  // 1350 by themselves; 50/0.5
      {of("towed_mass", 1600), van, 100, 100},
      {with(of("towed_mass", 1400), "basis", "axles"), van, 5000, 40},  // 50/1.25
      {of("towed_mass_unbraked", 1600), van, 100, 100},
      {of("trailer_axles", 1430), van, 2000, 100},
      {of("trailer_axles", 1430), van, 5000, 40},
      {of("trailer_axle.1", 740), van, 4000, 100, true},  // 690 of 1380: half
      {of("coupling", 200), van, 1000, 50 / 0.75},
      {of("coupling", 200), car, 1000, 0},
      {of("coupling_minimum", 75), van, 5000, 300},                // 75/0.25
      {of("coupling_share_minimum", 0.08), van, 5000, 30 / 0.33},  // 150 − 0.25·m = 0.08·(1500 + m)
      {of("coupling_share_maximum", 0.12), van, 1000, 30 / 0.63},  // 150 + 0.75·m = 0.12·(1500 + m)
      {of("wheel.trailer.1", 400), van, 4000, 50 * 2 * 690 / 350.0, true},
      {of("mass_ratio", 0.6), van, 4000, 120},  // 1620 to 2700
      {of("mass_ratio", 0.6), car, 0, 0},
      {with(of("mass_ratio", 0.64), "against", 2500), van, 4000, 100},  // 1600
      {with(of("mass_ratio", 0.64), "against", 2500), car, 4000, 0},
      // 120000·(1/1200 + 1/4000) = 130: 130/(150 + 0.75·m) = 0.8
      {of("front_axle_restoration_minimum", 0.8), van, 1000, 12.5 / 0.75},
      {of("front_axle_restoration_maximum", 0.9), van, 5000, (150 - 130 / 0.9) / 0.25},
      // It rises until the coupling carries nothing and there is nothing to restore.
      {of("front_axle_restoration_minimum", 0.8), van, 5000, 600},
  };
}

void check(const Case& one) {
  const auto rig = test::run(test::whole_rig(json::array({one.limit})));
  const assess::Room room = room_at(rig, one.vehicle, one.at);
  BOOST_TEST_CONTEXT(one.limit.dump() << " at " << one.at) {
    BOOST_TEST(room.left_out.empty());
    BOOST_TEST(!room.already_outside);
    BOOST_TEST(room.unlimited == (one.most == 0));
    BOOST_REQUIRE(room.most.has_value() == (one.most != 0));
    if (!room.most) return;
    BOOST_TEST(room.most->kg == one.most, tt::tolerance(1e-6));
    BOOST_TEST(room.most->supposed == one.supposed);
    BOOST_TEST(room.most->limit == 0u);
    BOOST_TEST(rig.assessment.rows.at(room.most->row).state.value_or("bars") == "bars");
  }
}

BOOST_AUTO_TEST_SUITE(room)

BOOST_AUTO_TEST_CASE(every_limit_of_the_tow_vehicle) {
  for (const Case& one : of_tow_vehicle()) check(one);
}

BOOST_AUTO_TEST_CASE(every_limit_of_the_trailer) {
  for (const Case& one : of_trailer()) check(one);
}

BOOST_AUTO_TEST_CASE(the_first_to_bind_of_several) {
  json plate = with(of("coupling", 180), "part", "towbar plate");
  const auto rig = test::run(test::whole_rig(
      {of("tow_gross", 2900), of("tow_rear", 1498), with(of("coupling", 200), "part", "tow ball"), plate}));
  BOOST_TEST(tow(rig, 1500).most->kg == 80, tt::tolerance(1e-6));
  BOOST_TEST(tow(rig, 4200).most->kg == 50, tt::tolerance(1e-6));
  BOOST_TEST(tow(rig, 4200).most->limit == 1u);
  BOOST_TEST(trailer(rig, 2000).most->kg == 60, tt::tolerance(1e-6));  // 30/0.5
  BOOST_TEST(trailer(rig, 2000).most->limit == 3u);
  BOOST_TEST(trailer(rig, 4000).unlimited);
}

BOOST_AUTO_TEST_CASE(what_is_sure_keeps_twice_the_uncertainty) {
  const auto rig = test::run(test::whole_rig({of("tow_gross", 3000), of("tow_rear", 1430)}));
  const assess::Row& gross = rig.row("tow_gross", "bars");
  const assess::Room ahead = tow(rig, 0);
  BOOST_TEST(ahead.most->kg == 180, tt::tolerance(1e-6));
  // 2 kg in hand at the rear axle are less than U, so that row is no pass as it is.
  BOOST_TEST(test::text(rig.row("tow_rear", "bars").outcome) == "conditional pass");
  BOOST_REQUIRE(ahead.sure);
  BOOST_TEST(ahead.sure->kg == 0);
  BOOST_TEST(ahead.sure->limit == 1u);

  const auto wide = test::run(test::whole_rig(json::array({of("tow_gross", 3000)})));
  BOOST_TEST(*gross.u > 1);
  BOOST_TEST(tow(wide, 0).sure->kg == 180 - 2 * *gross.u, tt::tolerance(1e-6));
  // On a place that puts half a kilogram on the coupling for each.
  BOOST_TEST(trailer(wide, 2000).sure->kg == 2 * (180 - 2 * *gross.u), tt::tolerance(1e-6));
}

BOOST_AUTO_TEST_CASE(a_rating_that_is_outside_already) {
  const auto rig = test::run(test::whole_rig({of("tow_rear", 1400), of("tow_gross", 3000)}));
  const assess::Room over_front = tow(rig, 0);
  BOOST_TEST(over_front.already_outside);
  BOOST_TEST(over_front.most->kg == 0);
  BOOST_TEST(over_front.most->limit == 0u);
  BOOST_REQUIRE_EQUAL(over_front.outside.size(), 1u);
  BOOST_TEST(!over_front.outside[0].mends);
  BOOST_TEST(!over_front.mended);
  // 500 ahead of the front axle a kilogram lifts 1/6 off the rear one: 28·6 = 168, until 180 fill the rig.
  const assess::Room bull_bar = tow(rig, -500);
  BOOST_TEST(bull_bar.most->kg == 0);
  BOOST_TEST(bull_bar.outside.at(0).mends);
  BOOST_REQUIRE(bull_bar.mended);
  BOOST_TEST(bull_bar.mended->from_kg == 168, tt::tolerance(1e-6));
  BOOST_TEST(bull_bar.mended->until->kg == 180, tt::tolerance(1e-6));
  BOOST_TEST(bull_bar.mended->until->limit == 1u);
  // 300 ahead it is a tenth: 280 kg would be needed, and 180 is the end.
  BOOST_TEST(tow(rig, -300).outside.at(0).mends);
  BOOST_TEST(!tow(rig, -300).mended);
}

BOOST_AUTO_TEST_CASE(a_minimum_that_more_mass_mends) {
  const auto rig = test::run(test::whole_rig({of("coupling_minimum", 180), of("coupling", 240)}));
  const assess::Room nose = trailer(rig, 1000);
  BOOST_TEST(nose.already_outside);
  BOOST_TEST(nose.most->kg == 0);
  BOOST_TEST(nose.outside.at(0).mends);
  BOOST_TEST(nose.mended->from_kg == 40, tt::tolerance(1e-6));  // 30/0.75
  BOOST_TEST(nose.mended->until->kg == 120, tt::tolerance(1e-6));
  BOOST_TEST(!trailer(rig, 5000).outside.at(0).mends);
}

BOOST_AUTO_TEST_CASE(coupling_forces_follow_from_ratings_and_never_change) {
  // 9.81·3·2/5 = 11.772 kN
  const auto rig =
      test::run(test::whole_rig({of("tow_gross", 3000), of("trailer_gross", 2000), of("d_value", 12)}));
  BOOST_TEST(tow(rig, 0).most->kg == 180, tt::tolerance(1e-6));
  const auto low =
      test::run(test::whole_rig({of("tow_gross", 3000), of("trailer_gross", 2000), of("d_value", 11)}));
  BOOST_TEST(tow(low, 0).most->limit == 2u);
  BOOST_TEST(!tow(low, 0).outside.at(0).mends);
  const auto axles =
      test::run(test::whole_rig({of("tow_gross", 3000), of("trailer_axles", 2000), of("dc_value", 12)}));
  BOOST_TEST(trailer(axles, 4000).most->kg == 620, tt::tolerance(1e-6));  // 2000 − 1380
}

BOOST_AUTO_TEST_CASE(advice_stands_apart) {
  const auto rig = test::run(
      test::whole_rig({of("trailer_gross", 1600), with(of("coupling_share_maximum", 0.12), "advice", true)}));
  const assess::Room nose = trailer(rig, 1000);
  BOOST_TEST(nose.most->kg == 100, tt::tolerance(1e-6));
  BOOST_TEST(nose.most->limit == 0u);
  BOOST_TEST(nose.advice->kg == 30 / 0.63, tt::tolerance(1e-6));
  BOOST_TEST(nose.advice->limit == 1u);
}

BOOST_AUTO_TEST_CASE(what_is_not_known_is_named) {
  const auto rig = test::run(test::whole_rig({of("trailer_gross", 1600), of("wheel.trailer.2", 400)}));
  const assess::Room room = trailer(rig, 4000);
  BOOST_TEST(room.most->kg == 100, tt::tolerance(1e-6));
  BOOST_REQUIRE_EQUAL(room.left_out.size(), 1u);
  BOOST_TEST(room.left_out[0].limit == 1u);
  BOOST_TEST(room.left_out[0].reason.find("weigh each wheel end of trailer.2") == 0u);

  json sheet = test::whole_rig({of("trailer_gross", 1600), of("coupling", 200)});
  sheet["rig"]["trailer"].erase("coupling_to_axles");
  const auto no_length = test::run(sheet);
  BOOST_TEST(trailer(no_length, 1000).left_out.at(0).limit == 1u);
  BOOST_TEST(trailer(no_length, 1000).left_out.at(0).reason ==
             "measure from the coupling to the trailer's axles");
  BOOST_TEST(trailer(no_length, 0).most->kg == 50, tt::tolerance(1e-6));  // at the coupling all of it
  BOOST_TEST(trailer(no_length, 0).left_out.empty());

  const auto only = test::run(test::whole_rig(json::array({of("wheel.trailer.2", 400)})));
  BOOST_TEST(!trailer(only, 4000).most);
  BOOST_TEST(!trailer(only, 4000).unlimited);
  BOOST_TEST(!trailer(only, 4000).reason.empty());
  BOOST_TEST(trailer(test::run(test::whole_rig(json::array())), 4000).reason ==
             "the sheet gives no rating for the rig as it travels");
}

BOOST_AUTO_TEST_CASE(a_vehicle_alone_and_a_drawbar_trailer) {
  const auto alone = test::run(test::vehicle_alone({of("tow_front", 1450), of("tow_gross", 3000)}));
  BOOST_TEST(tow(alone, 1500).most->kg == 100, tt::tolerance(1e-6));
  BOOST_TEST(tow(alone, 3000).most->kg == 300, tt::tolerance(1e-6));
  BOOST_TEST(trailer(alone, 0).reason == "the session has no trailer");

  const auto drawbar = test::run(
      test::drawbar_rig({of("trailer_gross", 2100), of("trailer_axle.1", 930), of("tow_rear", 1310)}));
  const assess::Room room = trailer(drawbar, 0);
  BOOST_TEST(room.most->kg == 30 / 0.45, tt::tolerance(1e-6));  // the axle carries 900 of 2000
  BOOST_TEST(room.most->limit == 1u);
  BOOST_TEST(room.most->supposed);
}

BOOST_AUTO_TEST_CASE(places_follow_from_the_rig) {
  json sheet = test::whole_rig(json::array());
  sheet["modifications"] = json::array({{{"what", "water tank"}, {"at", 2600}}, {{"what", "radio"}}});
  const auto rig = test::run(sheet);
  const std::vector<std::pair<double, std::string>> expected{{0, "over the front axle"},
                                                             {1500, "between the axles"},
                                                             {3000, "over the rear axle"},
                                                             {4200, "behind the rear axle, at the coupling"},
                                                             {1000, "nose of the trailer"},
                                                             {2000, "halfway to the trailer's axles"},
                                                             {4000, "over the trailer's axles"},
                                                             {5000, "behind the trailer's axles"},
                                                             {2600, "where “water tank” is fitted"}};
  const auto places = assess::places_to_load(rig.session, rig.findings);
  BOOST_REQUIRE_EQUAL(places.size(), expected.size());
  for (std::size_t i = 0; i < places.size(); ++i) {
    BOOST_TEST(places[i].at_mm == expected[i].first, tt::tolerance(1e-6));
    BOOST_TEST(places[i].name == expected[i].second);
    BOOST_TEST((places[i].vehicle == Vehicle::trailer) == (i >= 4 && i < 8));
  }
  const auto alone = test::run(test::vehicle_alone(json::array()));
  BOOST_TEST(assess::places_to_load(alone.session, alone.findings).size() == 3u);
  const auto drawbar = test::run(test::drawbar_rig(json::array()));
  BOOST_TEST(assess::places_to_load(drawbar.session, drawbar.findings).back().name == "on the trailer");
}

BOOST_AUTO_TEST_SUITE_END()

}  // namespace
