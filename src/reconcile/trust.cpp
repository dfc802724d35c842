#include "reconcile/trust.hpp"

#include <algorithm>
#include <cmath>

#include "adjust/distributions.hpp"

namespace steelyard::reconcile {
namespace {

constexpr double least_redundancy = 0.01;     // below it nothing checks the observation
constexpr double share_of_each_test = 0.025;  // two tests, 5 % between them
constexpr double power_quantile = 0.8416;     // four times in five
constexpr double apart_in_chi_square = 3.84;  // closer than this, two observations cannot be told apart

/// Two-sided, over all checked observations together (Bonferroni).
double critical_residual(int checked) {
  return adjust::normal_quantile(1 - share_of_each_test / 2 / checked);
}

SuspectSet suspects_of(const std::vector<Observation>& observations) {
  double largest = 0;
  for (const Observation& o : observations)
    if (o.normalised_residual) largest = std::max(largest, *o.normalised_residual * *o.normalised_residual);
  SuspectSet set;
  for (std::size_t i = 0; i < observations.size(); ++i) {
    const Observation& o = observations[i];
    if (!o.normalised_residual) continue;
    if (*o.normalised_residual * *o.normalised_residual >= largest - apart_in_chi_square)
      set.members.push_back({i, o.residual / o.redundancy});
  }
  // Readings first, each part with the likeliest first.
  std::stable_sort(
      set.members.begin(), set.members.end(), [&](const SuspectMember& a, const SuspectMember& b) {
        const Observation &x = observations[a.observation], &y = observations[b.observation];
        const bool xr = x.kind == ObservationKind::reading, yr = y.kind == ObservationKind::reading;
        if (xr != yr) return xr;
        return std::abs(*x.normalised_residual) > std::abs(*y.normalised_residual);
      });
  return set;
}

}  // namespace

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
  if (!*fit.consistent && checked > 0) findings.suspects.push_back(suspects_of(findings.observations));
}

}  // namespace steelyard::reconcile
