// Figures for people: in the reader's units and rounded to their uncertainty.
//
// Takes values as Findings and Assessment hold them (kg, mm, kg·mm, kg/mm, kN, 1) with a standard uncertainty
// u; shows U = 2u beside them. Loads in kg or lb, lengths in mm or in, moments in kg·mm or lb·in, as the
// reader is shown them; ratios as a percentage where they are a share of something.
#pragma once

#include <optional>
#include <string>

#include "reconcile/findings.hpp"
#include "reports/words/figures.hpp"

namespace steelyard::reports {

class Figures {
 public:
  /// `converted`: into other units than the sheet's.
  explicit Figures(const ShownUnits& units, bool converted = false) : units_(units), converted_(converted) {}

  /// "1829.6 ± 5.2"; without a u (absent or 0) the value alone. No unit.
  [[nodiscard]] std::string with_u(double value, std::optional<double> u, reconcile::Measure measure,
                                   bool percent = false) const;
  /// The value alone, with the decimals that `u` deserves.
  [[nodiscard]] std::string alone(double value, std::optional<double> u, reconcile::Measure measure,
                                  bool percent = false) const;
  /// "about 63": no decimals, for what is only an estimate.
  [[nodiscard]] std::string whole(double value, reconcile::Measure measure) const;
  /// The figure of a rating: as it was entered as near as it can be told, no uncertainty; converted, to one
  /// decimal.
  [[nodiscard]] std::string rating(double value, reconcile::Measure measure, bool percent = false) const;

  /// kg, lb, mm, in, lb·in, …; "%" with percent, nothing for a plain ratio.
  [[nodiscard]] std::string unit(reconcile::Measure measure, bool percent = false) const;

 private:
  [[nodiscard]] double scale(reconcile::Measure measure, bool percent) const;
  ShownUnits units_;
  bool converted_;
};

}  // namespace steelyard::reports
