#include "reconcile/search.hpp"

#include <algorithm>

#include "adjust/distributions.hpp"
#include "reconcile/trust.hpp"

namespace steelyard::reconcile {
namespace {

/// One reading in five may be off; beyond that the session is no better than its blunders.
std::size_t most_set_aside(const std::vector<Observation>& observations) {
  const auto readings =
      std::count_if(observations.begin(), observations.end(),
                    [](const Observation& o) { return o.kind == ObservationKind::reading; });
  return std::max<std::size_t>(1, static_cast<std::size_t>(readings) / 5);
}

bool still_rejected(const adjust::Solution& solution) {
  return solution.degrees_of_freedom > 0 &&
         adjust::chi_square_upper(solution.chi_square, static_cast<double>(solution.degrees_of_freedom)) <
             share_of_each_test;
}

}  // namespace

Searched search(const SolvedRig& solved, const std::vector<Observation>& judged) {
  Searched out;
  const std::size_t most = most_set_aside(judged);
  const adjust::Solution* at = &solved.solution;
  while (out.sets.size() < most) {
    SuspectSet set = suspects_of(judged, *at);
    if (set.members.empty()) break;
    out.likeliest.push_back(static_cast<Index>(set.members[set.likeliest].observation));
    out.sets.push_back(std::move(set));
    adjust::Observed given = solved.given;
    given.set_aside = out.likeliest;
    adjust::Solution next = solve_again(solved, given, at->unknowns);
    if (!next.converged) break;
    out.sound = std::move(next);
    out.solved = true;
    at = &out.sound;
    if (!still_rejected(out.sound)) break;
  }
  return out;
}

void leave_out_each(const SolvedRig& solved, const adjust::Vector& main_figure, double value,
                    SuspectSet& set) {
  for (SuspectMember& member : set.members) {
    const auto left = adjust::leave_out(solved.solution, solved.given, static_cast<Index>(member.observation),
                                        main_figure);
    if (left) member.main_figure_without = std::pair{value + left->change, left->u};
  }
}

}  // namespace steelyard::reconcile
