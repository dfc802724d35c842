#include "reports/table/limit_words.hpp"

#include "reports/table/terminal_text.hpp"

namespace steelyard::reports {
namespace {

using rig::LimitKind;

std::string base_words(const rig::Limit& limit) {
  const std::string axle = std::to_string(limit.axle);
  switch (limit.kind) {
    case LimitKind::tow_gross:
      return "tow vehicle, total";
    case LimitKind::tow_front:
      return "tow vehicle, front axles";
    case LimitKind::tow_rear:
      return "tow vehicle, rear axles";
    case LimitKind::tow_axle:
      return "tow vehicle, axle " + axle;
    case LimitKind::tow_front_minimum_share:
      return "front axles' share, at least";
    case LimitKind::combination:
      return "combination";
    case LimitKind::trailer_gross:
      return "trailer mass";
    case LimitKind::towed_mass:
      return "towed mass";
    case LimitKind::towed_mass_unbraked:
      return "towed mass, unbraked";
    case LimitKind::trailer_axles:
      return "trailer, all axles";
    case LimitKind::trailer_axle:
      return "trailer, axle " + axle;
    case LimitKind::coupling:
      return "coupling load";
    case LimitKind::coupling_minimum:
      return "coupling load, at least";
    case LimitKind::coupling_share_minimum:
      return "coupling share, at least";
    case LimitKind::coupling_share_maximum:
      return "coupling share, at most";
    case LimitKind::wheel:
      return (limit.vehicle == rig::Vehicle::tow ? "tow wheel end, axle " : "trailer wheel end, axle ") +
             axle;
    case LimitKind::mass_ratio:
      return "trailer to tow vehicle";
    case LimitKind::front_axle_restoration_minimum:
      return "front restoration, at least";
    case LimitKind::front_axle_restoration_maximum:
      return "front restoration, at most";
    case LimitKind::side_difference:
      return "left-right difference";
    case LimitKind::d_value:
      return "D-value";
    case LimitKind::dc_value:
      return "Dc-value";
  }
  return {};
}

}  // namespace

std::string limit_in_words(const rig::Limit& limit, const assess::Row& row) {
  std::string words = base_words(limit);
  if (limit.basis == rig::Basis::axles) words += ", on axles";
  if (!limit.part.empty()) words += ", " + printable(limit.part);
  if (limit.kind == LimitKind::side_difference && !row.at.empty()) words += ", " + place_in_words(row.at);
  return words;
}

bool shown_as_percent(const rig::Limit& limit) {
  return rig::measure_of(limit.kind) == rig::Measure::ratio;
}

std::string place_in_words(const std::string& at) {
  const auto position = rig::parse_position(at);
  return position ? rig::in_words(*position) : printable(at);
}

}  // namespace steelyard::reports
