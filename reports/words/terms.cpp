#include "reports/words/terms.hpp"

#include <algorithm>
#include <array>

namespace steelyard::reports {
namespace {

using rig::LimitKind;

struct Term {
  LimitKind kind;
  std::string_view plain, australia, europe, north_america, southern_africa;
};

// A region's own term stands in brackets after the plain words; empty where it has none.
constexpr std::array terms{
    Term{LimitKind::tow_gross, "Tow vehicle mass", "GVM", "MAM", "GVWR", "GVM"},
    Term{LimitKind::tow_front, "Front axle load", "axle rating", "plated axle weight", "GAWR",
         "axle massload"},
    Term{LimitKind::tow_rear, "Rear axle load", "axle rating", "plated axle weight", "GAWR", "axle massload"},
    Term{LimitKind::tow_axle, "Tow vehicle axle", "axle rating", "plated axle weight", "GAWR",
         "axle massload"},
    Term{LimitKind::tow_front_minimum_share, "Front axle share, least", "", "", "", ""},
    Term{LimitKind::combination, "Combination mass", "GCM", "gross train weight", "GCWR", "GCM"},
    Term{LimitKind::trailer_gross, "Trailer mass", "ATM", "MTPLM", "GVWR", "GVM"},
    Term{LimitKind::towed_mass, "Towed mass", "", "", "", ""},
    Term{LimitKind::towed_mass_unbraked, "Towed mass, unbraked", "", "", "", ""},
    Term{LimitKind::trailer_axles, "Trailer axle load, hitched", "GTM", "axle mass", "GAWR", "axle massload"},
    Term{LimitKind::trailer_axle, "Trailer axle", "axle rating", "plated axle weight", "GAWR",
         "axle massload"},
    Term{LimitKind::coupling, "Coupling load", "tow-ball mass", "noseweight", "tongue weight", "nose weight"},
    Term{LimitKind::coupling_minimum, "Coupling load, least", "tow-ball mass", "noseweight", "tongue weight",
         "nose weight"},
    Term{LimitKind::coupling_share_minimum, "Coupling share, least", "", "", "", ""},
    Term{LimitKind::coupling_share_maximum, "Coupling share, most", "", "", "", ""},
    Term{LimitKind::wheel, "Heavier wheel", "", "", "", ""},
    Term{LimitKind::mass_ratio, "Trailer to tow vehicle mass", "", "", "", ""},
    Term{LimitKind::front_axle_restoration_minimum, "Front restored, least", "", "", "", ""},
    Term{LimitKind::front_axle_restoration_maximum, "Front restored, most", "", "", "", ""},
    Term{LimitKind::side_difference, "Left-right difference", "", "", "", ""},
    Term{LimitKind::d_value, "D-value of the coupling", "", "", "", ""},
    Term{LimitKind::dc_value, "Dc-value of the coupling", "", "", "", ""},
};

const Term& term_of(LimitKind kind) {
  return *std::find_if(terms.begin(), terms.end(), [kind](const Term& term) { return term.kind == kind; });
}

std::string_view own_term(const Term& term, Region region) {
  switch (region) {
    case Region::australia:
      return term.australia;
    case Region::europe:
      return term.europe;
    case Region::north_america:
      return term.north_america;
    case Region::southern_africa:
      return term.southern_africa;
    case Region::plain:
      break;
  }
  return {};
}

bool several(const rig::Rig& rig, rig::Group group) {
  const auto& axles = rig.tow_vehicle.axles;
  return std::count_if(axles.begin(), axles.end(),
                       [group](const auto& axle) { return axle.group == group; }) > 1;
}

std::string base_words(const rig::Limit& limit, const rig::Rig& rig) {
  std::string words(term_of(limit.kind).plain);
  if (limit.kind == LimitKind::tow_axle || limit.kind == LimitKind::trailer_axle)
    words += ' ' + std::to_string(limit.axle);
  if (limit.kind == LimitKind::wheel)
    words += (limit.vehicle == rig::Vehicle::tow ? ", tow vehicle axle " : ", trailer axle ") +
             std::to_string(limit.axle);
  const bool group = (limit.kind == LimitKind::tow_front && several(rig, rig::Group::front)) ||
                     (limit.kind == LimitKind::tow_rear && several(rig, rig::Group::rear));
  if (group) words.replace(words.find("axle"), 4, "axle group");
  if (limit.basis == rig::Basis::axles) words += ", on its axles";
  return words;
}

}  // namespace

std::string limit_words(const rig::Limit& limit, const rig::Rig& rig, Region region) {
  std::string words = base_words(limit, rig);
  if (const auto own = own_term(term_of(limit.kind), region); !own.empty())
    words += " (" + std::string(own) + ")";
  if (!limit.part.empty()) words += ": " + limit.part;
  return words;
}

Tone tone_of(assess::Outcome outcome) {
  switch (outcome) {
    case assess::Outcome::pass:
      return Tone::within;
    case assess::Outcome::conditional_pass:
      return Tone::close_within;
    case assess::Outcome::conditional_fail:
      return Tone::close_over;
    case assess::Outcome::fail:
      return Tone::over;
    case assess::Outcome::not_assessed:
      break;
  }
  return Tone::unknown;
}

Tone tone_of(assess::RigOutcome outcome) {
  switch (outcome) {
    case assess::RigOutcome::pass:
      return Tone::within;
    case assess::RigOutcome::conditional_pass:
      return Tone::close_within;
    case assess::RigOutcome::conditional_fail:
      return Tone::close_over;
    case assess::RigOutcome::fail:
      return Tone::over;
    case assess::RigOutcome::incomplete:
    case assess::RigOutcome::not_assessed:
      break;
  }
  return Tone::unknown;
}

std::string_view sign_of(Tone tone) {
  switch (tone) {
    case Tone::within:
      return "✓";
    case Tone::close_within:
      return "△";
    case Tone::close_over:
      return "▲";
    case Tone::over:
      return "✕";
    case Tone::unknown:
      return "?";
    case Tone::none:
      break;
  }
  return {};
}

std::string outcome_words(assess::Outcome outcome, bool minimum) {
  return std::string(sign_of(tone_of(outcome))) + ' ' + std::string(assess::in_words(outcome, minimum));
}

std::string place_words(std::string_view at) {
  if (at == "tow.front") return "tow vehicle, front axles";  // the result's names for its axle groups
  if (at == "tow.rear") return "tow vehicle, rear axles";
  const auto position = rig::parse_position(at);
  return position ? rig::in_words(*position) : std::string(at);
}

std::string state_words(const rig::State& state) {
  if (state.hitched) return state.weight_distribution ? "hitched, weight distribution on" : "hitched";
  if (!state.support) return "not hitched";
  return *state.support == rig::Support::coupling ? "not hitched, nose on a scale at the coupling"
                                                  : "not hitched, nose on a scale at the jockey wheel";
}

}  // namespace steelyard::reports
