// How well a hypothesis would fit in the linear problem near a solution. Internal to src/reconcile.
#pragma once

#include "reconcile/hypotheses.hpp"
#include "reconcile/solve_rig.hpp"

namespace steelyard::reconcile {

class Screen {
 public:
  Screen(const SolvedRig& solved, const adjust::Vector& near, const std::vector<Index>& aside);

  [[nodiscard]] bool usable() const { return at_.converged; }
  [[nodiscard]] Index degrees_of_freedom() const { return at_.degrees_of_freedom; }
  /// χ² as it would be under the hypothesis; nothing where it only touches rows set aside, and 0 for a state
  /// arranged otherwise: that changes the statics and has to be solved.
  [[nodiscard]] std::optional<double> chi_square(const Hypothesis& hypothesis) const;

 private:
  [[nodiscard]] double edited(const Hypothesis& hypothesis) const;
  [[nodiscard]] double disturbed(const Hypothesis& hypothesis) const;

  const SolvedRig& solved_;
  adjust::Solution at_;
  adjust::Vector residual_;   // in units of u; 0 where set aside
  adjust::Matrix cofactor_;   // of these residuals; 0 in rows and columns set aside
  std::vector<bool> aside_;
};

}  // namespace steelyard::reconcile
