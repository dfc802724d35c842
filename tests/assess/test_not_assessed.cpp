// A limit whose value is not determinable is not assessed, with the reason and what to weigh, and never
// silently passed; doing what is said makes it assessed.
#include <boost/test/unit_test.hpp>

#include "tests/assess/rigs.hpp"

namespace {

using namespace steelyard;
using test::json;

json of(const char* name, double value) {
  return {{"of", name}, {"value", value}};
}

void check_not_assessed(const assess::Row& row, std::string_view says) {
  BOOST_TEST(test::text(row.outcome) == "not assessed");
  BOOST_TEST(!row.value);
  BOOST_TEST(!row.u);
  BOOST_TEST(!row.margin);
  BOOST_TEST(!row.p_breach);
  BOOST_REQUIRE(row.reason);
  BOOST_TEST(row.reason->find(says) != std::string::npos, *row.reason << " does not say: " << says);
}

/// The whole rig without weight distribution.
json without_bars(const json& limits) {
  json sheet = test::whole_rig(limits);
  sheet["states"].erase(2);
  return sheet;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(not_assessed)

BOOST_AUTO_TEST_CASE(wheel_limit_where_only_the_axle_was_read) {
  json sheet = test::whole_rig(json::array({of("wheel.trailer.2", 500)}));
  for (const char* state : {"apart", "together", "bars"})
    check_not_assessed(test::run(sheet).row("wheel.trailer.2", state), "each wheel end of trailer.2");
  // Weighed as it says, in the travelling state: 300 and 390 kg.
  json& bars = test::state_of(sheet, "bars");
  bars["readings"].push_back(test::reading("trailer.2.left", 300));
  bars["readings"].push_back(test::reading("trailer.2.right", 390));
  const test::Assessed rig = test::run(sheet);
  BOOST_TEST(rig.row("wheel.trailer.2", "bars").at == "trailer.2.right");
  BOOST_TEST(rig.row("wheel.trailer.2", "bars").value.value() == 390.0, boost::test_tools::tolerance(1e-8));
  BOOST_TEST(rig.outcome() == "pass");
}

/// One wheel end alone: with the axle's load known by statics or read, the other follows.
BOOST_AUTO_TEST_CASE(one_wheel_end_and_the_axle) {
  json sheet = test::whole_rig(json::array({of("wheel.trailer.2", 500)}));
  json& bars = test::state_of(sheet, "bars");
  bars["readings"].push_back(test::reading("trailer.2.left", 300));
  BOOST_TEST(test::run(sheet).row("wheel.trailer.2", "bars").value.value() == 390.0,
             boost::test_tools::tolerance(1e-7));
}

BOOST_AUTO_TEST_CASE(single_axle_of_a_vehicle_not_weighed_in_the_travelling_state) {
  json sheet = without_bars({of("tow_axle.2", 1600), of("trailer_axle.1", 900), of("wheel.tow.1", 900)});
  test::state_of(sheet, "together")["readings"] = json::array();
  const test::Assessed rig = test::run(sheet);
  check_not_assessed(rig.row("tow_axle.2", "together"), "tow.2");
  check_not_assessed(rig.row("trailer_axle.1", "together"), "trailer.1");
  check_not_assessed(rig.row("wheel.tow.1", "together"), "tow.1");
  BOOST_TEST(rig.outcome() == "incomplete");
}

/// Nothing told of the coupling: no support, no tape, hitched readings of the trailer only.
BOOST_AUTO_TEST_CASE(coupling_load_not_determinable) {
  json sheet =
      without_bars({of("coupling", 250), of("trailer_gross", 2000), of("coupling_share_minimum", 0.05)});
  sheet["states"].erase(0);
  const test::Assessed rig = test::run(sheet);
  check_not_assessed(rig.row("coupling", "together"), "");
  check_not_assessed(rig.row("trailer_gross"), "");
  check_not_assessed(rig.row("coupling_share_minimum"), "");
  for (const assess::Row& row : rig.assessment.rows) BOOST_TEST(row.reason->size() > 20u);
  BOOST_TEST(rig.outcome() == "incomplete");
  BOOST_TEST(rig.assessment.assessed == 0);
  BOOST_TEST(rig.assessment.not_assessed == 3);
}

BOOST_AUTO_TEST_CASE(no_hitched_state) {
  json sheet =
      without_bars({of("trailer_axles", 2000), of("coupling", 250), of("tow_front_minimum_share", 0.4)});
  sheet["states"].erase(1);
  const test::Assessed rig = test::run(sheet);
  for (const char* name : {"trailer_axles", "coupling", "tow_front_minimum_share"})
    check_not_assessed(rig.row(name), "hitched");
}

/// A restoration's limits wait for a state with weight distribution. A rig that travels without it has no
/// gap there; one whose travelling state is not known has.
BOOST_AUTO_TEST_CASE(no_weight_distribution) {
  const json limits{of("tow_gross", 3500), of("front_axle_restoration_minimum", 0.5),
                    of("front_axle_restoration_maximum", 1)};
  json sheet = without_bars(limits);
  const test::Assessed rig = test::run(sheet);
  check_not_assessed(rig.row("front_axle_restoration_minimum"), "with weight distribution");
  check_not_assessed(rig.row("front_axle_restoration_maximum"), "with weight distribution");
  BOOST_TEST(!rig.row("front_axle_restoration_minimum").travels);
  BOOST_TEST(rig.outcome() == "pass");
  BOOST_TEST(rig.assessment.not_assessed == 2);
  sheet["states"].erase(1);
  BOOST_TEST(test::run(sheet).outcome() == "incomplete");
}

/// A rating for the bars on says nothing of a rig that travels with them off, and the other way about.
BOOST_AUTO_TEST_CASE(rating_for_states_that_were_not_weighed) {
  json on = of("coupling", 100), off = of("coupling", 100);
  on["with_weight_distribution"] = true;
  off["with_weight_distribution"] = false;
  const test::Assessed travels_off = test::run(without_bars({of("tow_gross", 3500), on}));
  check_not_assessed(travels_off.row("coupling"), "with weight distribution");
  BOOST_TEST(travels_off.outcome() == "pass");
  json sheet = test::whole_rig({of("tow_gross", 3500), off});
  sheet["states"].erase(1);
  const test::Assessed travels_on = test::run(sheet);
  check_not_assessed(travels_on.row("coupling"), "without weight distribution");
  BOOST_TEST(travels_on.outcome() == "pass");
}

/// 690 kg at one end: the heavier end is that or more, so a rating of 600 is passed, one of 800 may be or
/// not.
BOOST_AUTO_TEST_CASE(a_wheel_known_to_be_over_is_over) {
  json sheet = test::vehicle_alone({of("wheel.tow.1", 600), of("wheel.tow.1", 800)});
  sheet["states"][0]["readings"] = {test::reading("tow.1.left", 690), test::reading("tow.2", 1300)};
  const test::Assessed rig = test::run(sheet);
  BOOST_TEST(test::text(rig.rows_of(0)[0]->outcome) == "fail");
  check_not_assessed(*rig.rows_of(1)[0], "tow vehicle axle 1, right");
  BOOST_TEST(rig.outcome() == "fail");
}

/// 20 kg of 1400 differ on axle 1; axle 2 was read on the left alone.
BOOST_AUTO_TEST_CASE(an_axle_read_on_one_side_is_not_passed_over) {
  json sheet = test::vehicle_alone({of("side_difference", 0.05), of("side_difference", 0.001)});
  sheet["states"][0]["readings"] = {test::reading("tow.1.left", 690), test::reading("tow.1.right", 710),
                                    test::reading("tow.2.left", 900)};
  const test::Assessed rig = test::run(sheet);
  check_not_assessed(*rig.rows_of(0)[0], "tow vehicle axle 2, right");
  BOOST_TEST(rig.rows_of(1)[0]->at == "tow.1");  // over with that one already
  BOOST_TEST(rig.rows_of(1)[0]->value.value() == 20.0 / 1400, boost::test_tools::tolerance(1e-6));
}

BOOST_AUTO_TEST_CASE(side_difference_needs_both_sides) {
  json sheet = test::drawbar_rig(json::array({of("side_difference", 0.1)}));
  check_not_assessed(test::run(sheet).row("side_difference", "together"), "left and right");
}

/// D follows from ratings: the sheet must give them.
BOOST_AUTO_TEST_CASE(coupling_forces_need_their_ratings) {
  const auto reason_of = [](const char* name, const json& others) {
    json limits = others;
    limits.push_back(of(name, 20));
    const test::Assessed rig = test::run(test::whole_rig(limits));
    check_not_assessed(rig.row(name), "ratings that the sheet does not give");
    return rig.row(name).reason.value();
  };
  const auto names = [](const std::string& reason, const char* what) {
    return reason.find(what) != std::string::npos;
  };
  const std::string neither = reason_of("d_value", json::array());
  BOOST_TEST((names(neither, "tow_gross") && names(neither, "trailer_gross")));
  const std::string trailer = reason_of("d_value", json::array({of("tow_gross", 3000)}));
  BOOST_TEST((!names(trailer, "tow_gross") && names(trailer, "trailer_gross")));
  const std::string tow = reason_of("dc_value", json::array({of("trailer_axles", 2000)}));
  BOOST_TEST((names(tow, "tow_gross") && !names(tow, "trailer_axles")));
}

BOOST_AUTO_TEST_SUITE_END()
