#include "assess/assessment.hpp"

namespace steelyard::assess {

std::string_view to_text(Outcome outcome) {
  switch (outcome) {
    case Outcome::pass:
      return "pass";
    case Outcome::conditional_pass:
      return "conditional pass";
    case Outcome::conditional_fail:
      return "conditional fail";
    case Outcome::fail:
      return "fail";
    case Outcome::not_assessed:
      return "not assessed";
  }
  return {};
}

std::string_view in_words(Outcome outcome, bool minimum) {
  switch (outcome) {
    case Outcome::pass:
      return "within";
    case Outcome::conditional_pass:
      return "within, but too close to be sure";
    case Outcome::conditional_fail:
      return minimum ? "below, but too close to be sure" : "over, but too close to be sure";
    case Outcome::fail:
      return minimum ? "below" : "over";
    case Outcome::not_assessed:
      return "not assessed";
  }
  return {};
}

std::string_view to_text(RigOutcome outcome) {
  switch (outcome) {
    case RigOutcome::pass:
      return "pass";
    case RigOutcome::conditional_pass:
      return "conditional pass";
    case RigOutcome::incomplete:
      return "incomplete";
    case RigOutcome::conditional_fail:
      return "conditional fail";
    case RigOutcome::fail:
      return "fail";
    case RigOutcome::not_assessed:
      return "not assessed";
  }
  return {};
}

std::string_view in_words(RigOutcome outcome) {
  switch (outcome) {
    case RigOutcome::pass:
      return "within every rating given";
    case RigOutcome::conditional_pass:
      return "within every rating given, but too close to one to be sure";
    case RigOutcome::incomplete:
      return "incomplete: none found over, but not every rating could be assessed";
    case RigOutcome::conditional_fail:
      return "over a rating, but too close to be sure";
    case RigOutcome::fail:
      return "outside a rating";
    case RigOutcome::not_assessed:
      return "not assessed: no rating was given";
  }
  return {};
}

}  // namespace steelyard::assess
