// Derived quantities of a solved rig, each with its gradient (reconciliation model, section 6).
//
// Internal to src/reconcile. Units as in findings.hpp.
#pragma once

#include <vector>

#include "adjust/adjust.hpp"
#include "reconcile/findings.hpp"
#include "reconcile/layout.hpp"

namespace steelyard::reconcile {

/// Why a quantity is not determinable.
enum class Obstacle {
  none,
  free,              // the readings leave it free
  small_coupling,    // the coupling load is too near nothing to divide by
  far_overhang,      // no overhang fits: one reading is off
  held,              // the overhang had to be held for the solution to converge
  prior_only,        // the sensitivity to height is hardly better known than before weighing
  small_front_loss,  // the front axle's loss is too small to compare with
  not_solved,        // the solution without the tape did not converge
};

struct Derived {
  Quantity quantity;
  Obstacle obstacle = Obstacle::none;
  adjust::Vector gradient;  // of the solution that it comes from; empty where there was none to take
  bool weights_only = false;  // it comes from the solution without the tape
};

struct DerivedSet {
  std::vector<Derived> listed;      // the contract's, in its order
  std::vector<Derived> for_limits;  // what only limits compare with
};

/// `weights_only` is the solution without the tape with its layout; the same as the first where there was no
/// tape, null where it did not converge. `lengths_held`: what depends on D is not determinable.
DerivedSet derive(const Layout& layout, const std::vector<Observation>& observed,
                  const adjust::Solution& solution, bool lengths_held, const Layout& weights_only_layout,
                  const adjust::Solution* weights_only);

/// The values alone of everything in DerivedSet::listed, in its order, at other unknowns of the same layouts:
/// nothing is asked of covariances, so nothing is not determinable. `weights_only` as above.
std::vector<double> derive_values(const Layout& layout, const std::vector<Observation>& observed,
                                  const adjust::Vector& unknowns, const Layout& weights_only_layout,
                                  const adjust::Vector* weights_only);

}  // namespace steelyard::reconcile
