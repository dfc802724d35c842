// What every kind of limit is compared with, in which states, and what follows of margin, probability and
// outcome. The values are the rig's by hand (rigs.hpp).
#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <cmath>

#include "tests/assess/normal_tail.hpp"
#include "tests/assess/rigs.hpp"

namespace {

using namespace steelyard;
using test::json;
namespace tt = boost::test_tools;

struct Expected {
  const char* state;  // empty: without a state
  double value;
  const char* at = "";
};

struct Case {
  json limit;
  std::vector<Expected> rows;
};

json of(const char* name, double value) {
  return {{"of", name}, {"value", value}};
}
json with(json limit, const char* key, const json& value) {
  limit[key] = value;
  return limit;
}

/// The contract's table of limits, in its order.
std::vector<Case> table() {
  return {
      {of("tow_gross", 2830), {{"apart", 2700}, {"together", 2850}, {"bars", 2820}}},
      {of("tow_front", 1402), {{"apart", 1400}, {"together", 1340}, {"bars", 1392}}},
      {of("tow_rear", 1430), {{"apart", 1300}, {"together", 1510}, {"bars", 1428}}},
      {of("tow_axle.1", 1390),
       {{"apart", 1400, "tow.1"}, {"together", 1340, "tow.1"}, {"bars", 1392, "tow.1"}}},
      {of("tow_axle.2", 1600),
       {{"apart", 1300, "tow.2"}, {"together", 1510, "tow.2"}, {"bars", 1428, "tow.2"}}},
      {of("tow_front_minimum_share", 0.48), {{"together", 1340.0 / 2850}, {"bars", 1392.0 / 2820}}},
      // F + R + M: the coupling load is never added again.
      {of("combination", 4210), {{"", 4200}}},
      {of("trailer_gross", 1400), {{"", 1500}}},
      {with(of("trailer_gross", 1400), "basis", "whole"), {{"", 1500}}},
      {with(of("trailer_gross", 1400), "basis", "axles"), {{"", 1350}}},
      {of("towed_mass", 2000), {{"", 1500}}},
      {with(of("towed_mass", 1352), "basis", "axles"), {{"", 1350}}},
      {of("towed_mass_unbraked", 750), {{"", 1500}}},
      {with(of("towed_mass_unbraked", 750), "basis", "axles"), {{"", 1350}}},
      {of("trailer_axles", 1360), {{"together", 1350}, {"bars", 1380}}},
      {of("trailer_axle.1", 680), {{"together", 675, "trailer.1"}, {"bars", 690, "trailer.1"}}},
      {of("trailer_axle.2", 680), {{"together", 675, "trailer.2"}, {"bars", 690, "trailer.2"}}},
      // The static load, whatever the bars take off.
      {of("coupling", 151), {{"together", 150}, {"bars", 150}}},
      {of("coupling_minimum", 75), {{"", 150}}},
      {of("coupling_share_minimum", 0.05), {{"", 0.1}}},
      {of("coupling_share_maximum", 0.101), {{"", 0.1}}},
      {of("wheel.tow.1", 700),
       {{"apart", 710, "tow.1.right"}, {"together", 680, "tow.1.right"}, {"bars", 702, "tow.1.right"}}},
      {json{{"of", "wheel.trailer.1"}, {"load_index", 74}},
       {{"apart", 345, "trailer.1.right"},
        {"together", 345, "trailer.1.right"},
        {"bars", 350, "trailer.1.right"}}},
      {of("mass_ratio", 0.6), {{"", 1500.0 / 2700}}},
      {with(of("mass_ratio", 0.6), "against", 3000), {{"", 0.5}}},
      {of("front_axle_restoration_minimum", 0.5), {{"bars", 52.0 / 60}}},
      {of("front_axle_restoration_maximum", 0.85), {{"bars", 52.0 / 60}}},
      // The worst axle: apart 15/675 at the trailer, 20/1300 behind it.
      {of("side_difference", 0.02),
       {{"apart", 15.0 / 675, "trailer.1"},
        {"together", 15.0 / 675, "trailer.1"},
        {"bars", 10.0 / 690, "trailer.1"}}},
  };
}

bool minimum(const std::string& name) {
  return name == "tow_front_minimum_share" || name == "coupling_minimum" ||
         name == "coupling_share_minimum" || name == "front_axle_restoration_minimum";
}

double rating_of(const json& limit) {
  return limit.contains("load_index") ? 375 : limit.at("value").get<double>();  // index 74: 375 kg (R30)
}

void check_row(const assess::Row& row, const json& limit, const Expected& expected) {
  const std::string name = limit.at("of");
  const double rating = rating_of(limit);
  BOOST_TEST(row.of == name);
  BOOST_TEST(row.state.value_or("") == expected.state);
  BOOST_TEST(row.at == expected.at);
  BOOST_TEST(row.minimum == minimum(name));
  BOOST_REQUIRE(row.value && row.u && row.margin && row.p_breach && row.rating);
  BOOST_TEST(!row.reason);
  BOOST_TEST(*row.rating == rating);
  BOOST_TEST(*row.value == expected.value, tt::tolerance(1e-8));
  const double margin = minimum(name) ? expected.value - rating : rating - expected.value;
  BOOST_TEST(std::abs(*row.margin - margin) < 1e-8 * std::max(1.0, expected.value));
  BOOST_TEST(*row.u > 0);
  // Φ(−margin/u) by the second algorithm; far tails need not be told from 0 or 1.
  const double z = std::clamp(margin / *row.u, -8.0, 8.0);
  BOOST_TEST(std::abs(*row.p_breach - test::normal_tail(z)) < 1e-6);
  const double expanded = 2 * *row.u;
  const char* const outcome = margin >= expanded    ? "pass"
                              : margin >= 0         ? "conditional pass"
                              : margin >= -expanded ? "conditional fail"
                                                    : "fail";
  BOOST_TEST(test::text(row.outcome) == outcome);
}

}  // namespace

BOOST_AUTO_TEST_SUITE(limit_values)

BOOST_AUTO_TEST_CASE(every_row_of_the_table) {
  for (const Case& one : table()) {
    BOOST_TEST_CONTEXT(one.limit.dump()) {
      const test::Assessed rig = test::run(test::whole_rig(json::array({one.limit})));
      BOOST_TEST(rig.findings.fit.chi_square < 1e-9);  // the figures by hand are consistent
      BOOST_REQUIRE_EQUAL(rig.assessment.rows.size(), one.rows.size());
      for (std::size_t i = 0; i < one.rows.size(); ++i)
        check_row(rig.assessment.rows[i], one.limit, one.rows[i]);
    }
  }
}

/// All at once give the same rows, limits in the sheet's order and each in the order of the states.
BOOST_AUTO_TEST_CASE(rows_stand_in_order) {
  json limits = json::array();
  for (const Case& one : table()) limits.push_back(one.limit);
  const test::Assessed rig = test::run(test::whole_rig(limits));
  std::size_t next = 0, limit = 0;
  for (const Case& one : table()) {
    for (const Expected& expected : one.rows) {
      BOOST_REQUIRE_LT(next, rig.assessment.rows.size());
      const assess::Row& row = rig.assessment.rows[next++];
      BOOST_TEST(row.limit == limit);
      BOOST_TEST(row.state.value_or("") == expected.state);
      BOOST_TEST(row.value.value() == expected.value, tt::tolerance(1e-8));
    }
    ++limit;
  }
  BOOST_TEST(next == rig.assessment.rows.size());
  BOOST_TEST(rig.assessment.assessed == static_cast<int>(limits.size()));
  BOOST_TEST(rig.assessment.not_assessed == 0);
}

/// UNECE R55 (formula from secondary texts): 9.81·3.2·2/5.2 and 9.81·3.2·1.8/5 kN. Where sources disagree
/// the lowest of the ratings is taken, advice not at all.
BOOST_AUTO_TEST_CASE(coupling_forces_from_the_ratings) {
  json limits = {of("tow_gross", 3200),     of("tow_gross", 3300),
                 of("trailer_gross", 2000), with(of("trailer_gross", 1000), "advice", true),
                 of("trailer_axles", 1800), of("d_value", 12.1),
                 of("dc_value", 11.3)};
  const test::Assessed rig = test::run(test::whole_rig(limits));
  const assess::Row &d = rig.row("d_value"), &dc = rig.row("dc_value");
  BOOST_TEST(d.value.value() == 9.81 * 6.4 / 5.2, tt::tolerance(1e-12));
  BOOST_TEST(test::text(d.outcome) == "pass");
  BOOST_TEST(d.u.value() == 0.0);
  BOOST_TEST(dc.value.value() == 9.81 * 5.76 / 5.0, tt::tolerance(1e-12));
  BOOST_TEST(test::text(dc.outcome) == "fail");
  BOOST_TEST(dc.p_breach.value() == 1.0);
}

/// Pounds in the sheet, kilograms in the row: 1 lb = 0.45359237 kg, exact.
BOOST_AUTO_TEST_CASE(a_limit_with_its_own_unit) {
  const json limits{with(of("tow_gross", 7000), "unit", "lb"),
                    with(with(of("mass_ratio", 0.6), "against", 6000), "unit", "lb")};
  const test::Assessed rig = test::run(test::whole_rig(limits));
  BOOST_TEST(rig.row("tow_gross", "bars").rating.value() == 3175.14659, tt::tolerance(1e-12));
  BOOST_TEST(rig.row("mass_ratio").value.value() == 1500 / 2721.55422, tt::tolerance(1e-8));
}

/// Against a declared mass the ratio has no other uncertainty than the trailer's: u(M)/3000.
BOOST_AUTO_TEST_CASE(uncertainty_of_a_ratio_against_a_declared_mass) {
  const test::Assessed rig =
      test::run(test::whole_rig(json::array({with(of("mass_ratio", 0.6), "against", 3000)})));
  const reconcile::Quantity* mass = rig.findings.find("trailer_mass");
  BOOST_REQUIRE(mass);
  BOOST_TEST(rig.row("mass_ratio").u.value() == mass->u / 3000, tt::tolerance(1e-12));
  BOOST_TEST(rig.row("mass_ratio").margin.value() == 0.1, tt::tolerance(1e-7));
}

/// A limit's uncertainty is that of the quantity which the report shows.
BOOST_AUTO_TEST_CASE(uncertainties_are_those_of_the_findings) {
  const json limits{of("tow_rear", 1500), of("trailer_gross", 2000), of("wheel.tow.2", 900)};
  const test::Assessed rig = test::run(test::whole_rig(limits));
  const auto u = [&](const char* name, const char* state, const char* at) {
    const reconcile::Quantity* found = rig.findings.find(name, state, at);
    BOOST_REQUIRE(found);
    return found->u;
  };
  BOOST_TEST(rig.row("tow_rear", "bars").u.value() == u("tow_hitched_rear", "bars", ""), tt::tolerance(1e-9));
  BOOST_TEST(rig.row("trailer_gross").u.value() == u("trailer_mass", "", ""), tt::tolerance(1e-12));
  BOOST_TEST(rig.row("wheel.tow.2", "bars").u.value() == u("wheel_load", "bars", "tow.2.right"),
             tt::tolerance(1e-12));
}

BOOST_AUTO_TEST_SUITE_END()
