// One weighing session as plain values: what the sheet says, nothing computed.
//
// Units: loads and lengths keep figure and unit as entered (units::Load, units::Length); .kg() and .mm()
// convert exactly. Relative figures (gain, placement_u) are plain ratios; a slope is in mm per m, nose-up
// positive. Texts that are not given are empty; times are ISO 8601 with an offset, dates YYYY-MM-DD, both as
// written. Invariants of a Session that came out of src/sheet or src/store: every position, scale and state
// it names exists; readings that stand on a support have that support; ids of scales, states and readings are
// unique.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "rig/limit.hpp"
#include "rig/position.hpp"
#include "units/quantity.hpp"

namespace steelyard::rig {

struct SheetUnits {
  units::LoadUnit load = units::LoadUnit::kilogram;
  units::LengthUnit length = units::LengthUnit::millimetre;
  bool operator==(const SheetUnits&) const = default;
};

/// A measured length; no `u` where it was given as a bare number.
struct MeasuredLength {
  units::Length value;
  std::optional<units::Length> u;
  bool operator==(const MeasuredLength&) const = default;
};

/// A slope in mm per m, nose-up positive; no `u` where it was given as a bare number.
struct MeasuredSlope {
  double value = 0;
  std::optional<double> u;
  bool operator==(const MeasuredSlope&) const = default;
};

struct Weighed {
  std::string at, place, technician, purpose;
  bool operator==(const Weighed&) const = default;
};

struct Client {
  std::string uid, name, reference;
  bool operator==(const Client&) const = default;
};

struct Conditions {
  std::string surface, wind, note;
  bool operator==(const Conditions&) const = default;
};

struct Carried {
  std::optional<double> fuel_percent;
  std::optional<int> occupants;
  std::string note;
  bool operator==(const Carried&) const = default;
};

/// Something fitted to the rig: its declared mass, and its place behind the first axle.
struct Modification {
  std::string what;
  std::optional<units::Load> mass;
  std::optional<units::Length> at;
  std::string certificate;
  bool operator==(const Modification&) const = default;
};

/// The trade's defaults that a sheet may set itself (reconciliation model, section 4).
struct Assumptions {
  std::optional<double> height_sensitivity_u;  // kg per mm, whatever the sheet's units
  std::optional<units::Length> unmeasured_height_u;
  std::optional<double> raised_kg_per_mm;  // kg per mm, whatever the sheet's units
  std::optional<double> anonymous_gain_u;  // relative
  bool operator==(const Assumptions&) const = default;
};

/// A known mass put on a scale, and what the scale showed.
struct CheckWeight {
  units::Load mass, load;
  std::string taken_at;
  bool operator==(const CheckWeight&) const = default;
};

enum class AccuracyClass { I, II, III, IIII };  // OIML R 76-1

struct Scale {
  std::string id;   // within the session
  std::string uid;  // the same scale in another session or store
  std::string serial;
  std::optional<units::Load> capacity, division, repeatability, zero_before, zero_after;
  std::optional<double> gain;    // known relative gain error, from the certificate
  std::optional<double> gain_u;  // its standard uncertainty
  std::optional<AccuracyClass> accuracy_class;
  std::string certificate, calibrated, due;
  std::vector<CheckWeight> check_weights = {};
  bool operator==(const Scale&) const = default;
};

enum class Group { front, rear };

struct Axle {
  units::Length at;  // behind any fixed origin on the vehicle; increasing from axle to axle
  Group group = Group::front;
  bool operator==(const Axle&) const = default;
};

struct TowVehicle {
  std::string uid, label, registration, vin;
  std::vector<Axle> axles;  // from the front; at least one of each group, front group first
  std::optional<units::Length> wheelbase_u;
  std::optional<MeasuredLength> overhang;  // rear group's centre to coupling, rearward positive
  std::optional<MeasuredLength> cg_height;
  bool operator==(const TowVehicle&) const = default;
};

enum class Suspension { single, independent, load_sharing };

struct Trailer {
  std::string uid, label, registration;
  int axles = 1;
  std::optional<Suspension> suspension;  // silent: single for one axle, else independent
  bool self_supporting = false;
  std::optional<MeasuredLength> coupling_to_axles;   // D
  std::optional<MeasuredLength> coupling_to_jockey;  // j
  bool operator==(const Trailer&) const = default;

  [[nodiscard]] Suspension suspension_or_default() const {
    return suspension.value_or(axles == 1 ? Suspension::single : Suspension::independent);
  }
};

struct Rig {
  TowVehicle tow_vehicle;
  std::optional<Trailer> trailer;
  std::vector<Limit> limits;
  bool operator==(const Rig&) const = default;
};

/// A reading set aside: who did it, why and when. It stays on record and takes no part in the solution.
struct Strike {
  std::string why, by, at;
  bool operator==(const Strike&) const = default;
};

struct Reading {
  std::string id;  // unique in the session; empty only before import
  Position at;
  units::Load load;
  std::vector<std::string> scales;      // ids; several are summed; none: the scale is not known
  std::optional<units::Length> raised;  // how far this axle stood above the others of its vehicle
  std::string taken_at;
  std::optional<Strike> struck;
  bool operator==(const Reading&) const = default;
};

enum class Support { coupling, jockey };

struct State {
  std::string name;
  bool hitched = false;
  bool weight_distribution = false;
  bool travels = false;
  std::optional<Support> support;  // only where not hitched
  std::optional<MeasuredLength> coupling_height;
  std::optional<MeasuredSlope> slope;
  std::vector<std::pair<std::string, units::Length>> ride_heights;  // sorted by name
  std::vector<Reading> readings;
  bool operator==(const State&) const = default;
};

/// A key beginning "x-": kept as it came. `place` is the path of the object it stood in ("", "rig.trailer",
/// "states[0].readings[2]"), `json` its value as compact JSON text.
struct Extra {
  std::string place, key, json;
  bool operator==(const Extra&) const = default;
};

/// Why, by whom and when a session was amended.
struct Revised {
  std::string why, by, at;
  bool operator==(const Revised&) const = default;
};

struct Session {
  std::string id;  // as given, else derived from the content
  int revision = 1;
  std::string replaces;  // what an amended sheet replaces; empty otherwise
  std::optional<Revised> revised = {};  // of an amended sheet
  SheetUnits units;
  Weighed weighed;
  Client client;
  Conditions conditions;
  Carried carried;
  std::vector<Modification> modifications;
  std::optional<double> placement_u;
  Assumptions assumptions;
  std::vector<Scale> scales;
  Rig rig;
  std::vector<State> states;
  std::vector<Extra> extras;
  bool operator==(const Session&) const = default;
};

/// The state the rig goes on the road in: the one marked, else the last hitched one; for a vehicle alone the
/// last state. Nothing where there is a trailer and no state is hitched.
const State* travelling_state(const Session& session);

const State* find_state(const Session& session, std::string_view name);
const Scale* find_scale(const Session& session, std::string_view id);

}  // namespace steelyard::rig
