// Slips of the pen in one figure. Internal to the simulator.
#pragma once

#include <optional>

#include "simulator/random.hpp"

namespace steelyard::simulator {

// Each gives a different figure above 0 that does not begin with a needless 0, or nothing where there is
// none.
std::optional<double> swap_two_digits(double figure, Random& random);
std::optional<double> drop_a_digit(double figure, Random& random);
std::optional<double> double_a_digit(double figure, Random& random);

}  // namespace steelyard::simulator
