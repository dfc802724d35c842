#include "reports/words/rows.hpp"

#include <cmath>

#include "units/number.hpp"

namespace steelyard::reports {
namespace {

using assess::RigOutcome;

std::string magnitude(const assess::Row& row, double value, const ShownUnits& shown) {
  const double u = row.u.value_or(0);
  const double size = std::abs(value);
  if (row.measure == reconcile::Measure::one)
    return units::fixed(100 * size, u > 0 ? units::decimals_for(100 * u, 2) : 1) + " %";
  const double converted = convert(size, row.measure, shown), converted_u = convert(u, row.measure, shown);
  const int decimals =
      converted_u > 0 ? decimals_of(converted_u, row.measure) : bare_decimals(converted, row.measure);
  return units::fixed(converted, decimals) + ' ' + unit_word(row.measure, shown);
}

}  // namespace

std::string row_value(const assess::Row& row, const ShownUnits& shown) {
  if (!row.value) return "not determined";
  if (row.measure == reconcile::Measure::one) return in_percent(*row.value, row.u);
  return in_figures(*row.value, row.u, row.measure, shown);
}

std::string row_rating(const assess::Row& row, const ShownUnits& shown) {
  if (!row.rating) return "not given";
  if (row.measure == reconcile::Measure::one) return in_percent(*row.rating, std::nullopt);
  return in_figures(*row.rating, std::nullopt, row.measure, shown);
}

std::string row_margin(const assess::Row& row, const ShownUnits& shown) {
  if (!row.margin) return {};
  const std::string size = magnitude(row, *row.margin, shown);
  if (row.minimum) return size + (*row.margin >= 0 ? " above the least" : " short of the least");
  return size + (*row.margin >= 0 ? " left" : " over");
}

std::string verdict_headline(RigOutcome outcome) {
  switch (outcome) {
    case RigOutcome::pass:
      return "Within every rating";
    case RigOutcome::conditional_pass:
      return "Within, but too close to be sure";
    case RigOutcome::conditional_fail:
      return "Over, but too close to be sure";
    case RigOutcome::fail:
      return "Outside a rating: do not tow";
    case RigOutcome::incomplete:
      return "Not every rating could be checked";
    case RigOutcome::not_assessed:
      break;
  }
  return "No rating could be checked";
}

std::string verdict_meaning(RigOutcome outcome) {
  switch (outcome) {
    case RigOutcome::pass:
      return "Every load is clear of its rating by more than the uncertainty of this weighing.";
    case RigOutcome::conditional_pass:
      return "Nothing is over, but a load is nearer to its rating than this weighing can tell apart.";
    case RigOutcome::conditional_fail:
      return "A load reads over its rating, by less than the uncertainty of this weighing. Treat it as over.";
    case RigOutcome::fail:
      return "Correct the load and have the rig weighed again before it is towed.";
    case RigOutcome::incomplete:
      return "What was checked is not over. What was not checked is listed below, with what to weigh for it.";
    case RigOutcome::not_assessed:
      break;
  }
  return "The ratings, or the readings they need, are missing: see below what to weigh.";
}

}  // namespace steelyard::reports
