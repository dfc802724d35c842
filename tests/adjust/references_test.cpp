// Φ, χ² and their quantiles against a second program: series and continued fractions in long double, written
// here from the formulas of M. Abramowitz, I. Stegun, Handbook of Mathematical Functions
// (1964), 26.2.10, 26.2.14, 6.5.29 and 6.5.31; and against entries of its tables 26.1 and 26.8 (from memory).
#include <array>
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <numbers>

#include "adjust/distributions.hpp"

namespace {

using namespace steelyard;
using Wide = long double;

Wide density(Wide x) {
  return std::exp(-x * x / 2) / std::sqrt(2 * std::numbers::pi_v<Wide>);
}

/// P(X > x) for x ≥ 0: 26.2.10's series below 3, 26.2.14's continued fraction from there.
Wide normal_upper(Wide x) {
  if (x < 3) {
    Wide term = x, sum = x;
    for (int n = 1; n < 200; ++n) {
      term *= -x * x / (2 * n);
      sum += term / (2 * n + 1);
    }
    return 0.5L - sum / std::sqrt(2 * std::numbers::pi_v<Wide>);
  }
  Wide fraction = x;
  for (int n = 200; n >= 1; --n) fraction = x + static_cast<Wide>(n) / fraction;
  return density(x) / fraction;
}

/// Q(χ²|ν) = Γ(a, x)/Γ(a), a = ν/2, x = χ²/2: 6.5.29's series where x < a + 1, else 6.5.31's continued
/// fraction.
Wide chi_square_upper(Wide chi_square, Wide freedom) {
  const Wide a = freedom / 2, x = chi_square / 2;
  const Wide front = std::exp(a * std::log(x) - x - std::lgamma(a));
  if (x < a + 1) {
    Wide term = 1 / a, sum = term;
    for (int n = 1; n < 2000; ++n) {
      term *= x / (a + n);
      sum += term;
    }
    return 1 - front * sum;
  }
  Wide fraction = 0;
  for (int n = 2000; n >= 1; --n) fraction = n * (n - a) / (x + 2 * n + 1 - a - fraction);
  return front / (x + 1 - a - fraction);
}

void relative(double found, Wide wanted, double tolerance) {
  const auto expected = static_cast<double>(wanted);
  BOOST_TEST(std::abs(found / expected - 1) <= tolerance, found << " is not " << expected);
}

}  // namespace

BOOST_AUTO_TEST_SUITE(references)

BOOST_AUTO_TEST_CASE(normal_by_series_and_continued_fraction) {
  for (double x = 0.125; x <= 12; x += 0.125) {
    relative(adjust::normal_cdf(-x), normal_upper(x), 1e-13);
    relative(adjust::normal_cdf(x), 1 - normal_upper(x), 1e-15);
  }
}

BOOST_AUTO_TEST_CASE(normal_table_26_1) {
  struct Row {
    double x, p;
  };
  constexpr std::array table{Row{0.5, 0.691462461274013}, Row{1, 0.841344746068543},
                             Row{1.5, 0.933192798731142}, Row{2, 0.977249868051821},
                             Row{3, 0.998650101968370}};
  for (const Row& row : table) BOOST_TEST(std::abs(adjust::normal_cdf(row.x) - row.p) < 1e-15);
}

// A quantile is where the second program's probability comes back.
BOOST_AUTO_TEST_CASE(quantiles_go_back) {
  for (const double tail : {1e-12, 1e-6, 0.0005, 0.0125, 0.025, 0.1, 0.3, 0.49}) {
    relative(static_cast<double>(normal_upper(-adjust::normal_quantile(tail))), tail, 1e-12);
    for (const double freedom : {1.0, 2.0, 3.0, 7.0, 30.0, 200.0}) {
      const double upper = adjust::chi_square_quantile(1 - tail, freedom);
      // 1 − tail itself is rounded to 1e-16.
      relative(static_cast<double>(chi_square_upper(upper, freedom)), tail, 1e-11 + 2e-16 / tail);
      const double lower = adjust::chi_square_quantile(tail, freedom);
      BOOST_TEST(std::abs(static_cast<double>(1 - chi_square_upper(lower, freedom)) / tail - 1) < 1e-6);
    }
  }
}

BOOST_AUTO_TEST_CASE(chi_square_by_series_and_continued_fraction) {
  for (const double freedom : {1.0, 2.0, 3.0, 5.0, 10.0, 31.0, 100.0, 400.0})
    for (const double part : {0.05, 0.3, 0.8, 1.0, 1.5, 2.5, 4.0})
      relative(adjust::chi_square_upper(part * freedom, freedom), chi_square_upper(part * freedom, freedom),
               1e-11);
}

BOOST_AUTO_TEST_CASE(chi_square_table_26_8) {
  struct Row {
    double freedom, upper, point, half_digit;
  };
  constexpr std::array table{Row{1, 0.05, 3.84146, 0.5e-5},  Row{2, 0.025, 7.37776, 0.5e-5},
                             Row{5, 0.995, 0.41174, 0.5e-5}, Row{10, 0.05, 18.3070, 0.5e-4},
                             Row{20, 0.01, 37.5662, 0.5e-4}, Row{30, 0.99, 14.9535, 0.5e-4}};
  for (const Row& row : table)
    BOOST_TEST(
        std::abs(adjust::chi_square_quantile(1 - row.upper, row.freedom) - row.point) <= row.half_digit,
        row.freedom << " at " << row.upper);
}

BOOST_AUTO_TEST_SUITE_END()
