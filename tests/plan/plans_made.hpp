// The plans that the tests look at, and weighings to them by moments and forces of our own, free of noise.
// Loads in kg as the plans suppose them.
#pragma once

#include <vector>

#include "plan/plan.hpp"
#include "rig/session.hpp"

namespace steelyard::test {

struct Made {
  rig::Session sheet;
  plan::Plan plan;
};
/// Plans are made once for all tests: with the usual wishes, with hard ones and with easy ones, some of them
/// for the least work.
const std::vector<Made>& plans();

/// The sheet weighed to the steps of a plan, without those of `but` (a set of step numbers).
rig::Session weighed(const rig::Session& sheet, const plan::Plan& plan,
                     const std::vector<std::size_t>& but = {});

}  // namespace steelyard::test
