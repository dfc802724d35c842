// The search for what is off: set the likeliest suspect aside, solve again, and look for the next while the
// global test fails (reconciliation model, section 7). No reading is ever altered. Internal to src/reconcile.
#pragma once

#include <vector>

#include "reconcile/findings.hpp"
#include "reconcile/solve_rig.hpp"

namespace steelyard::reconcile {

struct Searched {
  std::vector<SuspectSet> sets;
  std::vector<Index> likeliest;  // one row for each set
  adjust::Solution sound;        // with the likeliest of every set aside
  bool solved = false;           // there is such a solution
};

/// At most a fifth of the readings are set aside, at least one. `judged`: observations with their statistics.
Searched search(const SolvedRig& solved, const std::vector<Observation>& judged);

/// What coupling load (without a coupling, tow vehicle's total) every member of a set would leave, by itself
/// set aside, in closed form. `main_figure`: gradient of that figure; `value`: the figure with everything.
void leave_out_each(const SolvedRig& solved, const adjust::Vector& main_figure, double value,
                    SuspectSet& set);

}  // namespace steelyard::reconcile
