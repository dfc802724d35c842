// Figures for people: converted to the reader's units and rounded to their uncertainty.
//
// Units in: those of Findings (kg, mm, kg/mm, kg·mm, kN, 1). Units out: the reader's; kN and plain ratios
// stay. The conversions are exact by definition (units/quantity.hpp). U = 2u is shown to two significant
// figures and the value to the same decimals (JCGM 100, 7.2.6). Nothing here throws for finite figures.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "reconcile/findings.hpp"
#include "units/quantity.hpp"

namespace steelyard::reports {

/// The units that a report shows.
struct ShownUnits {
  units::LoadUnit load = units::LoadUnit::kilogram;
  units::LengthUnit length = units::LengthUnit::millimetre;
  bool operator==(const ShownUnits&) const = default;
};

/// True where a figure of the report equals the stored one, digit for digit.
inline bool as_stored(const ShownUnits& shown) {
  return shown == ShownUnits{};
}

double convert(double value, reconcile::Measure measure, const ShownUnits& shown);
/// kg, lb, mm, in, kg/mm, lb/in, kg·mm, lb·in, kN; empty for a plain ratio.
std::string unit_word(reconcile::Measure measure, const ShownUnits& shown);

/// Decimals of a converted figure with standard uncertainty `converted_u` above 0, and of a figure without
/// one.
int decimals_of(double converted_u, reconcile::Measure measure);
int bare_decimals(double converted, reconcile::Measure measure);

/// "1830 kg ± 10 kg"; without u, or with none (a D-value of ratings), "1850 kg".
std::string in_figures(double value, std::optional<double> u, reconcile::Measure measure,
                       const ShownUnits& shown);
/// A share: "8.6 % ± 0.2 %".
std::string in_percent(double value, std::optional<double> u);

/// A length or a load as somebody entered it: "1190 mm".
std::string as_entered(const units::Load& load);
std::string as_entered(const units::Length& length);

}  // namespace steelyard::reports
