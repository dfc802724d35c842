#include "audit/wilson.hpp"

#include <algorithm>
#include <cmath>

namespace steelyard::audit {

std::pair<double, double> wilson(std::size_t hits, std::size_t trials, double z) {
  if (trials == 0) return {0, 1};
  const auto n = static_cast<double>(trials);
  const double p = static_cast<double>(hits) / n, zz = z * z;
  const double middle = (p + zz / (2 * n)) / (1 + zz / n);
  const double half = z * std::sqrt(p * (1 - p) / n + zz / (4 * n * n)) / (1 + zz / n);
  // At none and at all one end is exact, and rounding must not carry it past.
  return {hits == 0 ? 0.0 : std::max(0.0, middle - half), hits == trials ? 1.0 : std::min(1.0, middle + half)};
}

}  // namespace steelyard::audit
