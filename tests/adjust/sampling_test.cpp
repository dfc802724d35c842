// Propagation of distributions: the examples of JCGM 101:2008, and the tally against sorted values.
#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <functional>
#include <numbers>
#include <numeric>
#include <stdexcept>
#include <vector>

#include "adjust/distributions.hpp"
#include "adjust/sampling.hpp"
#include "published.hpp"

namespace {

using namespace steelyard;
using adjust::Deviates;
using adjust::Tally;

/// Rectangular about 0 with that standard deviation.
double rectangular(Deviates& deviates, double deviation = 1) {
  return (2 * deviates.uniform() - 1) * deviation * std::numbers::sqrt3;
}
double between(Deviates& deviates, double low, double high) {
  return low + (high - low) * deviates.uniform();
}

constexpr int trials = 1'000'000;  // as JCGM 101 takes for its examples

Tally propagate(double centre, double width, const std::function<double(Deviates&)>& model) {
  Deviates deviates(101);
  Tally tally(centre, width);
  for (int i = 0; i < trials; ++i) tally.add(model(deviates));
  return tally;
}

void nearly(double found, double wanted, double tolerance) {
  BOOST_TEST(std::abs(found - wanted) <= tolerance, found << " is not " << wanted << " within " << tolerance);
}

// A sample's quantile at 2.5 % has the deviation √(0.025·0.975/10⁶)/f: of a normal one of u = 2, 0.0054; its
// mean 0.002, its deviation 0.0014. Tolerances below are four of these, and printed figures' last half digit
// besides.
void check_interval(std::pair<double, double> found, double end, double tolerance) {
  nearly(found.first, -end, tolerance);
  nearly(found.second, end, tolerance);
}

}  // namespace

BOOST_AUTO_TEST_SUITE(sampling)

// JCGM 101:2008, 9.2.2: four standard normal inputs added; it prints u = 2.0 and ±3.92.
BOOST_AUTO_TEST_CASE(additive_model_normal) {
  const test::Published data("jcgm101");
  const Tally found =
      propagate(0, 2, [](Deviates& d) { return d.normal() + d.normal() + d.normal() + d.normal(); });
  nearly(found.mean(), 0, 4 * 0.002);
  nearly(found.deviation(), data.number("/s9_2_2/u"), 4 * 0.0014);
  check_interval(found.symmetric(0.95), data.numbers("/s9_2_2/interval95")[1], 4 * 0.0054 + 0.005);
  check_interval(found.shortest(0.95), data.numbers("/s9_2_2/interval95")[1], 0.06);
}

// 9.2.3: the same with rectangular inputs; it prints ±3.88, the exact end is 2√3·(2 − (3/5)^¼).
BOOST_AUTO_TEST_CASE(additive_model_rectangular) {
  const test::Published data("jcgm101");
  const double exact = 2 * std::numbers::sqrt3 * (2 - std::pow(0.6, 0.25));
  nearly(exact, data.number("/s9_2_3/exact_endpoint"), 1e-13);
  nearly(exact, data.numbers("/s9_2_3/interval95")[1], 0.005);
  const Tally found = propagate(
      0, 2, [](Deviates& d) { return rectangular(d) + rectangular(d) + rectangular(d) + rectangular(d); });
  nearly(found.deviation(), 2, 4 * 0.0014);
  check_interval(found.symmetric(0.95), exact, 4 * 0.0054);
}

// 9.2.4: one of the four has ten times the deviation; the linear way says 10.1 and ±19.9, the trials ±17.0
// (printed figures from memory; 17.02 by integration).
BOOST_AUTO_TEST_CASE(additive_model_one_input_dominates) {
  const test::Published data("jcgm101");
  nearly(std::sqrt(103.0), data.number("/s9_2_4/GUF_u"), 1e-13);
  nearly(adjust::z95 * std::sqrt(103.0), data.number("/s9_2_4/GUF_95"), 1e-5);
  const Tally found = propagate(0, 10, [](Deviates& d) {
    return rectangular(d) + rectangular(d) + rectangular(d) + rectangular(d, 10);
  });
  nearly(found.deviation(), std::sqrt(103.0), 4 * 0.007);
  // Near the end the density is that of the wide input, 1/(20√3), so the quantile's deviation is 0.0054.
  check_interval(found.symmetric(0.95), data.number("/s9_2_4/MCM_95_recomputed"), 4 * 0.0054 + 0.005);
  check_interval(found.symmetric(0.95), data.number("/s9_2_4/MCM_95_printed_memory"), 4 * 0.0054 + 0.05);
}

// A fourth set, beside the document's three: normal inputs of which one has ten times the deviation; by hand
// u = √103, and normal still.
BOOST_AUTO_TEST_CASE(additive_model_normal_one_input_dominates) {
  const Tally found =
      propagate(0, 10, [](Deviates& d) { return d.normal() + d.normal() + d.normal() + 10 * d.normal(); });
  nearly(found.deviation(), std::sqrt(103.0), 4 * 0.0072);
  check_interval(found.symmetric(0.95), adjust::z95 * std::sqrt(103.0), 4 * 0.0272);
}

// 9.3: calibration of a mass of 100 g against a reference, in mg: where the first-order terms in the air's
// and the weights' densities vanish, only trials show them. Printed figures from memory; ends are 0.0015 off
// the exact ones.
BOOST_AUTO_TEST_CASE(mass_calibration) {
  const test::Published data("jcgm101");
  const Tally found = propagate(1.234, 0.0755, [](Deviates& d) {
    const double reference = 100000 + 0.05 * d.normal(), added = 1.234 + 0.02 * d.normal();
    const double air = between(d, 1.1, 1.3), weight = between(d, 7000, 9000), its = between(d, 7950, 8050);
    return (reference + added) * (1 + (air - 1.2) * (1 / weight - 1 / its)) - 100000;
  });
  nearly(found.mean(), data.number("/s9_3/exact_quadrature/y"), 4 * 0.0755e-3);
  nearly(found.mean(), data.number("/s9_3/printed_memory/MCM/y"), 4 * 0.0755e-3 + 0.5e-4);
  nearly(found.deviation(), data.number("/s9_3/exact_quadrature/u"), 4 * 0.06e-3);
  nearly(found.deviation(), data.number("/s9_3/printed_memory/MCM/u"), 4 * 0.06e-3 + 0.5e-4);
  const auto exact = data.numbers("/s9_3/exact_quadrature/ci95_symmetric");
  const auto ends = found.symmetric(0.95);
  nearly(ends.first, exact[0], 4 * 0.0002);
  nearly(ends.second, exact[1], 4 * 0.0002);
  const auto printed = data.numbers("/s9_3/printed_memory/MCM/ci_shortest");
  const auto shortest = found.shortest(0.95);
  nearly(shortest.first, printed[0], 0.0015 + 0.002);  // a shortest interval is flat in its place
  nearly(shortest.second, printed[1], 0.0015 + 0.002);
  // What the linear way says is too small (9.3.4): 0.0539.
  nearly(std::hypot(0.05, 0.02), data.number("/s9_3/printed_memory/GUF1/u"), 0.5e-4);
  BOOST_TEST(found.deviation() > 1.35 * std::hypot(0.05, 0.02));
}

// A second algorithm: values kept and sorted, JCGM 101:2008, 7.7.2. Skewed on purpose: eᶻ, from a place and a
// width that are badly chosen.
BOOST_AUTO_TEST_CASE(tally_against_sorted_values) {
  Deviates deviates(7);
  Tally tally(0, 1);
  std::vector<double> all(100000);
  for (double& value : all) tally.add(value = std::exp(deviates.normal()));
  std::sort(all.begin(), all.end());
  const auto n = static_cast<double>(all.size());
  const double mean = std::accumulate(all.begin(), all.end(), 0.0) / n;
  double squares = 0;
  for (const double value : all) squares += (value - mean) * (value - mean);
  nearly(tally.mean(), mean, 1e-12 * mean);
  nearly(tally.deviation(), std::sqrt(squares / (n - 1)), 1e-10);
  BOOST_TEST(tally.count() == 100000);
  const auto ends = tally.symmetric(0.95);
  nearly(ends.first, all[2500], 1e-3);  // a bin is 0.0012 wide there, 0.0065 at 7
  nearly(ends.second, all[97500], 7e-3);
  std::size_t shortest = 0;
  for (std::size_t i = 0; i + 95000 < all.size(); ++i)
    if (all[i + 95000] - all[i] < all[shortest + 95000] - all[shortest]) shortest = i;
  const auto least = tally.shortest(0.95);
  nearly(least.second - least.first, all[shortest + 95000] - all[shortest], 5e-3);
}

BOOST_AUTO_TEST_CASE(streams_of_one_seed_are_apart_and_repeatable) {
  Deviates one(5, 0), again(5, 0), other(5, 1), far(std::uint64_t{5} << 32, 0);
  double product = 0;
  for (int i = 0; i < 1000; ++i) {
    const double value = one.normal(), beside = other.normal();
    BOOST_TEST_REQUIRE(value == again.normal());
    BOOST_TEST_REQUIRE(value != beside);
    BOOST_TEST_REQUIRE(value != far.normal());
    product += value * beside;
  }
  nearly(product / 1000, 0, 4 / std::sqrt(1000.0));
}

// Φ's share of draws on each side of −2 … 2, within four deviations of a share.
BOOST_AUTO_TEST_CASE(deviates_are_normal) {
  Deviates deviates(3);
  constexpr int draws = 200000;
  int below[5] = {};
  for (int i = 0; i < draws; ++i) {
    const double value = deviates.normal();
    for (int k = 0; k < 5; ++k) below[k] += value < k - 2;
  }
  for (int k = 0; k < 5; ++k) {
    const double share = std::erfc(-(k - 2) / std::numbers::sqrt2) / 2;
    nearly(static_cast<double>(below[k]) / draws, share, 4 * std::sqrt(share * (1 - share) / draws));
  }
}

BOOST_AUTO_TEST_CASE(tally_refuses) {
  BOOST_CHECK_THROW(Tally(0, 0), std::invalid_argument);
  BOOST_CHECK_THROW(Tally(NAN, 1), std::invalid_argument);
  Tally tally(0, 1);
  BOOST_CHECK_THROW((void)tally.mean(), std::invalid_argument);
  BOOST_CHECK_THROW(tally.add(INFINITY), std::invalid_argument);
  tally.add(1);
  BOOST_CHECK_THROW((void)tally.deviation(), std::invalid_argument);
  BOOST_CHECK_THROW((void)tally.symmetric(0.95), std::invalid_argument);
  BOOST_CHECK_THROW((void)tally.shortest(0.95), std::invalid_argument);
}

BOOST_AUTO_TEST_SUITE_END()
