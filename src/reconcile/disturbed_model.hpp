// A rig's problem with unknowns of a blunder besides: columns added to the fitted readings, and what is
// supposed of their sizes as further observations. Internal to src/reconcile.
//
// Rows: those of the rig, then one for each prior. Unknowns: those of the rig, then one for each column.
#pragma once

#include <vector>

#include "reconcile/hypotheses.hpp"
#include "reconcile/rig_model.hpp"

namespace steelyard::reconcile {

class DisturbedModel final : public adjust::Model {
 public:
  DisturbedModel(const RigModel& rig, const Hypothesis& blunder) : rig_(rig), blunder_(blunder) {}

  [[nodiscard]] Index observations() const override {
    return rig_.observations() + static_cast<Index>(blunder_.priors.size());
  }
  [[nodiscard]] Index unknowns() const override {
    return rig_.unknowns() + static_cast<Index>(blunder_.columns.size());
  }
  [[nodiscard]] Index constraints() const override { return rig_.constraints(); }

  void linearise(const adjust::Vector& z, adjust::Linearised& out) const override {
    const Index m = rig_.observations(), n = rig_.unknowns(), p = rig_.constraints();
    adjust::Linearised inner{adjust::Vector(m), adjust::Matrix::Zero(m, n), adjust::Vector(p),
                             adjust::Matrix::Zero(p, n)};
    rig_.linearise(z.head(n), inner);
    out.fitted.head(m) = inner.fitted;
    out.misclosure = inner.misclosure;
    out.design.topLeftCorner(m, n) = inner.design;
    out.constraint.leftCols(n) = inner.constraint;
    for (std::size_t c = 0; c < blunder_.columns.size(); ++c)
      for (const auto& [row, effect] : blunder_.columns[c].effect)
        out.design(row, n + static_cast<Index>(c)) = effect;
    for (std::size_t r = 0; r < blunder_.priors.size(); ++r)
      for (std::size_t c = 0; c < blunder_.columns.size(); ++c)
        out.design(m + static_cast<Index>(r), n + static_cast<Index>(c)) = blunder_.priors[r].weight[c];
    disturb(z, out.fitted);
  }

  void values(const adjust::Vector& z, adjust::Vector& fitted, adjust::Vector& misclosure) const override {
    adjust::Vector inner(rig_.observations());
    rig_.values(z.head(rig_.unknowns()), inner, misclosure);
    fitted.head(inner.size()) = inner;
    disturb(z, fitted);
  }

 private:
  void disturb(const adjust::Vector& z, adjust::Vector& fitted) const {
    const Index m = rig_.observations(), n = rig_.unknowns();
    for (std::size_t c = 0; c < blunder_.columns.size(); ++c)
      for (const auto& [row, effect] : blunder_.columns[c].effect)
        fitted[row] += effect * z[n + static_cast<Index>(c)];
    for (std::size_t r = 0; r < blunder_.priors.size(); ++r) {
      double sum = 0;
      for (std::size_t c = 0; c < blunder_.columns.size(); ++c)
        sum += blunder_.priors[r].weight[c] * z[n + static_cast<Index>(c)];
      fitted[m + static_cast<Index>(r)] = sum;
    }
  }

  const RigModel& rig_;
  const Hypothesis& blunder_;
};

}  // namespace steelyard::reconcile
