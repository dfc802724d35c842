// JCGM 106:2012 and ILAC-G8:09/2019 through the assessment: the probability of breaching a limit and the
// four outcomes. The findings are made by hand, one value with its standard uncertainty, so that the
// published inputs come in as they are.
#include <array>
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <limits>

#include "tests/assess/normal_tail.hpp"
#include "tests/published/chain.hpp"

namespace {

using namespace steelyard;
using assess::Outcome;
namespace tt = boost::test_tools;

struct Measured {
  double value, u;
};

/// A limit on a plain number; the share of load on the coupling is one that has a minimum and a maximum.
assess::Row decide(Measured measured, double rating, bool minimum) {
  rig::Session session;
  session.rig.trailer.emplace();
  rig::Limit limit;
  limit.kind = minimum ? rig::LimitKind::coupling_share_minimum : rig::LimitKind::coupling_share_maximum;
  limit.number = rating;
  session.rig.limits.push_back(limit);
  reconcile::Findings findings;
  reconcile::Quantity quantity;
  quantity.name = "coupling_share";
  quantity.measure = reconcile::Measure::one;
  quantity.determinable = true;
  quantity.value = measured.value;
  quantity.u = measured.u;
  findings.quantities.push_back(quantity);
  const auto assessment = assess::assess(session, findings);
  BOOST_REQUIRE_EQUAL(assessment.rows.size(), 1u);
  return assessment.rows.front();
}

double p_breach(Measured measured, double rating, bool minimum = false) {
  const auto row = decide(measured, rating, minimum);
  BOOST_REQUIRE(row.p_breach);
  return *row.p_breach;
}

Measured measured(const nlohmann::json& from) {
  return {from.at("y"), from.at("u")};
}

/// The nearest numbers below and above.
double just_below(double x) {
  return std::nextafter(x, -std::numeric_limits<double>::infinity());
}
double just_above(double x) {
  return std::nextafter(x, std::numeric_limits<double>::infinity());
}

}  // namespace

BOOST_AUTO_TEST_SUITE(conformance)

/// JCGM 106:2012, a Zener diode's breakdown voltage against an upper limit (inputs from memory; printed
/// 0.92).
BOOST_AUTO_TEST_CASE(one_sided_upper_limit_of_jcgm_106) {
  const auto zener = test::data("jcgm106_and_risk").at("zener");
  const double conforms = 1 - p_breach(measured(zener), zener.at("TU"));
  BOOST_TEST(conforms == zener.at("pc").get<double>(), tt::tolerance(1e-12));
  BOOST_TEST(std::abs(conforms - zener.at("printed").get<double>()) <= 0.005);
  BOOST_TEST(std::abs(conforms - 0.9192) <= 0.00005);
}

/// JCGM 106:2012, an oil's viscosity between two limits (inputs from memory; printed 0.66): the chance of
/// being between them is what the two tails leave.
BOOST_AUTO_TEST_CASE(two_sided_limits_of_jcgm_106) {
  const auto oil = test::data("jcgm106_and_risk").at("oil");
  const double below = p_breach(measured(oil), oil.at("TL"), true),
               above = p_breach(measured(oil), oil.at("TU"));
  BOOST_TEST(1 - below - above == oil.at("pc").get<double>(), tt::tolerance(1e-12));
  BOOST_TEST(std::abs(1 - below - above - oil.at("printed").get<double>()) <= 0.005);
  BOOST_TEST(std::abs(1 - below - above - 0.6626) <= 0.00005);
}

/// Standard normal table: a margin of z standard uncertainties is kept with probability p.
BOOST_AUTO_TEST_CASE(table_of_the_normal_distribution) {
  const auto table = test::data("jcgm106_and_risk").at("z_table");
  BOOST_REQUIRE_EQUAL(table.at("p").size(), 5u);
  for (std::size_t i = 0; i < table.at("p").size(); ++i) {
    const double z = table.at("z")[i], p = table.at("p")[i];
    BOOST_TEST(1 - p_breach({0, 1}, z) == p, tt::tolerance(1e-12));
    BOOST_TEST(1 - p_breach({0, 1}, -z, true) == p, tt::tolerance(1e-12));
  }
}

/// Second algorithm: Simpson's rule on the normal density.
BOOST_AUTO_TEST_CASE(probability_of_breach_by_quadrature) {
  for (const double margin : {-7.5, -3.0, -1.0, -0.25, 0.0, 0.125, 0.75, 2.0, 4.5, 11.0})
    for (const double u : {1.5, 2.0, 8.0}) {
      const double expected = test::normal_tail(margin / u);
      BOOST_TEST(std::abs(p_breach({100 - margin, u}, 100) - expected) < 1e-11);
      BOOST_TEST(std::abs(p_breach({100 + margin, u}, 100, true) - expected) < 1e-11);
    }
}

/// ILAC-G8:09/2019, table 1: the worst risk of a pass with a guard band of w, U = 2u.
BOOST_AUTO_TEST_CASE(worst_tails_of_ilac_g8) {
  const auto rows = test::data("jcgm106_and_risk").at("ilac_g8_table1").at("rows");
  BOOST_REQUIRE_EQUAL(rows.size(), 5u);
  for (const auto& row : rows) {
    const double u = 3, margin = row.at("w_over_U").get<double>() * 2 * u;
    BOOST_TEST(std::abs(p_breach({200 - margin, u}, 200) - row.at("tail").get<double>()) < 1e-12);
  }
  // With w = U, what the program uses, the stated bound is 2.5 %.
  BOOST_TEST(p_breach({194, 3}, 200) == 0.02275, tt::tolerance(1e-5));
}

/// ILAC-G8:09/2019, the four outcomes with a guard band of U: margin ≥ U, ≥ 0, ≥ −U, below. Rating 64,
/// u 2, so that U = 4 and every boundary is a number without rounding.
BOOST_AUTO_TEST_CASE(outcomes_at_the_boundaries) {
  struct Step {
    double value;
    Outcome maximum;
  };
  const std::array steps{
      Step{60, Outcome::pass},
      Step{just_below(60), Outcome::pass},
      Step{64, Outcome::conditional_pass},
      Step{just_above(60), Outcome::conditional_pass},
      Step{68, Outcome::conditional_fail},
      Step{just_above(64), Outcome::conditional_fail},
      Step{just_above(68), Outcome::fail},
      Step{1e6, Outcome::fail},
  };
  for (const Step& step : steps) {
    BOOST_TEST_CONTEXT("value " << step.value - 64 << " past the rating") {
      BOOST_TEST(to_text(decide({step.value, 2}, 64, false).outcome) == to_text(step.maximum));
    }
  }
  const std::array minima{
      Step{68, Outcome::pass},
      Step{just_above(68), Outcome::pass},
      Step{64, Outcome::conditional_pass},
      Step{just_below(68), Outcome::conditional_pass},
      Step{60, Outcome::conditional_fail},
      Step{just_below(64), Outcome::conditional_fail},
      Step{just_below(60), Outcome::fail},
      Step{0, Outcome::fail},
  };
  for (const Step& step : minima) {
    BOOST_TEST_CONTEXT("minimum, value " << step.value - 64 << " past the rating") {
      BOOST_TEST(to_text(decide({step.value, 2}, 64, true).outcome) == to_text(step.maximum));
    }
  }
}

/// A value without uncertainty either breaches or does not: at the rating it is within (hand reasoning).
BOOST_AUTO_TEST_CASE(no_uncertainty_leaves_no_doubt) {
  BOOST_TEST(to_text(decide({64, 0}, 64, false).outcome) == "pass");
  BOOST_TEST(p_breach({64, 0}, 64) == 0.0);
  BOOST_TEST(to_text(decide({just_above(64), 0}, 64, false).outcome) == "fail");
  BOOST_TEST(p_breach({just_above(64), 0}, 64) == 1.0);
}

BOOST_AUTO_TEST_SUITE_END()
