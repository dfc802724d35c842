// Before weighing: which states and positions to weigh, in what order and on which scales, for a wanted
// uncertainty, and what reading every position twice would buy.
//
// Takes a checked Session whose states may be empty; readings that are there serve only to suppose loads, for
// the uncertainty of a reading hangs on its load. Every figure of uncertainty comes from the engine itself,
// given readings free of noise at the supposed loads: it is what reconcile gives for readings taken to this
// plan, as near as the loads are what was supposed.
//
// Units: kg, mm, kg·mm and plain ratios, as Findings. u is a standard uncertainty.
// Errors: reconcile::NotSolved where nothing converges. Source: reconciliation model, sections 3 to 5;
// choosing by rank-one updates, section 7 (The next reading); a reading is checked as section 7 says it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "reconcile/findings.hpp"
#include "rig/session.hpp"

namespace steelyard::plan {

// Where nothing is asked for. Common practice, no source.
inline constexpr double usual_coupling_u = 4;       // kg
inline constexpr double usual_margin_share = 0.01;  // of the rating

/// What may be left out of a plan.
enum class Rule {
  checked,  // nothing that another reading is checked by, where every position once would check that
  least,    // all that what is wanted can do without: an error may then go unnoticed
};
std::string_view to_text(Rule rule);

struct Wanted {
  std::optional<double> coupling_u;  // kg, of the coupling load and of margins on it
  std::optional<double> margin_u;    // kg, of every other margin that is a load
  Rule rule = Rule::checked;
};

/// Where a supposed figure comes from.
enum class Origin { given, readings, ratings, usual };
std::string_view to_text(Origin origin);

/// A figure of the rig that nobody has weighed yet. `name` is a quantity's, or coupling_to_axles,
/// coupling_to_jockey, coupling_height or left_share (the left wheel end's part of its axle).
struct Supposition {
  std::string name;
  std::optional<std::string> state;
  reconcile::Measure measure = reconcile::Measure::kilogram;
  double value = 0;
  Origin origin = Origin::usual;
};

/// One reading to take. Readings of one set-down are taken without moving anything.
struct Step {
  std::string state;
  rig::Position at;
  std::vector<std::string> scales;   // none: a scale that the sheet does not list
  int pass = 1;                      // 2: once more, after rolling off
  int set_down = 1;                  // counts through the whole plan
  double expected = 0;               // kg, what the scale will show if the rig is as supposed
  std::optional<double> coupling_u;  // of the coupling load after this step; nothing while not determinable
  /// kg: the error of this reading that the whole plan notices four times in five; nothing: no other checks
  /// it.
  std::optional<double> smallest_detectable;
};

struct PlannedState {
  rig::State state;    // its arrangement, without readings
  bool added = false;  // the sheet does not have it
  int readings = 0;    // 0: weighing it is not needed
};

/// A figure that the plan is made for: the coupling load, or what a limit compares.
struct Aim {
  std::optional<std::size_t> limit = {};  // index into the sheet's limits; nothing: the coupling load itself
  std::optional<std::string> state = {};
  std::optional<double> rating = {};
  reconcile::Measure measure = reconcile::Measure::kilogram;
  /// u; nothing for shares, which follow from the loads and only have to be determinable.
  std::optional<double> wanted = {};
  std::optional<double> once = {}, plan = {}, twice = {};  // u; nothing: not determinable
  bool reached = false;                                    // by the plan
};

/// What could be done besides weighing.
enum class Remedy {
  none,
  tape_overhang,
  measure_heights,
  measure_slope,
  measure_to_axles,
  measure_to_jockey,
  known_gains,
};
std::string_view to_text(Remedy remedy);

/// An aim that even every position twice does not reach.
struct Shortfall {
  std::size_t aim = 0;          // index into Plan::aims
  std::optional<double> floor;  // u with every position twice; nothing: not determinable
  reconcile::ObservationKind governed_by = reconcile::ObservationKind::reading;
  double share = 0;  // of the variance that is left
  Remedy remedy = Remedy::none;
  std::optional<double> with_remedy;  // u with every position twice and that done
};

/// A weighing and what it will tell.
struct Prospect {
  rig::Session session;  // with the supposed loads as readings
  reconcile::Findings findings;
  int readings = 0, set_downs = 0;
  int unchecked = 0;  // readings that no other one checks
  /// kg: the smallest error that is noticed four times in five, median and largest of the checked readings.
  std::optional<double> smallest_detectable, largest_detectable;
};

struct Plan {
  Wanted wanted;  // as asked
  std::vector<Supposition> suppositions;
  int readings_there = 0;  // in the sheet, not struck: used for nothing but the supposed loads
  std::vector<PlannedState> states;
  std::vector<Step> steps;
  std::vector<Aim> aims;
  std::vector<Shortfall> shortfalls;
  Prospect chosen;  // the plan
  Prospect once;    // every position in every state once
  Prospect twice;   // and twice
};

Plan plan_weighing(const rig::Session& sheet, const Wanted& wanted);

}  // namespace steelyard::plan
