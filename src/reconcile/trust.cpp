#include "reconcile/trust.hpp"

#include <algorithm>
#include <cmath>

#include "adjust/distributions.hpp"

namespace steelyard::reconcile {
namespace {

constexpr double power_quantile = 0.8416;     // four times in five

/// Two-sided, over all checked observations together (Bonferroni).
double critical_residual(int checked) {
  return adjust::normal_quantile(1 - share_of_each_test / 2 / checked);
}

}  // namespace

SuspectSet suspects_of(const std::vector<Observation>& observations, const adjust::Solution& solution) {
  const auto squared = [&](std::size_t i) {
    const auto row = static_cast<Index>(i);
    if (solution.redundancy[row] < least_redundancy) return -1.0;
    return solution.normalised_residual[row] * solution.normalised_residual[row];
  };
  const auto is_reading = [&](std::size_t i) { return observations[i].kind == ObservationKind::reading; };
  double largest = 0;
  for (std::size_t i = 0; i < observations.size(); ++i) largest = std::max(largest, squared(i));
  SuspectSet set;
  for (std::size_t i = 0; i < observations.size(); ++i) {
    const auto row = static_cast<Index>(i);
    if (squared(i) >= 0 && squared(i) >= largest - apart_in_chi_square)
      set.members.push_back({i, solution.residuals[row] / solution.redundancy[row]});
  }
  // Readings first, each part with the likeliest first.
  std::stable_sort(set.members.begin(), set.members.end(),
                   [&](const SuspectMember& a, const SuspectMember& b) {
                     if (is_reading(a.observation) != is_reading(b.observation))
                       return is_reading(a.observation);
                     return squared(a.observation) > squared(b.observation);
                   });
  // Of two that fit exactly as well, the reading, which stands first.
  constexpr double same = 1e-6;
  for (std::size_t i = 0; i < set.members.size(); ++i)
    if (squared(set.members[i].observation) > squared(set.members[set.likeliest].observation) + same)
      set.likeliest = i;
  return set;
}

void judge(const SolvedRig& solved, Findings& findings) {
  const adjust::Solution& solution = solved.solution;
  Fit& fit = findings.fit;
  fit.observations = static_cast<int>(solved.observed.size());
  fit.unknowns = static_cast<int>(solution.rank);
  fit.degrees_of_freedom = static_cast<int>(solution.degrees_of_freedom);
  fit.chi_square = solution.chi_square;
  fit.iterations = solved.iterations;
  fit.overhang_held = solved.layout->coupled && solved.layout->lever_kind == Lever::held;

  findings.observations = solved.observed;
  int checked = 0;
  for (std::size_t i = 0; i < findings.observations.size(); ++i) {
    Observation& o = findings.observations[i];
    const auto row = static_cast<Index>(i);
    o.fitted = solution.fitted[row];
    o.residual = solution.residuals[row];
    o.redundancy = solution.redundancy[row];
    if (o.redundancy >= least_redundancy) {
      o.normalised_residual = solution.normalised_residual[row];
      ++checked;
    }
  }
  if (fit.degrees_of_freedom < 1) {
    for (Observation& o : findings.observations) o.normalised_residual.reset();
    return;
  }
  const double critical = checked > 0 ? critical_residual(checked) : 0;
  bool outlying = false;
  for (Observation& o : findings.observations) {
    if (!o.normalised_residual) continue;
    o.smallest_detectable = (critical + power_quantile) * o.u / std::sqrt(o.redundancy);
    outlying = outlying || std::abs(*o.normalised_residual) > critical;
  }
  fit.p_value = adjust::chi_square_upper(fit.chi_square, fit.degrees_of_freedom);
  fit.consistent = *fit.p_value >= share_of_each_test && !outlying;
}

}  // namespace steelyard::reconcile
