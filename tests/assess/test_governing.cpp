// Which of several ratings of one thing governs, what weight distribution confines, and advice.
#include <boost/test/unit_test.hpp>

#include "tests/assess/rigs.hpp"

namespace {

using namespace steelyard;
using test::json;

/// Rows of one limit that govern.
std::vector<std::string> governing(const test::Assessed& rig, std::string_view of, std::string_view state) {
  std::vector<std::string> out;
  for (const assess::Row& row : rig.assessment.rows)
    if (row.governs && row.of == of && row.state.value_or("") == state)
      out.push_back(row.part.value_or(row.source));
  return out;
}

json coupling(const char* part, double value) {
  return {{"of", "coupling"}, {"part", part}, {"value", value}, {"source", part}};
}

std::vector<std::string> only(const char* name) {
  return {name};
}

}  // namespace

BOOST_AUTO_TEST_SUITE(governing_ratings)

BOOST_AUTO_TEST_CASE(lowest_link_of_the_coupling_chain) {
  const json limits{coupling("vehicle", 350), coupling("towbar", 250), coupling("ball", 140),
                    coupling("coupling head", 200), coupling("drawbar", 300)};
  const test::Assessed rig = test::run(test::whole_rig(limits));
  BOOST_TEST(rig.assessment.rows.size() == 10u);  // five links in two hitched states
  BOOST_TEST(governing(rig, "coupling", "together") == only("ball"), boost::test_tools::per_element());
  BOOST_TEST(governing(rig, "coupling", "bars") == only("ball"), boost::test_tools::per_element());
  for (const assess::Row& row : rig.assessment.rows)  // 150 kg on a ball of 140, the rest stronger
    BOOST_TEST((row.outcome == assess::Outcome::fail) == (row.part == "ball"));
  BOOST_TEST(rig.outcome() == "fail");
}

BOOST_AUTO_TEST_CASE(two_sources_are_kept_and_the_lower_governs) {
  const json limits{{{"of", "tow_gross"}, {"value", 3000}, {"source", "handbook"}},
                    {{"of", "tow_gross"}, {"value", 2700}, {"source", "compliance plate"}}};
  const test::Assessed rig = test::run(test::whole_rig(limits));
  BOOST_TEST(rig.rows_of(0).size() == 3u);
  BOOST_TEST(rig.rows_of(1).size() == 3u);
  BOOST_TEST(governing(rig, "tow_gross", "bars") == only("compliance plate"),
             boost::test_tools::per_element());
  BOOST_TEST(test::text(rig.rows_of(0)[2]->outcome) == "pass");  // 2820 against 3000
  BOOST_TEST(test::text(rig.rows_of(1)[2]->outcome) == "fail");  // and against 2700
  BOOST_TEST(rig.outcome() == "fail");
}

/// 1500 kg in all, 1350 on the axles: two different things, so each rating governs its own.
BOOST_AUTO_TEST_CASE(ratings_of_different_things_do_not_govern_each_other) {
  const json limits{{{"of", "towed_mass"}, {"value", 1550}, {"basis", "axles"}, {"source", "axles"}},
                    {{"of", "towed_mass"}, {"value", 1600}, {"source", "whole"}},
                    {{"of", "mass_ratio"}, {"value", 0.6}, {"source", "as weighed"}},
                    {{"of", "mass_ratio"}, {"value", 0.62}, {"against", 3000}, {"source", "declared"}}};
  const test::Assessed rig = test::run(test::whole_rig(limits));
  const std::vector<std::string> masses{"axles", "whole"}, ratios{"as weighed", "declared"};
  BOOST_TEST(governing(rig, "towed_mass", "") == masses, boost::test_tools::per_element());
  BOOST_TEST(governing(rig, "mass_ratio", "") == ratios, boost::test_tools::per_element());
}

BOOST_AUTO_TEST_CASE(of_two_minima_the_higher_governs) {
  const json limits{{{"of", "coupling_share_minimum"}, {"value", 0.12}, {"source", "operator's policy"}},
                    {{"of", "coupling_share_minimum"}, {"value", 0.05}, {"source", "handbook"}}};
  const test::Assessed rig = test::run(test::whole_rig(limits));
  BOOST_TEST(governing(rig, "coupling_share_minimum", "") == only("operator's policy"),
             boost::test_tools::per_element());
  BOOST_TEST(test::text(rig.rows_of(0)[0]->outcome) == "fail");  // 150/1500 is 0.10
  BOOST_TEST(test::text(rig.rows_of(1)[0]->outcome) == "pass");
}

/// A coupling with two ratings: each counts in its own states only.
BOOST_AUTO_TEST_CASE(ratings_with_and_without_weight_distribution) {
  json off = coupling("head, bars off", 120), on = coupling("head, bars on", 280);
  off["with_weight_distribution"] = false;
  on["with_weight_distribution"] = true;
  json sheet = test::whole_rig({off, on});
  const test::Assessed rig = test::run(sheet);
  BOOST_REQUIRE_EQUAL(rig.rows_of(0).size(), 1u);
  BOOST_REQUIRE_EQUAL(rig.rows_of(1).size(), 1u);
  BOOST_TEST(rig.rows_of(0)[0]->state.value() == "together");
  BOOST_TEST(test::text(rig.rows_of(0)[0]->outcome) == "fail");  // 150 against 120, but it travels with bars
  BOOST_TEST(rig.rows_of(1)[0]->state.value() == "bars");
  BOOST_TEST(!rig.rows_of(0)[0]->travels);
  BOOST_TEST(rig.rows_of(1)[0]->travels);
  BOOST_TEST(rig.outcome() == "pass");

  test::state_of(sheet, "bars")["travels"] = false;
  test::state_of(sheet, "together")["travels"] = true;
  BOOST_TEST(test::run(sheet).outcome() == "fail");
}

/// Confined to weight distribution, a limit on the tow vehicle says nothing of the unhitched state either.
BOOST_AUTO_TEST_CASE(confined_limits_pass_the_unhitched_state_over) {
  for (const bool with : {true, false}) {
    const json limit{{"of", "tow_rear"}, {"value", 1600}, {"with_weight_distribution", with}};
    const test::Assessed rig = test::run(test::whole_rig(json::array({limit})));
    BOOST_REQUIRE_EQUAL(rig.assessment.rows.size(), 1u);
    BOOST_TEST(rig.assessment.rows[0].state.value() == (with ? "bars" : "together"));
  }
}

BOOST_AUTO_TEST_CASE(advice_is_reported_and_never_part_of_the_outcome) {
  const json rating{{"of", "tow_gross"}, {"value", 3000}},
      advice{{"of", "tow_gross"}, {"value", 2000}, {"advice", true}},
      unknown{{"of", "wheel.trailer.2"}, {"value", 500}, {"advice", true}};
  const test::Assessed rig = test::run(test::whole_rig({rating, advice, unknown}));
  BOOST_TEST(test::text(rig.rows_of(1)[2]->outcome) == "fail");
  BOOST_TEST(rig.rows_of(1)[2]->advice);
  BOOST_TEST(!rig.rows_of(1)[2]->governs);
  BOOST_TEST(rig.rows_of(0)[2]->governs);  // though the advice is lower
  BOOST_TEST(rig.outcome() == "pass");     // neither failed nor incomplete by advice
  BOOST_TEST(rig.assessment.assessed == 2);
  BOOST_TEST(rig.assessment.not_assessed == 1);
  // Advice by itself is no rating: nothing is concluded of the rig.
  BOOST_TEST(test::run(test::whole_rig(json::array({advice}))).outcome() == "not assessed");
}

BOOST_AUTO_TEST_CASE(source_and_part_stay_with_their_row) {
  const json limits{coupling("towbar", 250), {{"of", "combination"}, {"value", 5000}, {"source", "plate"}}};
  const test::Assessed rig = test::run(test::whole_rig(limits));
  BOOST_TEST(rig.rows_of(0)[0]->part.value() == "towbar");
  BOOST_TEST(rig.rows_of(0)[0]->source == "towbar");
  BOOST_TEST(!rig.rows_of(1)[0]->part);
  BOOST_TEST(rig.rows_of(1)[0]->source == "plate");
}

BOOST_AUTO_TEST_SUITE_END()
