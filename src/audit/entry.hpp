// One session as an audit sees it: who, when, where, what came out. Small, since a fleet has a hundred thousand.
//
// Units: loads in kg, shares and ratios plain, a D-value in kN, as the limit. Texts are views of the audit's Names and live
// as long. Invariants: ratings are those of the travelling state that govern or were not assessed, the most telling first
// (assess/deciding.hpp). No errors.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "assess/assessment.hpp"
#include "audit/names.hpp"
#include "reconcile/findings.hpp"
#include "rig/session.hpp"

namespace steelyard::audit {

/// One rating held against what was found.
struct Rated {
  std::string_view of, part, source, reason;  // canonical name; reason: why it was not assessed
  rig::LimitKind kind = rig::LimitKind::tow_gross;
  reconcile::Measure measure = reconcile::Measure::kilogram;
  assess::Outcome outcome = assess::Outcome::not_assessed;
  bool minimum = false, suspect = false;
  std::optional<double> rating, value, u;
  double used = 0;  // assess::used

  [[nodiscard]] bool outside() const {
    return outcome == assess::Outcome::fail || outcome == assess::Outcome::conditional_fail;
  }
};

/// The likeliest suspect of a session whose readings do not fit.
struct Suspect {
  reconcile::ObservationKind kind = reconcile::ObservationKind::reading;
  std::string_view id, state, at, scale;
  double error = 0;                           // by how much it would be off alone, in the observation's measure
  std::uint32_t others = 0;                   // that it may be instead
  std::optional<reconcile::Blunder> blunder;  // what explains it best
};

struct ScaleOutOfDate {
  std::string_view uid, name, due;  // name: serial, else id; due YYYY-MM-DD
};

struct Figure {
  double value = 0, u = 0;
};

struct Entry {
  std::string_view id, day, time, place, technician, purpose;  // day: YYYY-MM-DD where it was weighed; time: as written
  std::string_view client_uid, client, tow_uid, tow, trailer_uid, trailer;
  std::string_view rig_kind;  // "2-axle vehicle, 2-axle trailer"
  int revision = 1;
  bool sealed = false, has_trailer = false;
  units::LoadUnit load_unit = units::LoadUnit::kilogram;
  assess::RigOutcome outcome = assess::RigOutcome::not_assessed;
  std::vector<Rated> ratings;
  std::optional<std::uint32_t> nearest;  // index into ratings
  std::optional<Figure> coupling_load, coupling_share, tow_mass, trailer_mass, combination_mass;  // tow_mass: unhitched
  std::optional<bool> consistent;        // nothing: cannot be tested
  std::optional<Suspect> suspect;
  std::vector<ScaleOutOfDate> scales_out_of_date;
  std::string_view not_solved;  // why there is no solution; empty where there is one

  /// A load reads over its rating, or a minimum is not reached.
  [[nodiscard]] bool outside() const {
    return outcome == assess::RigOutcome::fail || outcome == assess::RigOutcome::conditional_fail;
  }
  /// At least one rating has been held against what was found.
  [[nodiscard]] bool assessed() const { return nearest.has_value(); }
};

Entry entry_of(const rig::Session& session, const reconcile::Findings& findings, const assess::Assessment& assessment,
               Names& names);

/// Of a session that has no solution.
Entry entry_without_solution(const rig::Session& session, std::string_view why, Names& names);

}  // namespace steelyard::audit
