#include <algorithm>
#include <array>
#include <utility>

#include "reports/words/terms.hpp"

namespace steelyard::reports {
namespace {

constexpr std::array<std::pair<std::string_view, std::string_view>, 26> names{{
    {"tow_unhitched_front", "Front axle, tow vehicle alone"},
    {"tow_unhitched_rear", "Rear axle, tow vehicle alone"},
    {"tow_unhitched_total", "Tow vehicle alone"},
    {"coupling_load", "Coupling load"},
    {"coupling_load_at_height", "Coupling load at this height"},
    {"coupling_load_net", "Coupling load, net of weight distribution"},
    {"load_transfer_ratio", "Rear axle gain per unit of coupling load"},
    {"front_relief_ratio", "Front axle loss per unit of coupling load"},
    {"overhang", "Overhang, rear axle to coupling"},
    {"inferred_overhang", "Overhang, from the weights alone"},
    {"inferred_transfer_ratio", "Rear axle gain per unit, from the weights alone"},
    {"tow_hitched_front", "Front axle, hitched"},
    {"tow_hitched_rear", "Rear axle, hitched"},
    {"tow_hitched_total", "Tow vehicle, hitched"},
    {"trailer_mass", "Trailer mass"},
    {"trailer_axles_hitched", "Trailer axles, hitched"},
    {"combination_mass", "Combination mass"},
    {"coupling_share", "Coupling load, share of the trailer's mass"},
    {"weight_distribution_moment", "Weight-distribution moment"},
    {"front_axle_restoration", "Front axle restored by weight distribution"},
    {"height_sensitivity", "Coupling load per unit of coupling height"},
    {"wheel_load", "Wheel load"},
    {"axle_load", "Axle load"},
    {"group_load", "Axle group load"},
    {"side_difference", "Left less right"},
    {"tow_front_share", "Front axle, share of the tow vehicle"},
}};

}  // namespace

bool is_share(std::string_view name) {
  return name.ends_with("share") || name == "front_axle_restoration";
}

std::string quantity_words(std::string_view name, const Wording& wording) {
  const auto found =
      std::find_if(names.begin(), names.end(), [name](const auto& row) { return row.first == name; });
  return found == names.end() ? std::string(name) : wording(found->second);
}

std::string observation_words(reconcile::ObservationKind kind, const Wording& wording) {
  switch (kind) {
    case reconcile::ObservationKind::reading:
      return "reading";
    case reconcile::ObservationKind::gain:
      return "gain of a scale";
    case reconcile::ObservationKind::wheelbase:
      return "wheelbase";
    case reconcile::ObservationKind::overhang:
      return "overhang, by tape";
    case reconcile::ObservationKind::coupling_to_axles:
      return "coupling to trailer axles";
    case reconcile::ObservationKind::coupling_to_jockey:
      return wording("coupling to jockey wheel");
    case reconcile::ObservationKind::height_sensitivity:
      return "height sensitivity";
    case reconcile::ObservationKind::coupling_height:
      return "coupling height";
    case reconcile::ObservationKind::level:
      return "level of the ground";
    case reconcile::ObservationKind::cg_height:
      return "height of the centre of gravity";
  }
  return {};
}

}  // namespace steelyard::reports
