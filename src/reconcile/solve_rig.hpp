// A session solved: with everything, and from the weights alone. Internal to src/reconcile.
#pragma once

#include <memory>
#include <vector>

#include "reconcile/quantities.hpp"
#include "reconcile/rig_model.hpp"

namespace steelyard::reconcile {

struct SolvedRig {
  std::unique_ptr<Layout> layout;
  std::vector<Observation> observed;
  adjust::Observed given;  // their values and uncertainties, row by row
  adjust::Solution solution;
  int iterations = 0;  // of the attempt that converged
  bool lengths_held =
      false;  // D and j were kept near what they were supposed to be, for want of any other solution
  bool bounded = true;  // lengths and gains were kept as a rig and its scales can have them
};

/// Steps enough where a solution is near: what takes more is not the blunder or the reading looked for.
inline adjust::Options near_options() {
  adjust::Options options;
  options.most_steps = 12;
  options.most_tries = 6;
  return options;
}

/// The same rig with other values, uncertainties or rows set aside, solved from `start` (else from readings);
/// look at `converged`.
adjust::Solution solve_again(const SolvedRig& rig, const adjust::Observed& given,
                             const adjust::Vector& start);

/// Solves with the tape, or without it. Null where nothing converges, even with the overhang held.
/// `near`: a solution of the same session to start from.
std::unique_ptr<SolvedRig> solve_rig(const rig::Session& session, bool tape, const SolvedRig* near = nullptr);

/// A session arranged otherwise, solved in the way that served for `like` or not at all.
std::unique_ptr<SolvedRig> solve_alike(const rig::Session& session, const SolvedRig& like);

/// Both solutions and what follows from them.
struct WholeSolution {
  std::unique_ptr<SolvedRig> everything;
  std::unique_ptr<SolvedRig> weights_only;  // null where there was no tape or it did not converge
  DerivedSet derived;
};

/// Null where nothing converges.
std::unique_ptr<WholeSolution> solve_whole(const rig::Session& session);

}  // namespace steelyard::reconcile
