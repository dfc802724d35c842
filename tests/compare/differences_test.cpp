// Differences, their uncertainty and Eₙ: published figures and hand calculations.
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <string>

#include "pairs.hpp"

namespace {

using namespace steelyard;
using compare::Comparison;
using compare::Figure;

/// A tow vehicle alone on one scale, axle by axle.
rig::Session alone(const std::string& id, int rear, const std::string& calibrated = "2026-02-11",
                   const std::string& uid = "scale-0421") {
  return test::read_sheet(R"({"format": "steelyard-session/1", "id": ")" + id + R"(",
   "scales": [{"id": "P", "uid": ")" + uid + R"(", "division": 1, "repeatability": 1, "gain_u": 0.003,
     "calibrated": ")" + calibrated + R"("}],
   "placement_u": 0.002,
   "rig": {"tow_vehicle": {"registration": "TCW 018",
     "axles": [{"at": 0, "group": "front"}, {"at": 3000, "group": "rear"}]}},
   "states": [{"name": "alone", "hitched": false, "readings": [
     {"id": "r1", "at": "tow.1", "load": 1000, "scale": "P"},
     {"id": "r2", "at": "tow.2", "load": )" + std::to_string(rear) + R"(, "scale": "P"}]}]})");
}

/// Of one reading: a division of 1 kg as two rectangular roundings (1/6), 1 kg of repeatability, placement.
double reading_variance(double load) {
  return 1.0 / 6 + 1 + std::pow(0.002 * load, 2);
}

const compare::Compared& total(const Comparison& all) {
  const compare::Compared* found = all.find("tow_unhitched_total");
  BOOST_REQUIRE(found);
  BOOST_REQUIRE(found->difference);
  return *found;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(differences)

// NIST, Dataplot reference manual, "ISO 13528 EN SCORE": results 1.006, 0.996 and 0.998 of the first batch
// against a reference of 1, printed Eₙ 0.393, −0.262 and −0.131. The standard deviations that it computes from
// its file of gear diameters, 0.004346 (batch) and 0.006279 (all), are from memory; U is twice either.
BOOST_AUTO_TEST_CASE(en_as_published) {
  for (const auto& [result, en] : {std::pair{1.006, 0.393}, {0.996, -0.262}, {0.998, -0.131}}) {
    const compare::Difference found = compare::difference({1, 0.006279}, {result, 0.004346}, 0);
    BOOST_REQUIRE(found.en);
    BOOST_TEST(std::abs(*found.en - en) < 0.0006);
    BOOST_TEST(*found.significant() == false);
  }
}

// Hand calculation: u = √(3² + 4² − 2·4.5) = 4, U = 8, so 8 is just as much as U.
BOOST_AUTO_TEST_CASE(common_errors_do_not_count_twice) {
  const compare::Difference found = compare::difference({100, 3}, {108, 4}, 4.5);
  BOOST_TEST(found.value == 8);
  BOOST_TEST(found.u == 4, boost::test_tools::tolerance(1e-12));
  BOOST_TEST(*found.en == 1, boost::test_tools::tolerance(1e-12));
  BOOST_TEST(*found.significant());
  BOOST_TEST(!*compare::difference({100, 3}, {107.99, 4}, 4.5).significant());
  BOOST_TEST(*compare::difference({100, 3}, {91, 4}, 4.5).significant());
}

BOOST_AUTO_TEST_CASE(wholly_common_leaves_no_en) {
  for (const double more : {0.0, 1e-13, -1e-14}) {  // what rounding does to equal variances
    const compare::Difference found = compare::difference({5, 2}, {5, 2}, 4 + more);
    BOOST_TEST(found.u == 0);
    BOOST_TEST(!found.en);
    BOOST_TEST(!found.significant());
  }
}

// Hand calculation: the same gain g weighs on both totals, so of it only g·(2100 − 2000) is left.
BOOST_AUTO_TEST_CASE(one_scale_twice) {
  const Comparison all = test::compared(alone("a-1", 1000), alone("b-1", 1100));
  const double readings = 3 * reading_variance(1000) + reading_variance(1100);
  BOOST_TEST(total(all).difference->value == 100, boost::test_tools::tolerance(1e-9));
  BOOST_TEST(total(all).difference->u == std::sqrt(readings + std::pow(0.003 * 100, 2)),
             boost::test_tools::tolerance(1e-6));
  BOOST_TEST(total(all).correlation > 0.6);
}

// Hand calculation: another error each time, so both gains count in full; likewise of another scale.
BOOST_AUTO_TEST_CASE(calibrated_in_between_or_another_scale) {
  const double apart = 3 * reading_variance(1000) + reading_variance(1100) + std::pow(0.003 * 2000, 2) +
                       std::pow(0.003 * 2100, 2);
  for (const rig::Session& after :
       {alone("b-1", 1100, "2026-09-01"), alone("b-1", 1100, "2026-02-11", "scale-0422")}) {
    const Comparison all = test::compared(alone("a-1", 1000), after);
    BOOST_TEST(total(all).difference->u == std::sqrt(apart), boost::test_tools::tolerance(1e-6));
    BOOST_TEST(total(all).correlation == 0);
  }
}

BOOST_AUTO_TEST_CASE(each_side_keeps_its_own_values) {
  const test::Weighed before(test::before_springs()), after(test::after_springs());
  const Comparison all = compare::compare(before.side(), after.side());
  int known = 0;
  for (const compare::Compared& row : all.quantities) {
    if (!row.before || !row.after) continue;
    ++known;
    const auto* was = before.findings().find(row.name, row.state_before.value_or(""), row.at.value_or(""));
    const auto* is = after.findings().find(row.name, row.state_after.value_or(""), row.at.value_or(""));
    BOOST_REQUIRE(was && is);
    BOOST_TEST((row.before->value == was->value && row.before->u == was->u));
    BOOST_TEST((row.after->value == is->value && row.after->u == is->u));
    BOOST_TEST(row.difference->value == is->value - was->value);
    // The errors of the scales weigh on both sides with the same sign.
    if (row.measure == reconcile::Measure::kilogram)
      BOOST_TEST(row.difference->u <= std::hypot(was->u, is->u) * (1 + 1e-9), row.name);
  }
  BOOST_TEST(known > 40);
}

BOOST_AUTO_TEST_CASE(a_session_against_itself) {
  for (const char* name : {"tcw-018-before-springs", "tcw-030-weight-distribution-settings"}) {
    const rig::Session session = test::sample(name);
    const Comparison all = test::compared(session, session);
    for (const compare::Compared& row : all.quantities) {
      if (!row.difference) continue;
      BOOST_TEST(row.difference->value == 0);
      BOOST_TEST(!row.difference->en, row.name);  // observed once: every error is common
    }
    for (const compare::LimitCompared& row : all.limits) BOOST_TEST(!row.changed());
    BOOST_TEST(all.fitted.nothing());
  }
}

// The same weighing under another id: its readings would have been taken anew, so their errors are not common.
BOOST_AUTO_TEST_CASE(the_same_figures_twice) {
  rig::Session again = test::before_springs();
  again.id = "another-weighing";
  const Comparison all = test::compared(test::before_springs(), again);
  for (const compare::Compared& row : all.quantities) {
    if (!row.difference) continue;
    BOOST_TEST(row.difference->value == 0);
    if (row.name != "tow_unhitched_total") continue;
    BOOST_TEST(row.difference->u > 0);
    BOOST_TEST(*row.difference->en == 0);
  }
}

BOOST_AUTO_TEST_SUITE_END()
