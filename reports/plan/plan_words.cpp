#include "reports/plan/plan_words.hpp"

#include <algorithm>

#include "reports/table/limit_words.hpp"
#include "reports/words/terminal_text.hpp"

namespace steelyard::reports {

using reconcile::ObservationKind;

std::string arrangement_in_words(const rig::State& state, const rig::Rig& rig, const Wording& wording) {
  if (!rig.trailer) return "the vehicle alone";
  if (state.hitched) {
    if (state.weight_distribution) return wording("hitched, weight distribution on");
    return rig.trailer->self_supporting ? "hitched" : wording("hitched, no weight distribution");
  }
  if (!state.support) return "not hitched";
  return *state.support == rig::Support::coupling ? "not hitched, the coupling on a scale at towing height"
                                                  : wording("not hitched, the jockey wheel on a scale");
}

std::string supposition_in_words(const plan::Supposition& supposition, const Wording& wording) {
  const std::string& name = supposition.name;
  if (name == "tow_unhitched_front") return "tow vehicle alone, front axles";
  if (name == "tow_unhitched_rear") return "tow vehicle alone, rear axles";
  if (name == "trailer_mass") return "trailer mass";
  if (name == "coupling_load") return wording("coupling load");
  if (name == "overhang") return "overhang, rear axles to coupling";
  if (name == "coupling_to_axles") return "coupling to trailer axles";
  if (name == "coupling_to_jockey") return wording("coupling to jockey wheel");
  if (name == "left_share") return "left wheel end's part of its axle";
  const std::string state = " in \"" + printable(supposition.state.value_or("")) + '"';
  return (name == "coupling_height" ? "coupling height" : "moment of the bars") + state;
}

std::string origin_in_words(plan::Origin origin) {
  switch (origin) {
    case plan::Origin::given:
      return "as given";
    case plan::Origin::readings:
      return "from the sheet's readings";
    case plan::Origin::ratings:
      return "a part of its ratings";
    case plan::Origin::usual:
      return "a usual size";
  }
  return {};
}

std::string aim_in_words(const plan::Aim& aim, const rig::Session& sheet, const Wording& wording) {
  if (!aim.limit) return wording("coupling load itself");
  const rig::Limit& limit = sheet.rig.limits[*aim.limit];
  std::string words = limit_in_words(limit, {}, wording);
  if (limit.with_weight_distribution) words += *limit.with_weight_distribution ? ", bars on" : ", bars off";
  return words;
}

std::string governing_in_words(ObservationKind kind, const Wording& wording) {
  switch (kind) {
    case ObservationKind::reading:
      return "the readings themselves";
    case ObservationKind::gain:
      return "how true the scales show";
    case ObservationKind::wheelbase:
      return "the wheelbase";
    case ObservationKind::overhang:
      return "the tape on the overhang";
    case ObservationKind::coupling_to_axles:
      return "the length from coupling to trailer axles";
    case ObservationKind::coupling_to_jockey:
      return wording("the length from coupling to jockey wheel");
    case ObservationKind::height_sensitivity:
    case ObservationKind::coupling_height:
      return "the height of the coupling";
    case ObservationKind::level:
      return "how level the ground is";
    case ObservationKind::cg_height:
      return "the height of the centre of gravity";
  }
  return {};
}

std::string remedy_in_words(plan::Remedy remedy, const rig::Session& sheet, const Wording& wording) {
  switch (remedy) {
    case plan::Remedy::none:
      return {};
    case plan::Remedy::tape_overhang:
      return wording("taping the overhang (to 10 mm)");
    case plan::Remedy::measure_heights: {
      const bool all = std::all_of(sheet.states.begin(), sheet.states.end(),
                                   [](const rig::State& state) { return state.coupling_height.has_value(); });
      return wording(all && !sheet.states.empty() ? "measuring the coupling heights to 2 mm"
                                                  : "measuring the coupling height in every state (to 5 mm)");
    }
    case plan::Remedy::measure_slope:
      return "measuring the slope of the ground (to 0.5 mm per m)";
    case plan::Remedy::measure_to_axles:
      return wording("measuring from coupling to trailer axles (to 10 mm)");
    case plan::Remedy::measure_to_jockey:
      return wording("measuring from coupling to jockey wheel (to 5 mm)");
    case plan::Remedy::known_gains:
      return "scales whose gain is known to 0.05 %";
  }
  return {};
}

}  // namespace steelyard::reports
