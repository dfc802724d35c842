#include "rig/scale_errors.hpp"

#include <array>

namespace steelyard::rig {

double largest_error_in_service(AccuracyClass of, double load, double division) {
  // Up to how many divisions the error is half a division, and up to how many it is one; beyond, one and a
  // half.
  constexpr std::array<std::array<double, 2>, 4> steps{
      {{50000, 200000}, {5000, 20000}, {500, 2000}, {50, 200}}};
  const auto& step = steps[static_cast<std::size_t>(of)];
  const double divisions = load / division;
  const double error = divisions <= step[0] ? 0.5 : divisions <= step[1] ? 1.0 : 1.5;
  return 2 * error * division;
}

double division_or_default(const Scale& scale) {
  return scale.division ? scale.division->kg().value() : default_division_kg;
}

double repeatability_or_default(const Scale& scale) {
  return scale.repeatability ? scale.repeatability->kg().value() : division_or_default(scale);
}

}  // namespace steelyard::rig
