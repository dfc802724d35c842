// Choosing what to weigh. Internal to src/plan.
#pragma once

#include <functional>

#include "plan/outlook.hpp"

namespace steelyard::plan {

using Look = std::function<Outlook(const Selection&)>;

/// The u to come down to for each aim: what is wanted, or near what every position twice gives where that is
/// more; nothing where no u is wanted of it. Aims that even then are not determinable ask nothing.
struct Goals {
  std::vector<std::optional<double>> u;
  std::vector<bool> determinable;
};
Goals goals_of(const Aims& aims, const Outlook& twice);

[[nodiscard]] bool reaches(const Outlook& outlook, const Goals& goals);

/// Starts from every element once; adds second readings one at a time, each the one that most lowers the
/// worst u over its goal (rank-one updates), until the goals are reached; then leaves out what is not needed,
/// the largest saving first. Of what is left nothing can go without losing a goal.
Selection choose(const Candidates& candidates, const Goals& goals, const Look& look);

}  // namespace steelyard::plan
