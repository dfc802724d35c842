// The rig as an adjustment problem: what is observed, what statics demands.
//
// Rows: the readings in the order of the sheet, then gains, wheelbase, overhang, coupling to axles, coupling
// to jockey, height sensitivity, coupling heights, levels, height of the centre of gravity. Source:
// reconciliation model, sections 3 and 4. Internal to src/reconcile.
#pragma once

#include <vector>

#include "adjust/adjust.hpp"
#include "reconcile/findings.hpp"
#include "reconcile/layout.hpp"

namespace steelyard::reconcile {

/// What is observed, with value and u; fitted and residual come with the solution. `tape`: whether a taped
/// overhang takes part.
std::vector<Observation> observe(const Layout& layout, bool tape);

struct Figure {
  double value = 0, u = 0;
};
/// What a reading of that load at the place, on the scales and with the packing of `reading` is as an
/// observation.
Figure as_observed(const rig::Session& session, const rig::Reading& reading, double load_kg);

/// First guesses: loads from readings, lengths as given, model section 2.
adjust::Vector first_guess(const Layout& layout);
/// A start that keeps to the statics and looks at no reading, for when these lead nowhere.
adjust::Vector usual_guess(const Layout& layout);

class RigModel final : public adjust::Model {
 public:
  /// `bounded`: lengths must stay as a rig can have them.
  RigModel(const Layout& layout, const std::vector<Observation>& observed, bool bounded = true);

  [[nodiscard]] Index observations() const override { return static_cast<Index>(observed_.size()); }
  [[nodiscard]] Index unknowns() const override { return layout_.count; }
  [[nodiscard]] Index constraints() const override { return constraint_count_; }
  void linearise(const adjust::Vector& z, adjust::Linearised& out) const override;
  void values(const adjust::Vector& z, adjust::Vector& fitted, adjust::Vector& misclosure) const override;

 private:
  [[nodiscard]] bool possible(const adjust::Vector& z) const;
  template <class Rows>
  void fit(const adjust::Vector& z, Rows& rows) const;
  template <class Rows>
  void close(const adjust::Vector& z, Rows& rows) const;

  const Layout& layout_;
  const std::vector<Observation>& observed_;
  std::vector<std::optional<Index>>
      direct_;  // unknown that an observation past the readings sees, if just one
  Index constraint_count_;
  bool bounded_;
};

}  // namespace steelyard::reconcile
