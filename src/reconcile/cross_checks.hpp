// The cross-checks that people make with a pencil, straight from the readings and apart from the adjustment.
//
// A value is a sum of means of repeats and its u follows to first order from the readings' own u, the gains
// of their scales and the lengths, as observed (model, section 4). A scale's gain is one and the same in both
// sides of a check, so that what it does to both cancels. Two values agree where they differ by no more than
// 1.959964 u of the difference. A check is made only where the readings behind both sides are there. Units as
// in findings.hpp. No errors. Source: reconciliation model, section 3 for what should be equal to what.
//
//   combination          all axles hitched = tow vehicle alone + trailer alone with its support
//   coupling_load        what the tow vehicle gains = what is read under the nose = what the trailer's axles
//   lose overhang             what the front axle loses × wheelbase / coupling load = the tape
//   weight_distribution  what the front axle regains / what the trailer's axles gain = (D + o)/L, between a
//   state
//                        without weight distribution and one with it
//
// A ratio is judged as the difference numerator − expected·denominator, which is normal where the ratio is
// not.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "reconcile/findings.hpp"
#include "rig/session.hpp"

namespace steelyard::reconcile {

struct CrossCheck {
  enum class Kind { combination, coupling_load, overhang, weight_distribution };
  /// How a value was come by.
  enum class Way {
    hitched,       // all axles of the combination
    apart,         // tow vehicle alone and trailer alone
    tow_gain,      // tow vehicle hitched less alone
    support,       // read at the coupling
    jockey,        // read at the jockey wheel, by its lever
    trailer_loss,  // trailer alone less its axles hitched
    loads,         // of a length or ratio: from the loads
    lengths,       // from the tape and the lengths given
  };
  struct Value {
    Way way;
    double value = 0, u = 0;
  };
  Kind kind = Kind::combination;
  /// The hitched state that is checked (with weight distribution where the check is of that), then those it
  /// is held against.
  std::vector<std::string> states;
  Measure measure = Measure::kilogram;
  std::vector<Value> values;       // two, of the coupling load up to three
  std::size_t one = 0, other = 1;  // indices into values: the two that differ most for their u
  double difference = 0, u = 0;    // of these two, values[one] − values[other]
  bool agrees = false;
};
std::string_view to_text(CrossCheck::Kind kind);
std::string_view to_text(CrossCheck::Way way);

/// `findings` are those of this session; only their observations are looked at, and of these only value and
/// u.
std::vector<CrossCheck> cross_checks(const rig::Session& session, const Findings& findings);

}  // namespace steelyard::reconcile
