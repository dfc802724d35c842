#include "adjust/distributions.hpp"

#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <stdexcept>

namespace steelyard::adjust {
namespace {

void check_probability(double p) {
  if (!(p > 0 && p < 1)) throw std::domain_error("a probability must lie between 0 and 1");
}

}  // namespace

double normal_cdf(double x) {
  return boost::math::cdf(boost::math::normal(), x);
}

double normal_quantile(double p) {
  check_probability(p);
  return boost::math::quantile(boost::math::normal(), p);
}

double chi_square_upper(double chi_square, double freedom) {
  return boost::math::cdf(
      boost::math::complement(boost::math::chi_squared(freedom), std::max(chi_square, 0.0)));
}

double chi_square_quantile(double p, double freedom) {
  check_probability(p);
  return boost::math::quantile(boost::math::chi_squared(freedom), p);
}

std::optional<std::pair<double, double>> fieller(double a, double b, double va, double vb, double cab,
                                                 double z) {
  // Roots of (a − ρb)² = z²(va − 2ρ·cab + ρ²·vb).
  const double lead = b * b - z * z * vb;
  if (!(lead > 0)) return std::nullopt;
  const double half = a * b - z * z * cab;
  const double last = a * a - z * z * va;
  const double root = std::sqrt(std::max(half * half - lead * last, 0.0));
  return std::pair{(half - root) / lead, (half + root) / lead};
}

}  // namespace steelyard::adjust
