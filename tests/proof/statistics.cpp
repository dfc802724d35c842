#include "proof/statistics.hpp"

#include <algorithm>
#include <array>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/special_functions/beta.hpp>
#include <cmath>

namespace steelyard::proof {

double Count::standard_error(double expected) const {
  return of == 0 ? 0 : std::sqrt(expected * (1 - expected) / of);
}

double Count::deviation(double expected) const {
  return of == 0 ? 0 : (share() - expected) / standard_error(expected);
}

namespace {

constexpr int enough_for_normal = 1000;

double allowed_tail() {
  return boost::math::cdf(boost::math::complement(boost::math::normal(), standard_errors));
}

}  // namespace

// The binomial's tails by the incomplete beta function (NIST Digital Library, 8.17.5).
bool at_least(const Count& count, double claimed) {
  if (count.of >= enough_for_normal) return count.deviation(claimed) >= -standard_errors;
  if (count.of == 0) return false;
  if (count.hits == count.of) return true;
  return boost::math::ibetac(count.hits + 1.0, static_cast<double>(count.of - count.hits), claimed) >=
         allowed_tail();
}

bool at_most(const Count& count, double claimed) {
  if (count.of >= enough_for_normal) return count.deviation(claimed) <= standard_errors;
  if (count.of == 0) return false;
  if (count.hits == 0) return true;
  return boost::math::ibeta(static_cast<double>(count.hits), count.of - count.hits + 1.0, claimed) >=
         allowed_tail();
}

bool near(const Count& count, double claimed) {
  return at_least(count, claimed) && at_most(count, claimed);
}

Evenness evenness(std::vector<double> values) {
  constexpr std::size_t bins = 10;
  constexpr double significance = 0.01;
  Evenness out;
  out.of = static_cast<int>(values.size());
  if (values.empty()) return out;
  std::sort(values.begin(), values.end());
  const auto n = static_cast<double>(values.size());
  std::array<double, bins> in{};
  for (std::size_t i = 0; i < values.size(); ++i) {
    in[std::min(bins - 1, static_cast<std::size_t>(values[i] * bins))] += 1;
    const double before = static_cast<double>(i) / n, after = static_cast<double>(i + 1) / n;
    out.kolmogorov = std::max({out.kolmogorov, values[i] - before, after - values[i]});
  }
  for (const double found : in) out.chi_square += (found - n / bins) * (found - n / bins) / (n / bins);
  using boost::math::complement;
  out.chi_square_critical = quantile(complement(boost::math::chi_squared(bins - 1), significance));
  const double root = std::sqrt(n);
  out.kolmogorov_critical = 1.628 / (root + 0.12 + 0.11 / root);
  return out;
}

}  // namespace steelyard::proof
