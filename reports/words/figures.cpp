#include "reports/words/figures.hpp"

#include <algorithm>
#include <cmath>

#include "units/number.hpp"

namespace steelyard::reports {
namespace {

using reconcile::Measure;

double load_factor(const ShownUnits& shown) {
  return shown.load == units::LoadUnit::pound ? 1 / units::kilograms_per_pound : 1;
}

double length_factor(const ShownUnits& shown) {
  return shown.length == units::LengthUnit::inch ? 1 / units::millimetres_per_inch : 1;
}

std::string with_unit(const std::string& figure, const std::string& unit) {
  return unit.empty() ? figure : figure + ' ' + unit;
}

// A typographic minus: the hyphen is too short to be seen beside a figure.
std::string signed_figure(double value, int decimals) {
  std::string text = units::fixed(value, decimals);
  if (text.starts_with('-')) text.replace(0, 1, "−");
  return text;
}

}  // namespace

double convert(double value, Measure measure, const ShownUnits& shown) {
  if (as_stored(shown)) return value;
  switch (measure) {
    case Measure::kilogram:
      // Not value × (1 / 0.45359237): the sheet's own figure in pounds must come back as it was entered.
      return shown.load == units::LoadUnit::pound ? units::to_pounds(units::Kilograms(value)).value() : value;
    case Measure::millimetre:
      return shown.length == units::LengthUnit::inch ? units::to_inches(units::Millimetres(value)).value()
                                                     : value;
    case Measure::kilogram_per_millimetre:
      return value * load_factor(shown) / length_factor(shown);
    case Measure::kilogram_millimetre:
      return value * load_factor(shown) * length_factor(shown);
    case Measure::one:
    case Measure::kilonewton:
      break;
  }
  return value;
}

std::string unit_word(Measure measure, const ShownUnits& shown) {
  const std::string load(units::symbol(shown.load)), length(units::symbol(shown.length));
  switch (measure) {
    case Measure::kilogram:
      return load;
    case Measure::millimetre:
      return length;
    case Measure::kilogram_per_millimetre:
      return load + "/" + length;
    case Measure::kilogram_millimetre:
      return load + "·" + length;
    case Measure::kilonewton:
      return "kN";
    case Measure::one:
      break;
  }
  return {};
}

int decimals_of(double converted_u, Measure measure) {
  const int most = measure == Measure::one ? 5 : 4;
  return units::decimals_for(converted_u, most);
}

int bare_decimals(double converted, Measure measure) {
  if (measure == Measure::one) return 3;
  if (std::abs(converted - std::round(converted)) < 1e-6 * std::max(1.0, std::abs(converted))) return 0;
  return measure == Measure::kilonewton ? 2 : 1;
}

std::string in_figures(double value, std::optional<double> u, Measure measure, const ShownUnits& shown) {
  const double figure = convert(value, measure, shown);
  const std::string unit = unit_word(measure, shown);
  if (!u || *u <= 0) return with_unit(signed_figure(figure, bare_decimals(figure, measure)), unit);
  const double own_u = convert(*u, measure, shown);
  const int decimals = decimals_of(own_u, measure);
  return with_unit(signed_figure(figure, decimals), unit) + " ± " +
         with_unit(units::fixed(2 * own_u, decimals), unit);
}

std::string in_percent(double value, std::optional<double> u) {
  const double percent = 100 * value;
  if (!u || *u <= 0) return signed_figure(percent, bare_decimals(percent, Measure::kilogram)) + " %";
  const int decimals = units::decimals_for(100 * *u, 2);
  return signed_figure(percent, decimals) + " % ± " + units::fixed(200 * *u, decimals) + " %";
}

std::string as_entered(const units::Load& load) {
  return units::shortest(load.figure) + ' ' + std::string(units::symbol(load.unit));
}

std::string as_entered(const units::Length& length) {
  return units::shortest(length.figure) + ' ' + std::string(units::symbol(length.unit));
}

}  // namespace steelyard::reports
