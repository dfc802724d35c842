// The rig's outcome: the worst rating in the state it travels in; incomplete where one could not be assessed.
#include <boost/test/unit_test.hpp>

#include "tests/assess/rigs.hpp"

namespace {

using namespace steelyard;
using test::json;

json of(const char* name, double value) {
  return {{"of", name}, {"value", value}};
}

/// Only the axle of the trailer's second was read: this rating cannot be assessed.
const json unread_wheel = of("wheel.trailer.2", 500);

/// A rating that leaves that many expanded uncertainties of the combination's mass as margin.
json combination_with_margin(double expanded) {
  const test::Assessed rig = test::run(test::whole_rig(json::array({of("combination", 5000)})));
  const assess::Row& row = rig.row("combination");
  return of("combination", *row.value + expanded * 2 * *row.u);
}

std::string outcome_of(const json& limits) {
  return test::run(test::whole_rig(limits)).outcome();
}

}  // namespace

BOOST_AUTO_TEST_SUITE(rig_outcome)

BOOST_AUTO_TEST_CASE(worst_of_the_ratings) {
  const json pass = of("tow_gross", 3500), conditional_pass = combination_with_margin(0.5),
             conditional_fail = combination_with_margin(-0.5), fail = of("trailer_gross", 1000);
  BOOST_TEST(outcome_of(json::array({pass})) == "pass");
  BOOST_TEST(outcome_of({pass, conditional_pass}) == "conditional pass");
  BOOST_TEST(outcome_of({conditional_pass, conditional_fail, pass}) == "conditional fail");
  BOOST_TEST(outcome_of({fail, conditional_fail, pass}) == "fail");
  BOOST_TEST(outcome_of(json::array()) == "not assessed");
}

/// A rig with a rating not assessed and none failed is incomplete, not pass; one that is over is over.
BOOST_AUTO_TEST_CASE(incomplete_is_not_pass) {
  const json pass = of("tow_gross", 3500), fail = of("trailer_gross", 1000);
  BOOST_TEST(outcome_of({pass, unread_wheel}) == "incomplete");
  BOOST_TEST(outcome_of({combination_with_margin(0.5), unread_wheel}) == "incomplete");
  BOOST_TEST(outcome_of({combination_with_margin(-0.5), unread_wheel}) == "conditional fail");
  BOOST_TEST(outcome_of({fail, unread_wheel}) == "fail");
  BOOST_TEST(outcome_of(json::array({unread_wheel})) == "incomplete");
  const test::Assessed rig = test::run(test::whole_rig({pass, unread_wheel, fail}));
  BOOST_TEST(rig.assessment.assessed == 2);
  BOOST_TEST(rig.assessment.not_assessed == 1);
}

/// Rear axle: apart 1300, together 1510, bars on 1428 kg. With 1470 allowed it depends on how it travels.
BOOST_AUTO_TEST_CASE(only_the_travelling_state_counts) {
  json sheet = test::whole_rig(json::array({of("tow_rear", 1470)}));
  const test::Assessed marked = test::run(sheet);
  BOOST_TEST(marked.assessment.travels_in.value() == "bars");
  BOOST_TEST(marked.outcome() == "pass");
  BOOST_TEST(test::text(marked.row("tow_rear", "together").outcome) == "fail");
  for (const assess::Row& row : marked.assessment.rows)
    BOOST_TEST(row.travels == (row.state.value() == "bars"));

  // Nothing marked: the last hitched state, though an unhitched one comes after it.
  test::state_of(sheet, "bars").erase("travels");
  BOOST_TEST(test::run(sheet).assessment.travels_in.value() == "bars");
  const json apart = sheet["states"][0], together = sheet["states"][1], bars = sheet["states"][2];
  sheet["states"] = {bars, together, apart};
  const test::Assessed last = test::run(sheet);
  BOOST_TEST(last.assessment.travels_in.value() == "together");
  BOOST_TEST(last.outcome() == "fail");

  test::state_of(sheet, "apart")["travels"] = true;  // the mark goes before
  BOOST_TEST(test::run(sheet).assessment.travels_in.value() == "apart");
  BOOST_TEST(test::run(sheet).outcome() == "pass");
}

/// Without a hitched state nothing is known of how it travels; what stands by itself still counts.
BOOST_AUTO_TEST_CASE(never_weighed_hitched) {
  json sheet = test::whole_rig({of("tow_gross", 2000), of("trailer_axle.1", 900)});
  sheet["states"].erase(2);
  sheet["states"].erase(1);
  const test::Assessed rig = test::run(sheet);
  BOOST_TEST(!rig.assessment.travels_in);
  BOOST_TEST(rig.row("tow_gross", "apart").travels);
  BOOST_TEST(rig.outcome() == "fail");  // 2700 by itself against 2000
  BOOST_TEST(test::text(rig.row("trailer_axle.1").outcome) == "not assessed");
  sheet["rig"]["limits"][0]["value"] = 3500;
  BOOST_TEST(test::run(sheet).outcome() == "incomplete");
}

BOOST_AUTO_TEST_CASE(vehicle_alone) {
  const json own{of("tow_gross", 3000), of("tow_front", 1500), of("tow_axle.2", 1400), of("wheel.tow.1", 800),
                 of("side_difference", 0.05)};
  const test::Assessed rig = test::run(test::vehicle_alone(own));
  BOOST_TEST(rig.outcome() == "pass");
  BOOST_TEST(rig.assessment.travels_in.value() == "alone");
  BOOST_TEST(rig.assessment.assessed == 5);
  BOOST_TEST(rig.row("tow_gross", "alone").value.value() == 2700.0, boost::test_tools::tolerance(1e-8));
  BOOST_TEST(rig.row("wheel.tow.1", "alone").at == "tow.1.right");
  BOOST_TEST(rig.row("side_difference", "alone").value.value() == 20.0 / 1300,
             boost::test_tools::tolerance(1e-7));

  // What its plate says of a trailer cannot be assessed without one, and is not passed.
  for (const char* name :
       {"combination", "towed_mass", "towed_mass_unbraked", "coupling", "coupling_minimum"}) {
    const test::Assessed with = test::run(test::vehicle_alone({of("tow_gross", 3000), of(name, 2000)}));
    BOOST_TEST_CONTEXT(name) {
      BOOST_TEST(with.outcome() == "incomplete");
      BOOST_TEST(test::text(with.row(name).outcome) == "not assessed");
      BOOST_TEST(with.row(name).reason.value() == "the session has no trailer");
    }
  }
}

/// A trailer on its own axles: 900 + 1100 kg in every state, nothing on the coupling.
BOOST_AUTO_TEST_CASE(self_supporting_trailer) {
  json axles = of("trailer_gross", 2500);
  axles["basis"] = "axles";
  const test::Assessed rig = test::run(
      test::drawbar_rig({of("trailer_gross", 2500), of("combination", 5000), of("trailer_axles", 2100),
                         of("trailer_axle.1", 1000), of("tow_rear", 1500), of("mass_ratio", 0.8), axles}));
  const auto near = boost::test_tools::tolerance(1e-8);
  BOOST_TEST(rig.rows_of(0)[0]->value.value() == 2000.0, near);
  BOOST_TEST(rig.row("combination").value.value() == 4700.0, near);
  BOOST_TEST(rig.row("trailer_axles", "together").value.value() == 2000.0, near);
  BOOST_TEST(rig.row("trailer_axle.1", "together").value.value() == 900.0, near);
  BOOST_TEST(rig.row("tow_rear", "together").value.value() == 1300.0, near);
  BOOST_TEST(rig.row("mass_ratio").value.value() == 2000.0 / 2700, near);
  BOOST_TEST(rig.rows_of(6)[0]->value.value() == 2000.0, near);
  BOOST_TEST(rig.outcome() == "pass");

  for (const char* name : {"coupling", "coupling_minimum", "coupling_share_maximum"}) {
    const test::Assessed with = test::run(test::drawbar_rig(json::array({of(name, 0.5)})));
    BOOST_TEST_CONTEXT(name) {
      BOOST_TEST(test::text(with.row(name).outcome) == "not assessed");
      BOOST_TEST(!with.row(name).reason.value_or("").empty());
      BOOST_TEST(!with.row(name).value);
      BOOST_TEST(with.outcome() == "incomplete");
    }
  }
}

/// 1000 kg too much on one wheel end, read four times besides: only that reading can be off. A row is
/// flagged where it rests on that state, and where it rests on all of them; one that rests on ratings alone
/// never is.
BOOST_AUTO_TEST_CASE(suspect_readings_are_said_with_the_row) {
  json sheet = test::whole_rig({of("tow_axle.2", 1600), of("coupling", 250), of("trailer_gross", 2000),
                                of("tow_gross", 3500), of("d_value", 20)});
  const test::Assessed sound = test::run(sheet);
  for (const assess::Row& row : sound.assessment.rows) BOOST_TEST(!row.suspect);

  json& together = test::state_of(sheet, "together");
  for (int i = 0; i < 3; ++i) together["readings"].push_back(test::reading("tow.2.left", 750));
  together["readings"].push_back(test::reading("tow.2.left", 1750));
  const test::Assessed rig = test::run(sheet);
  BOOST_REQUIRE_EQUAL(rig.findings.suspects.size(), 1u);
  for (const auto& member : rig.findings.suspects[0].members)
    BOOST_TEST(rig.findings.observations[member.observation].state.value_or("") == "together");
  BOOST_TEST(rig.row("tow_axle.2", "together").suspect);
  BOOST_TEST(!rig.row("tow_axle.2", "apart").suspect);
  BOOST_TEST(!rig.row("tow_axle.2", "bars").suspect);
  BOOST_TEST(rig.row("trailer_gross").suspect);
  BOOST_TEST(rig.row("coupling", "bars").suspect);  // the coupling load follows from all states together
  BOOST_TEST(rig.row("tow_gross", "bars").suspect);
  BOOST_TEST(!rig.row("d_value").suspect);
}

BOOST_AUTO_TEST_CASE(words_for_people) {
  using assess::in_words;
  using assess::Outcome;
  using assess::RigOutcome;
  BOOST_TEST(in_words(Outcome::pass) == "within");
  BOOST_TEST(in_words(Outcome::conditional_pass) == "within, but too close to be sure");
  BOOST_TEST(in_words(Outcome::conditional_fail) == "over, but too close to be sure");
  BOOST_TEST(in_words(Outcome::fail) == "over");
  BOOST_TEST(in_words(Outcome::fail, true) == "below");
  BOOST_TEST(in_words(Outcome::conditional_fail, true) == "below, but too close to be sure");
  BOOST_TEST(in_words(Outcome::not_assessed) == "not assessed");
  BOOST_TEST(to_text(RigOutcome::incomplete) == "incomplete");
  BOOST_TEST(to_text(RigOutcome::conditional_pass) == "conditional pass");
}

BOOST_AUTO_TEST_SUITE_END()
