#include "reports/words/suspicion.hpp"

#include <cmath>

#include "reports/words/terms.hpp"

namespace steelyard::reports {
namespace {

using reconcile::Blunder;
using reconcile::Explanation;
using reconcile::Measure;
using reconcile::Observation;
using reconcile::ObservationKind;

std::string in_state(const std::optional<std::string>& state) {
  return state ? " in “" + *state + "”" : std::string();
}

std::string about(double value, Measure measure, const ShownUnits& shown) {
  return in_figures(std::round(convert(value, measure, shown)) / convert(1, measure, shown), std::nullopt,
                    measure, shown);
}

/// A load in the unit it was entered in, to the decimals that such a figure may have.
std::string load_words(const units::Load& load) {
  return as_entered({std::round(load.figure * 10) / 10, load.unit});
}

std::string read_and_meant(const Explanation::Correction& correction) {
  std::string meant = load_words(correction.meant);
  if (correction.meant.unit != correction.read.unit)
    meant += correction.read.unit == units::LoadUnit::kilogram
                 ? " (" + load_words({correction.meant.kg().value(), units::LoadUnit::kilogram}) + ")"
                 : " (" +
                       load_words({units::to_pounds(correction.meant.kg()).value(), units::LoadUnit::pound}) +
                       ")";
  return load_words(correction.read) + " read, " + meant + " meant";
}

/// "r3 and r7"; of many the first few.
std::string readings(const reconcile::Findings& findings, const Explanation& explanation) {
  constexpr std::size_t most = 6;
  std::string out;
  for (std::size_t i = 0; i < explanation.corrections.size(); ++i) {
    const bool last = i + 1 == explanation.corrections.size();
    if (i == most && !last) return out + " and " + std::to_string(explanation.corrections.size() - most) + " more";
    if (i > 0) out += last ? " and " : ", ";
    out += findings.observations.at(explanation.corrections[i].observation).id.value_or("?");
  }
  return out;
}

class Words {
 public:
  Words(const reconcile::Findings& findings, const Explanation& explanation, const Wording& wording)
      : findings_(findings), explanation_(explanation), wording_(wording) {}

  std::string all() const {
    switch (explanation_.kind) {
      case Blunder::digits_swapped:
        return "two digits swapped in " + single();
      case Blunder::digit_dropped:
        return "a digit left out of " + single();
      case Blunder::digit_doubled:
        return "a digit written twice in " + single();
      case Blunder::pounds_for_kilograms:
        return pounds();
      case Blunder::sides_swapped:
        return "left and right swapped" + in_state(explanation_.state) + ": " + exchanged();
      case Blunder::axles_swapped:
        return "two axles swapped" + in_state(explanation_.state) + ": " + exchanged();
      case Blunder::states_swapped:
        return "the same places of two states swapped: " + exchanged();
      case Blunder::scale_not_zeroed:
        return "scale " + explanation_.scale.value_or("?") + " not at zero" + in_state(explanation_.state) +
               ": it showed " + size() + (explanation_.size.value_or(0) < 0 ? " too little" : " too much");
      case Blunder::jockey_still_loaded:
        return wording_("the jockey wheel still carried ") + size() + in_state(explanation_.state);
      case Blunder::jockey_taken_for_coupling:
        return wording_("the scale stood under the jockey wheel, not under the coupling,") +
               in_state(explanation_.state);
      case Blunder::person_aboard:
        return std::string("somebody ") +
               (explanation_.vehicle == rig::Vehicle::trailer ? "on the trailer" : "in the tow vehicle") +
               in_state(explanation_.state) + ": " + size();
      case Blunder::tyre_off_scale:
        return "a tyre part off its scale at " + single();
      case Blunder::weight_distribution_mislabelled:
        return wording_("weight distribution was on") + in_state(explanation_.state) +
               ", which says off: a moment of " + size(Measure::kilogram_millimetre);
    }
    return {};
  }

 private:
  [[nodiscard]] std::string single() const {
    const Explanation::Correction& correction = explanation_.corrections.at(0);
    return suspect_name(findings_.observations.at(correction.observation), wording_) + ": " +
           read_and_meant(correction);
  }
  [[nodiscard]] std::string exchanged() const {
    return "readings " + readings(findings_, explanation_) + " exchanged";
  }
  [[nodiscard]] std::string pounds() const {
    const bool kilograms = explanation_.corrections.at(0).read.unit == units::LoadUnit::kilogram;
    const std::string what = kilograms ? "pounds written as kilograms" : "kilograms written as pounds";
    if (explanation_.corrections.size() == 1) return what + " in " + single();
    return what + " in every reading of scale " + explanation_.scale.value_or("?") + in_state(explanation_.state);
  }
  [[nodiscard]] std::string size(Measure measure = Measure::kilogram) const {
    return in_figures(std::abs(explanation_.size.value_or(0)), explanation_.size_u, measure, wording_.shown);
  }

  const reconcile::Findings& findings_;
  const Explanation& explanation_;
  const Wording& wording_;
};

}  // namespace

std::string suspect_name(const Observation& observation, const Wording& wording) {
  switch (observation.kind) {
    case ObservationKind::reading:
      return "reading " + observation.id.value_or("?") + ", " +
             place_words(observation.at.value_or("?"), wording) + "," + in_state(observation.state);
    case ObservationKind::gain:
      return observation.scales.empty() ? "the scales that were not named, all together"
                                        : "scale " + observation.scales.front() + ", in all its readings";
    case ObservationKind::wheelbase:
      return "the wheelbase as given";
    case ObservationKind::overhang:
      return "the tape on the overhang";
    case ObservationKind::coupling_to_axles:
      return "the length from coupling to trailer axles";
    case ObservationKind::coupling_to_jockey:
      return wording("the length from coupling to jockey wheel");
    case ObservationKind::height_sensitivity:
      return wording("how the coupling load follows its height");
    case ObservationKind::coupling_height:
      return "the coupling height" + in_state(observation.state);
    case ObservationKind::level:
      return "the ground" + in_state(observation.state) + ", not as level as said";
    case ObservationKind::cg_height:
      return "the height of the tow vehicle's centre of gravity";
  }
  return {};
}

Measure measure_of(ObservationKind kind) {
  switch (kind) {
    case ObservationKind::reading:
    case ObservationKind::coupling_height:
      return Measure::kilogram;
    case ObservationKind::gain:
      return Measure::one;
    case ObservationKind::height_sensitivity:
      return Measure::kilogram_per_millimetre;
    default:
      return Measure::millimetre;
  }
}

std::string suspect_size(const Observation& observation, double error, const ShownUnits& shown) {
  switch (observation.kind) {
    case ObservationKind::reading:
      return ", about " + about(std::abs(error), Measure::kilogram, shown) +
             (error < 0 ? " too low" : " too high");
    case ObservationKind::wheelbase:
    case ObservationKind::overhang:
    case ObservationKind::coupling_to_axles:
    case ObservationKind::coupling_to_jockey:
    case ObservationKind::cg_height:
      return ", off by about " + about(std::abs(error), Measure::millimetre, shown);
    default:
      return {};
  }
}

std::string explanation_words(const reconcile::Findings& findings, const Explanation& explanation,
                              const Wording& wording) {
  return Words(findings, explanation, wording).all();
}

std::string next_reading_words(const reconcile::NextReading& next, const Wording& wording) {
  if (next.kind == reconcile::NextReading::Kind::overhang)
    return next.again ? "the overhang, taped again" : "the overhang, by tape: rear axle group's centre to coupling";
  std::string out = next.at ? place_words(rig::to_text(*next.at), wording) : std::string();
  out += next.new_state ? " of the unhitched trailer, at the height at which it tows" : ", in “" + next.state + "”";
  if (next.again) out += ", set down again";
  for (std::size_t i = 0; i < next.scales.size(); ++i) out += (i == 0 ? ", on scale " : " + ") + next.scales[i];
  return out;
}

}  // namespace steelyard::reports
