// What a reconciliation found: every quantity with its uncertainty, every observation with how well it fits.
//
// Units: loads in kg (the mass a scale shows), lengths in mm, moments in kg·mm, whatever the sheet's units.
// u is a standard uncertainty (JCGM 100); U = 2u; a 95 % interval uses z = 1.959964.
// Invariants: a determinable quantity has value and u; one that is not has neither, and has `needs`.
// Values are const once made: nothing here asks anything of the store or the reports.
// Source: reconciliation model, sections 5 to 7 (DEVELOPERS.md names the equations).
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "rig/session.hpp"

namespace steelyard::reconcile {

/// What to weigh or measure so that a quantity becomes determinable.
struct Need {
  /// Readings to take in a state that is there, or (with `new_state`) in one still to be made.
  struct Step {
    std::string state;
    std::optional<rig::State> new_state;  // its arrangement, without readings
    std::vector<rig::Position> positions;
  };
  std::string text;         // one sentence for people
  std::vector<Step> weigh;  // empty where measuring the overhang is enough
  bool tape_overhang = false;
  std::optional<std::string> measure_height_in;  // a state whose coupling height has to be measured besides
};

enum class Measure { kilogram, millimetre, one, kilogram_per_millimetre, kilogram_millimetre, kilonewton };
std::string_view symbol(Measure measure);  // kg, mm, 1, kg/mm, kg·mm, kN

struct Quantity {
  std::string name;
  std::optional<std::string> state;
  std::optional<std::string> at;
  Measure measure = Measure::kilogram;
  bool determinable = false;
  double value = 0;                                   // only where determinable
  double u = 0;                                       // only where determinable
  std::optional<std::pair<double, double>> interval;  // Fieller's, of the inferred quantities
  std::optional<Need> needs;                          // only where not determinable
};

enum class ObservationKind {
  reading,
  gain,
  wheelbase,
  overhang,
  coupling_to_axles,
  coupling_to_jockey,
  height_sensitivity,
  coupling_height,
  level,
  cg_height,
};
std::string_view to_text(ObservationKind kind);

struct Observation {
  ObservationKind kind = ObservationKind::reading;
  std::optional<std::string> id;     // of a reading
  std::optional<std::string> state;  // of a reading, a coupling height, a level
  std::optional<std::string> at;     // of a reading
  std::vector<std::string> scales;   // of a reading or a gain
  double value = 0;
  double u = 0;
  double fitted = 0;
  double residual = 0;                        // value − fitted
  double redundancy = 0;                      // 0: nothing checks it, 1: fully checked
  std::optional<double> normalised_residual;  // only where checked (redundancy ≥ 0.01)
  std::optional<double> smallest_detectable;  // likewise
};

struct Fit {
  int observations = 0;
  int unknowns = 0;  // rank of the design, so observations − unknowns = degrees of freedom
  int degrees_of_freedom = 0;
  double chi_square = 0;
  std::optional<double> p_value;   // nothing at no freedom
  std::optional<bool> consistent;  // nothing at no freedom
  int iterations = 0;
  bool overhang_held = false;  // the solution did not converge with a free overhang (model, section 5)
};

/// A further reading, or the tape, that would tell something.
struct NextReading {
  enum class Kind { reading, overhang };
  Kind kind = Kind::reading;
  std::string state;                // empty for the tape
  std::optional<rig::Position> at;  // of a reading
  std::vector<std::string> scales;  // it is supposed to be read on these; none: on a scale not named
  bool again = false;               // a position that was read before
  bool new_state = false;           // `state` is still to be made: the trailer alone, its coupling on a scale
  double after = 0;                 // mean size of the suspect set it leaves, or the u that a quantity then has
};

/// The blunders of the trade (interchange form, explanation kinds).
enum class Blunder {
  digits_swapped,
  digit_dropped,
  digit_doubled,
  pounds_for_kilograms,
  sides_swapped,
  axles_swapped,
  states_swapped,
  scale_not_zeroed,
  jockey_still_loaded,
  jockey_taken_for_coupling,
  person_aboard,
  tyre_off_scale,
  weight_distribution_mislabelled,
};
std::string_view to_text(Blunder blunder);

/// A blunder that makes the readings agree: a hypothesis that was solved. It proposes and alters nothing.
struct Explanation {
  /// A reading as it stands and as it would have been without the blunder; the unit is the one it was entered
  /// in. `meant` of a reading that keeps its load and changes its place is the load itself.
  struct Correction {
    std::size_t observation = 0;  // index into Findings::observations
    units::Load read, meant;
  };
  Blunder kind = Blunder::digits_swapped;
  std::optional<std::string> state;     // the state it happened in, or the first of two
  std::optional<std::string> scale;     // scale_not_zeroed, pounds_for_kilograms of all readings on one scale
  std::optional<rig::Vehicle> vehicle;  // somebody was aboard of it
  std::vector<Correction> corrections;  // the suspect reading first
  /// kg: the offset, the load still carried, the person; kg·mm: the moment of the bars. Nothing where the
  /// blunder has no free size.
  std::optional<double> size, size_u;
  bool exact = false;  // restores whole figures as they may have been read, without a free size
  double chi_square = 0;
  int degrees_of_freedom = 0;
  double p_value = 0;
  bool tied = false;  // fits as well as the first of its list: within 3.84 in chi-square
};

/// One observation of a suspect set; estimated_error = residual / redundancy, what it would be off by alone.
struct SuspectMember {
  std::size_t observation = 0;  // index into Findings::observations
  double estimated_error = 0;
  /// The coupling load, or without one the tow vehicle's total, were this observation set aside; value and u,
  /// in closed form. Nothing where it would not be determinable.
  std::optional<std::pair<double, double>> main_figure_without = {};
};

/// Observations that cannot be told apart: any one of them may be the one that is off. Each set but the first
/// was found with the likeliest of those before it set aside.
struct SuspectSet {
  std::vector<SuspectMember> members;  // readings first
  std::size_t likeliest = 0;           // index into members: what was set aside to search on
  std::vector<Explanation> explanations;
  std::optional<NextReading> next_reading;
};

struct Findings {
  std::string session;
  int revision = 1;
  Fit fit;
  std::vector<Quantity> quantities;        // the contract's, in its order
  std::vector<Quantity> limit_quantities;  // what only limits compare with: shares, corrected groups …
  std::vector<Observation> observations;
  std::vector<SuspectSet> suspects;
  std::string reference_state;  // whose height is the reference height; empty where there is none

  /// The quantity of that name, state and position in `quantities`, or null. Empty text: none.
  [[nodiscard]] const Quantity* find(std::string_view name, std::string_view state = {},
                                     std::string_view at = {}) const;
  [[nodiscard]] const Quantity* find_for_limit(std::string_view name, std::string_view state = {},
                                               std::string_view at = {}) const;
};

}  // namespace steelyard::reconcile
