// Fieller's interval against Monte Carlo: what it covers, where trials put its ends, where it has none.
#include <array>
#include <boost/test/unit_test.hpp>
#include <cmath>

#include "adjust/distributions.hpp"
#include "adjust/sampling.hpp"

namespace {

using namespace steelyard;

/// A ratio of two jointly normal values.
struct Ratio {
  double a, b, ua, ub, r;
  [[nodiscard]] double covariance() const { return r * ua * ub; }
  [[nodiscard]] std::pair<double, double> draw(adjust::Deviates& deviates) const {
    const double first = deviates.normal(), second = deviates.normal();
    return {a + ua * first, b + ub * (r * first + std::sqrt(1 - r * r) * second)};
  }
};

// From nearly symmetric to skewed: the denominator stands 40, 8, 5 and 4 deviations from nothing; one is
// negative, one numerator is nothing.
constexpr std::array ratios{Ratio{30, 40, 3, 1, 0},     Ratio{30, 16, 3, 2, 0.5}, Ratio{200, 10, 5, 2, -0.8},
                            Ratio{150, -12, 4, 3, 0.3}, Ratio{0, 15, 4, 3, 0.6},  Ratio{1000, 20, 1, 4, 0.9}};

}  // namespace

BOOST_AUTO_TEST_SUITE(fieller)

// Whatever the truth, 95 of 100 intervals hold it; unbounded ones hold it where the inequality does.
BOOST_AUTO_TEST_CASE(covers_the_truth_in_95_of_100) {
  constexpr int draws = 40000;
  const double error = std::sqrt(0.95 * 0.05 / draws);
  for (const Ratio& ratio : ratios) {
    adjust::Deviates deviates(1954);
    int covered = 0, linear = 0;
    const double truth = ratio.a / ratio.b;
    for (int i = 0; i < draws; ++i) {
      const auto [a, b] = ratio.draw(deviates);
      const double va = ratio.ua * ratio.ua, vb = ratio.ub * ratio.ub, cab = ratio.covariance();
      const double of_difference = va - 2 * truth * cab + truth * truth * vb;
      const auto found = adjust::fieller(a, b, va, vb, cab);
      const bool holds = std::pow(a - truth * b, 2) <= std::pow(adjust::z95, 2) * of_difference;
      if (found) BOOST_TEST_REQUIRE(holds == (found->first <= truth && truth <= found->second));
      covered += holds;
      const double q = a / b, u = std::sqrt(va - 2 * q * cab + q * q * vb) / std::abs(b);
      linear += std::abs(q - truth) <= adjust::z95 * u;
    }
    BOOST_TEST_CONTEXT("a " << ratio.a << ", b " << ratio.b) {
      const double share = static_cast<double>(covered) / draws;
      BOOST_TEST(std::abs(share - 0.95) <= 3 * error, share);
      BOOST_TEST(static_cast<double>(linear) / draws < 0.98);
    }
  }
}

// Trials about the observed pair have 2.5 % on either side of the interval's ends, where the denominator
// never changes its sign: P(a/b < ρ) = P(a − ρb < 0) = Φ(∓1.96). Within four deviations of a quantile from
// 10⁶ trials.
BOOST_AUTO_TEST_CASE(ends_are_those_of_the_trials) {
  constexpr int trials = 1'000'000;
  for (const Ratio& ratio : ratios) {
    if (std::abs(ratio.b) < 5 * ratio.ub) continue;
    const auto found =
        adjust::fieller(ratio.a, ratio.b, ratio.ua * ratio.ua, ratio.ub * ratio.ub, ratio.covariance());
    BOOST_TEST_REQUIRE(found.has_value());
    const double width = (found->second - found->first) / 4;
    adjust::Deviates deviates(2008);
    adjust::Tally tally(ratio.a / ratio.b, width);
    for (int i = 0; i < trials; ++i) {
      const auto [a, b] = ratio.draw(deviates);
      tally.add(a / b);
    }
    const auto ends = tally.symmetric(0.95);
    // √(0.025·0.975/10⁶)/φ(1.96) = 0.0027 u; the longer tail of these is up to twice as thin.
    BOOST_TEST(std::abs(ends.first - found->first) < 4 * 2 * 0.0027 * width,
               ends.first << " " << found->first);
    BOOST_TEST(std::abs(ends.second - found->second) < 4 * 2 * 0.0027 * width,
               ends.second << " " << found->second);
  }
}

// A denominator that is not further than 1.96 deviations from nothing has no bounded interval, and only then.
BOOST_AUTO_TEST_CASE(unbounded_where_the_denominator_is_not_significant) {
  for (const double distance : {-1.95, -1.0, 0.0, 0.5, 1.95}) {
    BOOST_TEST(!adjust::fieller(30, 2 * distance, 9, 4, 0, adjust::z95));
    BOOST_TEST(!adjust::fieller(0, 2 * distance, 9, 4, 3, adjust::z95));
  }
  for (const double distance : {-1.97, 1.97, 3.0}) {
    const auto found = adjust::fieller(30, 2 * distance, 9, 4, 0, adjust::z95);
    BOOST_TEST_REQUIRE(found.has_value());
    BOOST_TEST((found->first <= 15 / distance && 15 / distance <= found->second));
  }
}

BOOST_AUTO_TEST_SUITE_END()
