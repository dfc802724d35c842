#include "sheet/check.hpp"

#include <cmath>
#include <utility>

#include "units/number.hpp"

namespace steelyard::sheet {
namespace {

bool within(double value, double least, double most) {
  return value >= least && value <= most;
}  // false for NaN

std::string range_in_words(double least, double most, std::string_view unit) {
  std::string words = "must be from " + figure(least) + " to " + figure(most);
  return unit.empty() ? words : words.append(" ").append(unit);
}

std::string entered(double value, std::string_view unit, double converted, std::string_view converted_unit) {
  std::string words = figure(value) + " " + std::string(unit);
  if (unit != converted_unit) words += " (" + figure(converted) + " " + std::string(converted_unit) + ")";
  return words;
}

}  // namespace

std::string figure(double value) {
  if (!std::isfinite(value)) return "not a finite number";
  if (std::abs(value) < 1e7 && std::trunc(value) == value) return units::fixed(value, 0);
  return units::shortest(value);
}

void Check::fault(const Place& place, std::string what) {
  std::string text = place.text();
  if (!broken_.covers(text)) faults_.add(std::move(text), std::move(what));
}

void Check::text(const Place& place, std::string_view text, TextKind kind) {
  if (auto what = text_fault(text, kind); !what.empty()) fault(place, std::move(what));
}

void Check::name(const Place& place, std::string_view given) {
  if (given.empty())
    fault(place, "must not be empty");
  else
    text(place, given, TextKind::name);
}

void Check::date(const Place& place, std::string_view given) {
  if (!given.empty() && !is_date(given))
    fault(place, "must be a day that exists, written YYYY-MM-DD, is " + in_quotes(given));
}

void Check::time(const Place& place, std::string_view given) {
  if (!given.empty() && !is_time(given))
    fault(place, "must be a time with its offset, such as 2026-10-03T08:40:00+02:00, is " + in_quotes(given));
}

void Check::range(const Place& place, double value, double least, double most, std::string_view unit) {
  if (!within(value, least, most)) fault(place, range_in_words(least, most, unit) + ", is " + figure(value));
}

void Check::load(const Place& place, const std::optional<units::Load>& load, double least_kg,
                 double most_kg) {
  if (!load) return;
  const double kg = load->kg().value();
  if (!within(kg, least_kg, most_kg))
    fault(place, range_in_words(least_kg, most_kg, "kg") + ", is " +
                     entered(load->figure, units::symbol(load->unit), kg, "kg"));
}

void Check::length(const Place& place, const std::optional<units::Length>& length, double least_mm,
                   double most_mm) {
  if (!length) return;
  const double mm = length->mm().value();
  if (!within(mm, least_mm, most_mm))
    fault(place, range_in_words(least_mm, most_mm, "mm") + ", is " +
                     entered(length->figure, units::symbol(length->unit), mm, "mm"));
  if (length->unit != session.units.length) fault(place, "must be in the sheet's unit of length");
}

void Check::uncertainty(const Place& place, double converted, double given, double least, double most,
                        std::string_view unit) {
  if (within(converted, least, most)) return;
  std::string what = "a standard uncertainty must be above 0, from " + figure(least) + " to " + figure(most);
  if (!unit.empty()) what.append(" ").append(unit);
  fault(place, what + ", is " + figure(given) + "; leave it out for the customary one");
}

void Check::measured(const Place& place, const std::optional<rig::MeasuredLength>& measured, double least_mm,
                     double most_mm) {
  if (!measured) return;
  length(place, measured->value, least_mm, most_mm);
  if (!measured->u) return;
  const Place u = place["u"];
  uncertainty(u, measured->u->mm().value(), measured->u->figure, bounds::least_u_mm, bounds::longest_mm,
              "mm");
  if (measured->u->unit != session.units.length) fault(u, "must be in the sheet's unit of length");
}

void check_session(const rig::Session& session, const BrokenPlaces& broken, Faults& faults) {
  Check check(session, broken, faults);
  const Place root;
  const Place scales = root["scales"], rig = root["rig"], states = root["states"];
  check_heading(check, root);
  check_scales(check, scales);
  check_rig(check, rig);
  check_states(check, states);
}

}  // namespace steelyard::sheet
