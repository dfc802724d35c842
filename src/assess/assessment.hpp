// Every limit of a rig against what was found: margin, probability of breaching it, outcome.
//
// Units: as the limit: kg, kN, or a plain ratio. Margin = limit − value (value − limit for a minimum).
// Decision rule: ILAC-G8:09/2019 with a guard band of U = 2u; probability of breach Φ(−margin/u) (JCGM
// 106:2012). A limit whose value is not determinable is `not_assessed`, with the reason and what to weigh;
// never passed. No law is built in: a limit says what its source said.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "reconcile/findings.hpp"
#include "rig/session.hpp"

namespace steelyard::assess {

enum class Outcome { pass, conditional_pass, conditional_fail, fail, not_assessed };
std::string_view to_text(Outcome outcome);  // pass, conditional pass, conditional fail, fail, not assessed
/// within; within, but too close to be sure; over, but too close to be sure; over; not assessed. For a
/// minimum "over" is "below".
std::string_view in_words(Outcome outcome, bool minimum = false);

enum class RigOutcome { pass, conditional_pass, incomplete, conditional_fail, fail, not_assessed };
std::string_view to_text(RigOutcome outcome);
std::string_view in_words(RigOutcome outcome);

/// One limit in one state.
struct Row {
  std::size_t limit = 0;  // index into session.rig.limits
  std::string of;         // canonical name: tow_gross, tow_axle.2 …
  std::optional<std::string> part;
  std::optional<std::string> state;  // nothing where the limit knows no state
  std::optional<double> rating;      // kg, kN or 1
  std::optional<double> value, u;
  reconcile::Measure measure = reconcile::Measure::kilogram;
  std::optional<double> margin, p_breach;
  Outcome outcome = Outcome::not_assessed;
  bool minimum = false;
  bool advice = false;
  bool governs = false;  // the lowest of the ratings of one kind in one state (coupling chain, two sources)
  bool travels = false;  // counts for the rig's outcome: the travelling state, or no state at all
  std::string at;        // the wheel or axle compared, where the limit chooses the heaviest; else empty
  std::string source;
  std::optional<std::string> reason;  // why not assessed, and what to weigh
  bool suspect = false;               // a suspect reading stands in the state that this row rests on
  std::optional<reconcile::Quantity> compared;  // the found quantity that `value` is, where it is just one
  /// What would make a conditional outcome surer: filled in by whoever holds the reconciliation.
  std::optional<reconcile::NextReading> next_reading;
};

struct Assessment {
  std::vector<Row> rows;  // limits in the sheet's order, each in the order of the states
  RigOutcome outcome = RigOutcome::not_assessed;
  int assessed = 0, not_assessed = 0;  // limits, ratings and advice together
  std::optional<std::string> travels_in;
};

Assessment assess(const rig::Session& session, const reconcile::Findings& findings);

/// Tyre load-capacity index to kilograms for one tyre, 60 to 150 (ISO 4000-1; UN R30, R54); nothing outside.
std::optional<int> load_index_kilograms(int index);

}  // namespace steelyard::assess
