// The distributions against tables and closed forms; Fieller's interval by hand and by simulation.
#include <array>
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>
#include <stdexcept>

#include "adjust/distributions.hpp"
#include "published.hpp"

namespace {

using namespace steelyard;

void near(double found, double wanted, double tolerance) {
  BOOST_TEST(std::abs(found - wanted) <= tolerance, found << " is not " << wanted << " within " << tolerance);
}

/// Two independent standard normal deviates, Box and Muller's way.
std::array<double, 2> deviates(std::mt19937_64& generator) {
  const double first = (static_cast<double>(generator() >> 11) + 1) * 0x1p-53;
  const double second = static_cast<double>(generator() >> 11) * 0x1p-53;
  const double length = std::sqrt(-2 * std::log(first)), angle = 2 * std::numbers::pi * second;
  return {length * std::cos(angle), length * std::sin(angle)};
}

}  // namespace

BOOST_AUTO_TEST_SUITE(distributions)

BOOST_AUTO_TEST_CASE(normal_quantiles_of_the_table) {
  const test::Published data("jcgm106_and_risk");
  const auto p = data.numbers("/z_table/p"), z = data.numbers("/z_table/z");
  BOOST_TEST_REQUIRE(p.size() == z.size());
  for (std::size_t i = 0; i < p.size(); ++i) {
    near(adjust::normal_quantile(p[i]), z[i], 1e-13);
    near(adjust::normal_quantile(1 - p[i]), -z[i], 1e-12);
    near(adjust::normal_cdf(z[i]), p[i], 1e-14);
  }
  near(adjust::normal_quantile(0.975), adjust::z95, 0.5e-6);  // the constant as the model prints it
}

// Φ and the error function of the standard library are two programs for one function.
BOOST_AUTO_TEST_CASE(normal_probabilities) {
  for (double x = -8; x <= 8; x += 0.25) {
    const double wanted = std::erfc(-x / std::numbers::sqrt2) / 2;
    near(adjust::normal_cdf(x) / wanted, 1, 1e-12);
  }
  const test::Published data("jcgm106_and_risk");
  near(adjust::normal_cdf(1.4), data.number("/zener/pc"), 1e-13);  // JCGM 106:2012, prints Φ(1.40) as 0.919
}

// Upper points of χ² as every printed table has them, three decimals (for one, NIST/SEMATECH e-Handbook of
// Statistical Methods, 1.3.6.7.4; typed from memory, recomputed).
BOOST_AUTO_TEST_CASE(chi_square_table) {
  struct Row {
    double freedom, at_95, at_975, at_99;
  };
  constexpr std::array table{Row{1, 3.841, 5.024, 6.635},     Row{2, 5.991, 7.378, 9.210},
                             Row{3, 7.815, 9.348, 11.345},    Row{4, 9.488, 11.143, 13.277},
                             Row{5, 11.070, 12.833, 15.086},  Row{10, 18.307, 20.483, 23.209},
                             Row{30, 43.773, 46.979, 50.892}, Row{100, 124.342, 129.561, 135.807}};
  for (const Row& row : table) {
    near(adjust::chi_square_quantile(0.95, row.freedom), row.at_95, 0.5e-3);
    near(adjust::chi_square_quantile(0.975, row.freedom), row.at_975, 0.5e-3);
    near(adjust::chi_square_quantile(0.99, row.freedom), row.at_99, 0.5e-3);
    near(adjust::chi_square_upper(row.at_95, row.freedom), 0.05, 2e-5);
  }
}

// With 2 and 4 degrees of freedom the upper tail is e^(−x/2) and e^(−x/2)·(1 + x/2); with 1 it is Φ's two
// tails.
BOOST_AUTO_TEST_CASE(chi_square_closed_forms) {
  for (const double x : {0.01, 0.5, 1.0, 5.0, 20.0, 80.0}) {
    near(adjust::chi_square_upper(x, 2) / std::exp(-x / 2), 1, 1e-12);
    near(adjust::chi_square_upper(x, 4) / (std::exp(-x / 2) * (1 + x / 2)), 1, 1e-12);
    near(adjust::chi_square_upper(x, 1) / std::erfc(std::sqrt(x / 2)), 1, 1e-11);
    if (x < 40) near(adjust::chi_square_quantile(1 - std::exp(-x / 2), 2) / x, 1, 1e-8);
  }
  near(adjust::chi_square_upper(0, 5), 1, 0);
}

BOOST_AUTO_TEST_CASE(outside_their_ranges) {
  for (const double p : {-0.1, 1.1, std::numeric_limits<double>::quiet_NaN()}) {
    BOOST_TEST_CONTEXT("p = " << p) {
      BOOST_CHECK_THROW(adjust::normal_quantile(p), std::domain_error);
      BOOST_CHECK_THROW(adjust::chi_square_quantile(p, 3), std::domain_error);
    }
  }
  BOOST_CHECK_THROW(adjust::chi_square_upper(1, 0), std::domain_error);
  BOOST_CHECK_THROW(adjust::chi_square_quantile(0.5, -1), std::domain_error);
}

// Waits for src/adjust: the header promises std::domain_error at 0 and 1 too.
BOOST_AUTO_TEST_CASE(at_the_ends_of_their_ranges) {
  for (const double p : {0.0, 1.0}) {
    BOOST_CHECK_THROW(adjust::normal_quantile(p), std::domain_error);
    BOOST_CHECK_THROW(adjust::chi_square_quantile(p, 3), std::domain_error);
  }
}

// By hand: with equal variances and no covariance a/b is the slope of a point in the plane, and the interval
// is that of the tangents to a circle about it. Point (4, 3), radius 3: angles asin 0.6 ± asin 0.6, slopes 0
// and tan(2·asin 0.6) = 2·¾/(1 − 9/16) = 24/7.
BOOST_AUTO_TEST_CASE(fieller_by_hand) {
  const auto found = adjust::fieller(3, 4, 9, 9, 0, 1);
  BOOST_TEST_REQUIRE(found.has_value());
  near(found->first, 0, 1e-15);
  near(found->second, 24.0 / 7, 1e-14);
  // Half the deviation and twice z are the same circle.
  const auto wider = adjust::fieller(3, 4, 2.25, 2.25, 0, 2);
  near(wider->first, 0, 1e-15);
  near(wider->second, 24.0 / 7, 1e-14);
  const auto turned = adjust::fieller(3, -4, 9, 9, 0, 1);
  near(turned->first, -24.0 / 7, 1e-14);
  near(turned->second, 0, 1e-15);
  // (a + 2b)/b = a/b + 2, with variance va + 4·vb and covariance 2·vb.
  const auto shifted = adjust::fieller(3 + 8, 4, 9 + 36, 9, 18, 1);
  near(shifted->first, 2, 1e-14);
  near(shifted->second, 2 + 24.0 / 7, 1e-14);
}

// A well-known denominator: the interval is a/b ± z·u(a)/b.
BOOST_AUTO_TEST_CASE(fieller_of_an_exact_denominator) {
  const auto found = adjust::fieller(10, 4, 0.25, 0, 0, adjust::z95);
  near(found->first, (10 - adjust::z95 * 0.5) / 4, 1e-14);
  near(found->second, (10 + adjust::z95 * 0.5) / 4, 1e-14);
}

// A denominator no further than z deviations from nothing: the circle holds the vertical, the interval has no
// end.
BOOST_AUTO_TEST_CASE(fieller_unbounded) {
  BOOST_TEST(!adjust::fieller(3, 2, 9, 9, 0, 1));
  BOOST_TEST(!adjust::fieller(3, 3, 9, 9, 0, 1));
  BOOST_TEST(!adjust::fieller(3, 0, 9, 9, 0, 1));
  BOOST_TEST(!adjust::fieller(3, -2, 9, 9, 0, 1));
  BOOST_TEST(adjust::fieller(3, 3.01, 9, 9, 0, 1).has_value());
}

// Monte Carlo: whatever the truth, 95 of 100 intervals hold it; here within three standard errors, at a
// denominator five deviations from nothing, where ±1.96 times the linear u would do worse on each side.
BOOST_AUTO_TEST_CASE(fieller_covers_the_truth) {
  std::mt19937_64 generator(1954);
  const double a = 30, b = 10, ua = 3, ub = 2, r = 0.5;
  constexpr int draws = 40000;
  int covered = 0, below = 0;
  for (int i = 0; i < draws; ++i) {
    const auto [first, second] = deviates(generator);
    const double ya = a + ua * first, yb = b + ub * (r * first + std::sqrt(1 - r * r) * second);
    const auto found = adjust::fieller(ya, yb, ua * ua, ub * ub, r * ua * ub);
    if (!found) {  // unbounded intervals hold nearly everything; they come one time in a thousand here
      ++covered;
      continue;
    }
    covered += found->first <= a / b && a / b <= found->second;
    below += a / b < found->first;
  }
  const double error = std::sqrt(0.95 * 0.05 / draws);
  near(static_cast<double>(covered) / draws, 0.95, 3 * error);
  near(static_cast<double>(below) / draws, 0.025, 3 * std::sqrt(0.025 * 0.975 / draws));
}

BOOST_AUTO_TEST_SUITE_END()
