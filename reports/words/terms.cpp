#include "reports/words/terms.hpp"

namespace steelyard::reports {
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

std::string place_words(std::string_view at, const Wording& wording) {
  if (at == "tow.front") return "tow vehicle, front axles";  // the result's names for its axle groups
  if (at == "tow.rear") return "tow vehicle, rear axles";
  const auto position = rig::parse_position(at);
  return position ? wording(rig::in_words(*position)) : std::string(at);
}

std::string state_words(const rig::State& state, const Wording& wording) {
  if (state.hitched)
    return wording(state.weight_distribution ? "hitched, weight distribution on" : "hitched");
  if (!state.support) return "not hitched";
  return wording(*state.support == rig::Support::coupling
                     ? "not hitched, nose on a scale at the coupling"
                     : "not hitched, nose on a scale at the jockey wheel");
}

}  // namespace steelyard::reports
