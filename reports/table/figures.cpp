#include "reports/table/figures.hpp"

#include <cmath>

#include "units/number.hpp"
#include "units/quantity.hpp"

namespace steelyard::reports {
namespace {

using reconcile::Measure;

/// Most decimals that a person wants of this, however small its uncertainty.
int most_decimals(Measure measure, bool percent) {
  if (percent) return 1;
  switch (measure) {
    case Measure::kilogram_millimetre:
      return 0;
    case Measure::one:
    case Measure::kilogram_per_millimetre:
      return 3;
    default:
      return 1;
  }
}

}  // namespace

double Figures::scale(Measure measure, bool percent) const {
  if (measure == Measure::one) return percent ? 100 : 1;
  return convert(1, measure, units_);
}

std::string Figures::unit(Measure measure, bool percent) const {
  if (measure == Measure::one) return percent ? "%" : "";
  return unit_word(measure, units_);
}

std::string Figures::alone(double value, std::optional<double> u, Measure measure, bool percent) const {
  const double factor = scale(measure, percent);
  return units::fixed(value * factor,
                      units::decimals_for(u.value_or(0) * factor, most_decimals(measure, percent)));
}

std::string Figures::with_u(double value, std::optional<double> u, Measure measure, bool percent) const {
  if (!u || !(*u > 0)) return alone(value, u, measure, percent);
  const double factor = scale(measure, percent);
  const int places = units::decimals_for(*u * factor, most_decimals(measure, percent));
  return units::fixed(value * factor, places) + " ± " + units::fixed(2 * *u * factor, places);
}

std::string Figures::whole(double value, Measure measure) const {
  return units::fixed(value * scale(measure, false), 0);
}

std::string Figures::rating(double value, Measure measure, bool percent) const {
  // A rating in pounds was stored in kilograms; three decimals bring back every figure a plate can carry.
  const double digits = converted_ && measure == Measure::kilogram ? 10 : 1000;
  const double shown = std::round(value * scale(measure, percent) * digits) / digits;
  return units::shortest(shown);
}

}  // namespace steelyard::reports
