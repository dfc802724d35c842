// One session drawn again: its observations drawn, solved and turned into quantities, trial by trial.
//
// Internal to src/reconcile. Source: JCGM 101:2008, 5.9.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "adjust/redraw.hpp"
#include "adjust/sampling.hpp"
#include "reconcile/solve_rig.hpp"

namespace steelyard::reconcile {

/// One of the two problems of a session, ready for other observations.
class RedrawnRig {
 public:
  explicit RedrawnRig(const SolvedRig& solved);
  RedrawnRig(const RedrawnRig&) = delete;
  RedrawnRig& operator=(const RedrawnRig&) = delete;

  /// False where nothing converges; else unknowns() are those of `values`.
  bool solve(const adjust::Vector& values);
  [[nodiscard]] const adjust::Vector& unknowns() const { return unknowns_; }
  [[nodiscard]] const SolvedRig& solved() const { return solved_; }
  /// Whether what divides by the coupling load would be refused (model, section 5), with the u of that load
  /// as it is at the solution.
  [[nodiscard]] bool division_refused(bool taped) const;

 private:
  const SolvedRig& solved_;
  RigModel model_;
  adjust::Redraw redraw_;
  adjust::Vector unknowns_;
  double coupling_u_ = 0;
};

/// What one trial gives.
struct Trial {
  std::vector<double> values;          // of the quantities, in their order
  std::vector<bool> not_determinable;  // likewise
};

/// Draws trials of one session; one of these serves one thread. `whole` and the session outlive it.
class Trials {
 public:
  Trials(const rig::Session& session, const WholeSolution& whole);

  /// Nothing where the trial has no solution.
  std::optional<Trial> next(adjust::Deviates& deviates);

 private:
  /// How a quantity may come to be refused in a trial.
  enum class Refusal { never, main_division, weights_division, restoration };
  struct Rule {
    Refusal refusal = Refusal::never;
    std::size_t state = 0;  // of a restoration
    double loss_u = 0;      // of the front axle's loss there, at the solution
  };
  [[nodiscard]] Rule rule_of(const Quantity& quantity) const;
  [[nodiscard]] bool refused(const Rule& rule, bool main, bool weights) const;
  bool solve(adjust::Deviates& deviates);

  RedrawnRig main_;
  std::unique_ptr<RedrawnRig> weights_;  // where it is another problem
  bool taped_;
  std::vector<Rule> rules_;
};

}  // namespace steelyard::reconcile
