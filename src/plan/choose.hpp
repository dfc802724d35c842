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
  /// Of each position of each element, whether its readings have to be checked as long as it is weighed;
  /// empty: none has to.
  std::vector<std::vector<bool>> checked = {};
};
Goals goals_of(const Aims& aims, const Outlook& twice);

/// The positions of each element whose readings others check with everything weighed once.
std::vector<std::vector<bool>> checked_by_others(const Candidates& candidates, const Outlook& once);

[[nodiscard]] bool reaches(const Outlook& outlook, const Goals& goals);
/// Whether each reading of the selection that has to be checked is, and no scale stands under a nose unread.
[[nodiscard]] bool checks(const Outlook& outlook, const Candidates& candidates, const Selection& selection,
                          const Goals& goals);

/// Starts from every element once; adds second readings one at a time, each the one that most lowers the
/// worst u over its goal (rank-one updates), until the goals are reached; then leaves out what is not needed,
/// the largest saving first. Of what is left nothing can go without losing a goal or a check.
/// Where readings have to be checked, a nose that stands on a scale of its own while its trailer is weighed
/// is read: that is no work.
Selection choose(const Candidates& candidates, const Goals& goals, const Look& look);

}  // namespace steelyard::plan
