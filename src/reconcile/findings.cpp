#include "reconcile/findings.hpp"

namespace steelyard::reconcile {
namespace {

bool is(const std::optional<std::string>& text, std::string_view wanted) {
  return wanted.empty() ? !text : text && *text == wanted;
}

const Quantity* find_in(const std::vector<Quantity>& all, std::string_view name, std::string_view state,
                        std::string_view at) {
  for (const Quantity& quantity : all)
    if (quantity.name == name && is(quantity.state, state) && is(quantity.at, at)) return &quantity;
  return nullptr;
}

}  // namespace

std::string_view symbol(Measure measure) {
  switch (measure) {
    case Measure::kilogram:
      return "kg";
    case Measure::millimetre:
      return "mm";
    case Measure::one:
      return "1";
    case Measure::kilogram_per_millimetre:
      return "kg/mm";
    case Measure::kilogram_millimetre:
      return "kg·mm";
    case Measure::kilonewton:
      return "kN";
  }
  return {};
}

std::string_view to_text(ObservationKind kind) {
  switch (kind) {
    case ObservationKind::reading:
      return "reading";
    case ObservationKind::gain:
      return "gain";
    case ObservationKind::wheelbase:
      return "wheelbase";
    case ObservationKind::overhang:
      return "overhang";
    case ObservationKind::coupling_to_axles:
      return "coupling_to_axles";
    case ObservationKind::coupling_to_jockey:
      return "coupling_to_jockey";
    case ObservationKind::height_sensitivity:
      return "height_sensitivity";
    case ObservationKind::coupling_height:
      return "coupling_height";
    case ObservationKind::level:
      return "level";
    case ObservationKind::cg_height:
      return "cg_height";
  }
  return {};
}

std::string_view to_text(Blunder blunder) {
  switch (blunder) {
    case Blunder::digits_swapped:
      return "digits_swapped";
    case Blunder::digit_dropped:
      return "digit_dropped";
    case Blunder::digit_doubled:
      return "digit_doubled";
    case Blunder::pounds_for_kilograms:
      return "pounds_for_kilograms";
    case Blunder::sides_swapped:
      return "sides_swapped";
    case Blunder::axles_swapped:
      return "axles_swapped";
    case Blunder::states_swapped:
      return "states_swapped";
    case Blunder::scale_not_zeroed:
      return "scale_not_zeroed";
    case Blunder::jockey_still_loaded:
      return "jockey_still_loaded";
    case Blunder::jockey_taken_for_coupling:
      return "jockey_taken_for_coupling";
    case Blunder::person_aboard:
      return "person_aboard";
    case Blunder::tyre_off_scale:
      return "tyre_off_scale";
    case Blunder::weight_distribution_mislabelled:
      return "weight_distribution_mislabelled";
  }
  return {};
}

const Quantity* Findings::find(std::string_view name, std::string_view state, std::string_view at) const {
  return find_in(quantities, name, state, at);
}

const Quantity* Findings::find_for_limit(std::string_view name, std::string_view state,
                                         std::string_view at) const {
  return find_in(limit_quantities, name, state, at);
}

}  // namespace steelyard::reconcile
