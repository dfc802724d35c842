// A rig weighed twice, before and after a change: what is different, and whether that is more than its
// uncertainty. Plain values; compare() makes them.
//
// Units: as Findings (kg, mm, kg·mm, kg/mm, 1), limits as the limit (kg, kN, 1); difference = after − before.
// U = 2u. Eₙ = difference/U of the difference (ISO 13528:2022, 9.7; ISO/IEC 17043:2023): |Eₙ| ≥ 1 says that
// the difference is more than its uncertainty. Invariants: a difference, its u and Eₙ are there only where
// both sides have a value; Eₙ is not where the uncertainty of the difference is nothing (a session held
// against itself).
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "assess/assessment.hpp"
#include "reconcile/findings.hpp"
#include "rig/session.hpp"

namespace steelyard::compare {

struct Figure {
  double value = 0, u = 0;
};

/// A difference with what it is held against.
struct Difference {
  double value = 0, u = 0;
  std::optional<double> en = {};
  /// Nothing where there is no Eₙ.
  [[nodiscard]] std::optional<bool> significant() const;
};

/// After − before of two figures with that covariance; what rounding leaves of an uncertainty counts as none.
Difference difference(const Figure& before, const Figure& after, double covariance);

/// One quantity on both sides.
struct Compared {
  std::string name;
  std::optional<std::string> state_before = {}, state_after = {};
  std::optional<std::string> at = {};
  reconcile::Measure measure = reconcile::Measure::kilogram;
  std::optional<Figure> before = {}, after = {};
  double correlation = 0;  // of the two figures, by the errors that they have in common
  std::optional<Difference> difference = {};
  bool another_trailer = false;      // it is of a trailer, and the trailers are two
  bool arranged_otherwise = false;   // the states that it is compared in are not arranged alike
  std::optional<std::string> reason_before = {}, reason_after = {};  // why that side has no value
};

/// An error that is the same one before and after.
struct CommonError {
  std::size_t before = 0, after = 0;  // indices into the two Findings::observations
  double u = 0;                       // the smaller of the two: what they have in common at most
  reconcile::ObservationKind kind = reconcile::ObservationKind::gain;
  std::string scale = {};             // uid, of a gain
};

struct MatchedState {
  std::size_t before = 0, after = 0;  // indices into the two Session::states
  bool alike = true;                  // arranged alike
};

/// One side of a limit in one state.
struct LimitSide {
  std::optional<double> rating = {}, value = {}, u = {}, margin = {};
  assess::Outcome outcome = assess::Outcome::not_assessed;
  std::string source = {};
  std::optional<std::string> reason = {};
};

/// One limit in one state, before and after. One that stands on both sides has both; one that was added has
/// only `after`, one that was removed only `before`.
struct LimitCompared {
  std::string of;
  rig::Limit limit = {};  // as it stands after, or stood before where it was removed
  std::optional<std::string> state_before = {}, state_after = {};
  std::optional<LimitSide> before = {}, after = {};
  reconcile::Measure measure = reconcile::Measure::kilogram;
  bool minimum = false, advice = false;
  bool travels = false;  // counts for the rig's outcome on one of the sides

  [[nodiscard]] bool added() const { return !before; }
  [[nodiscard]] bool removed() const { return !after; }
  [[nodiscard]] bool rating_changed() const;
  [[nodiscard]] bool source_changed() const;
  [[nodiscard]] bool outcome_changed() const;
  [[nodiscard]] bool changed() const { return added() || removed() || rating_changed() || outcome_changed(); }
};

/// What was not the same at both weighings, or is not known to have been.
struct Unlike {
  std::string kind;  // a word for programs: fuel, occupants, load_note, state, coupling_height, scale …
  std::string what;  // "fuel", "coupling height in state “together”"
  std::optional<std::string> before = {}, after = {};  // as given; nothing: not given
  std::string worth = {};            // what it may make of a difference, in words; may be empty
  std::optional<Figure> size = {};   // kg: the same as a figure, where it can be told
};

/// What was fitted or taken off, by its declared mass, against what the axles show. A declared mass counts as
/// exact. A modification without a place counts for the tow vehicle.
struct Fitted {
  struct Check {
    std::string name;          // the quantity whose difference is looked at
    double declared = 0;       // kg
    Difference found;          // that difference
    Difference beyond;         // found − declared
  };
  std::vector<rig::Modification> added = {}, removed = {};
  int without_mass = 0, without_place = 0;  // of those; without a place: of those that have a mass
  std::optional<double> mass = {};          // kg, added less removed; nothing where none has a mass
  std::optional<double> moment = {};        // kg·mm about the first axle; nothing where a place is missing
  std::vector<Check> checks = {};
  [[nodiscard]] bool nothing() const { return added.empty() && removed.empty(); }
};

enum class Same { yes, no, unknown };
std::string_view to_text(Same same);  // yes, no, unknown

struct Comparison {
  std::string session_before, session_after;
  int revision_before = 1, revision_after = 1;
  Same tow_vehicle = Same::unknown;
  Same trailer = Same::unknown;  // yes where neither has one
  std::vector<MatchedState> states = {};
  std::vector<CommonError> common = {};
  std::vector<Compared> quantities = {};  // in the order of the later findings
  std::vector<LimitCompared> limits = {};
  assess::RigOutcome outcome_before = assess::RigOutcome::not_assessed;
  assess::RigOutcome outcome_after = assess::RigOutcome::not_assessed;
  std::vector<Unlike> unlike = {};
  Fitted fitted = {};

  /// Readings of one side or both do not agree, so that no difference is to be trusted; null where they do.
  [[nodiscard]] const Unlike* in_doubt() const;

  /// The quantity of that name, of a state by its name after, or null. Empty text: none.
  [[nodiscard]] const Compared* find(std::string_view name, std::string_view state_after = {},
                                     std::string_view at = {}) const;
};

}  // namespace steelyard::compare
