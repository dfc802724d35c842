#include "sheet/csv_columns.hpp"

#include <array>

#include "rig/words.hpp"

namespace steelyard::sheet {
namespace {

using enum CellOf;
using T = CellType;
using W = CellWords;

constexpr CsvColumn session_columns[] = {
    {"session", object, T::text, "id", "", W::any, true,
     "a name for this weighing that no other has, such as registration and date; the other files refer to it, and the "
     "store knows the session by it"},
    {"weighed_at", object, T::text, "weighed.at", "", W::any, false,
     "when, with the offset to UTC: 2026-10-03T08:40+02:00"},
    {"place", object, T::text, "weighed.place", "", W::any, false, "where"},
    {"technician", object, T::text, "weighed.technician", "", W::any, false, "who weighed"},
    {"purpose", object, T::text, "weighed.purpose", "", W::any, false, "what for"},
    {"client_uid", object, T::text, "client.uid", "", W::any, false, "the client's mark in your books"},
    {"client", object, T::text, "client.name", "", W::any, false, "the client's name"},
    {"reference", object, T::text, "client.reference", "", W::any, false, "the client's order or job"},
    {"surface", object, T::text, "conditions.surface", "", W::any, false, "what the rig stood on"},
    {"wind", object, T::text, "conditions.wind", "", W::any, false, "the wind"},
    {"conditions_note", object, T::text, "conditions.note", "", W::any, false, "more of the conditions"},
    {"fuel_percent", object, T::number, "carried.fuel_percent", "%", W::any, false, "how full the fuel tank was"},
    {"occupants", object, T::number, "carried.occupants", "persons", W::any, false,
     "persons aboard while the rig was weighed"},
    {"carried_note", object, T::text, "carried.note", "", W::any, false, "what else was aboard"},
    {"tow_vehicle", key, T::text, "rig.tow_vehicle", "", W::any, true, "its name in the vehicles file"},
    {"trailer", key, T::text, "rig.trailer", "", W::any, false,
     "its name in the vehicles file; empty for a vehicle alone"},
    {"unit_load", object, T::text, "units.load", "", W::load_unit, false, "unit of this session's loads; empty: kg"},
    {"unit_length", object, T::text, "units.length", "", W::length_unit, false,
     "unit of this session's lengths; empty: mm"},
    {"placement_u", object, T::number, "placement_u", "ratio", W::any, false,
     "how well a wheel is placed on its scale, as a share of the load; usually empty"},
    {"height_sensitivity_u", object, T::number, "assumptions.height_sensitivity_u", "kg/mm", W::any, false,
     "assumed change of the coupling load with its height; usually empty"},
    {"unmeasured_height_u", object, T::number, "assumptions.unmeasured_height_u", "unit_length", W::any, false,
     "assumed uncertainty of a height nobody measured; usually empty"},
    {"raised_kg_per_mm", object, T::number, "assumptions.raised_kg_per_mm", "kg/mm", W::any, false,
     "assumed load that a raised axle gains; usually empty"},
    {"anonymous_gain_u", object, T::number, "assumptions.anonymous_gain_u", "ratio", W::any, false,
     "assumed uncertainty of a scale nobody named; usually empty"},
};

constexpr CsvColumn vehicle_columns[] = {
    {"vehicle", key, T::text, "", "", W::any, true, "a name for it in these files; sessions and limits refer to it"},
    {"kind", key, T::text, "", "", W::vehicle_kind, true, "whether it tows or is towed"},
    {"uid", object, T::text, "uid", "", W::any, false, "its mark in your books, the same in every session"},
    {"label", object, T::text, "label", "", W::any, false, "what people call it"},
    {"registration", object, T::text, "registration", "", W::any, false, "its registration"},
    {"vin", tow, T::text, "vin", "", W::any, false, "vehicle identification number"},
    {"unit_length", key, T::text, "", "", W::length_unit, false,
     "unit of the lengths in this row; empty: that of the session"},
    {"axle_places", tow, T::axles, "axles", "unit_length", W::any, false,
     "each axle from the front: how far behind the first, and front or rear: 0 front; 3085 rear"},
    {"wheelbase_u", tow, T::number, "wheelbase_u", "unit_length", W::any, false, "uncertainty of the wheelbase"},
    {"overhang", tow, T::number, "overhang.value", "unit_length", W::any, false,
     "centre of the rear axles to the coupling"},
    {"overhang_u", tow, T::number, "overhang.u", "unit_length", W::any, false, "its uncertainty"},
    {"cg_height", tow, T::number, "cg_height.value", "unit_length", W::any, false,
     "height of the centre of gravity above the ground"},
    {"cg_height_u", tow, T::number, "cg_height.u", "unit_length", W::any, false, "its uncertainty"},
    {"axles", trailer, T::number, "axles", "", W::any, false, "how many axles the trailer has"},
    {"suspension", trailer, T::text, "suspension", "", W::suspension, false, "how its axles are sprung"},
    {"self_supporting", trailer, T::truth, "self_supporting", "", W::yes_no, false,
     "yes where it stands on its own axles, its drawbar hinged"},
    {"coupling_to_axles", trailer, T::number, "coupling_to_axles.value", "unit_length", W::any, false,
     "coupling to the centre of the axles"},
    {"coupling_to_axles_u", trailer, T::number, "coupling_to_axles.u", "unit_length", W::any, false,
     "its uncertainty"},
    {"coupling_to_jockey", trailer, T::number, "coupling_to_jockey.value", "unit_length", W::any, false,
     "coupling to the jockey wheel"},
    {"coupling_to_jockey_u", trailer, T::number, "coupling_to_jockey.u", "unit_length", W::any, false,
     "its uncertainty"},
};

constexpr CsvColumn scale_columns[] = {
    {"session", key, T::text, "", "", W::any, false,
     "the one session it belongs to; empty: each session whose readings name it"},
    {"id", object, T::text, "id", "", W::any, true, "the name by which readings call it, such as P1"},
    {"uid", object, T::text, "uid", "", W::any, false, "its mark in your books, the same in every session"},
    {"serial", object, T::text, "serial", "", W::any, false, "serial number"},
    {"unit", key, T::text, "", "", W::load_unit, false, "unit of the loads in this row; empty: that of the session"},
    {"capacity", object, T::number, "capacity", "unit", W::any, false, "the most it can carry"},
    {"division", object, T::number, "division", "unit", W::any, false, "the step of its display"},
    {"accuracy_class", object, T::text, "accuracy_class", "", W::accuracy_class, false, "class on its plate"},
    {"gain", object, T::number, "gain", "ratio", W::any, false, "known error as a share of the load: 0.0004"},
    {"gain_u", object, T::number, "gain_u", "ratio", W::any, false, "uncertainty of that: 0.001"},
    {"repeatability", object, T::number, "repeatability", "unit", W::any, false,
     "standard deviation of repeated readings"},
    {"certificate", object, T::text, "certificate", "", W::any, false, "number of its certificate"},
    {"calibrated", object, T::text, "calibrated", "", W::any, false, "day of calibration: 2026-02-11"},
    {"due", object, T::text, "due", "", W::any, false, "day the next is due: 2027-02-11"},
    {"zero_before", object, T::number, "zero_before", "unit", W::any, false, "shown with nothing on it, before"},
    {"zero_after", object, T::number, "zero_after", "unit", W::any, false, "and after the weighing"},
};

constexpr CsvColumn limit_columns[] = {
    {"vehicle", key, T::text, "", "", W::any, false, "the vehicle it belongs to, wherever that is weighed, or"},
    {"session", key, T::text, "", "", W::any, false, "the one session it belongs to"},
    {"of", object, T::text, "of", "", W::limit, true, "what is limited; N in a name is an axle's number"},
    {"part", object, T::text, "part", "", W::any, false, "of coupling alone: towbar plate, ball …"},
    {"value", object, T::number, "value", "unit", W::any, false, "the limit"},
    {"unit", object, T::text, "unit", "", W::limit_unit, false,
     "unit of the value; empty: the session's for a load, else the one it always has"},
    {"against", object, T::number, "against", "unit", W::any, false, "of mass_ratio alone: the declared mass"},
    {"load_index", object, T::number, "load_index", "", W::any, false, "of a wheel end: the tyre's, in place of a value"},
    {"tyres", object, T::number, "tyres", "", W::tyres, false, "with load_index: tyres at that wheel end"},
    {"basis", object, T::text, "basis", "", W::basis, false, "of the trailer's mass: the whole, or its axles' load"},
    {"with_weight_distribution", object, T::truth, "with_weight_distribution", "", W::yes_no, false,
     "yes or no confines it to such states; empty: both"},
    {"advice", object, T::truth, "advice", "", W::yes_no, false, "yes where it is guidance and no rating"},
    {"source", object, T::text, "source", "", W::any, false, "where it was read: compliance plate …"},
    {"edition", object, T::text, "edition", "", W::any, false, "edition of a rule or a manual"},
    {"jurisdiction", object, T::text, "jurisdiction", "", W::any, false, "where a rule holds"},
    {"read_by", object, T::text, "read_by", "", W::any, false, "who read it"},
};

constexpr CsvColumn reading_columns[] = {
    {"session", key, T::text, "", "", W::any, true, "its name in the sessions file"},
    {"state", state, T::text, "name", "", W::any, true, "a name for how the rig stood: apart, together, as driven …"},
    {"hitched", state, T::truth, "hitched", "", W::yes_no, true,
     "whether the trailer hung on the tow vehicle; like every column of a state, on its first row at least"},
    {"weight_distribution", state, T::truth, "weight_distribution", "", W::yes_no, false, "whether the bars were on"},
    {"travels", state, T::truth, "travels", "", W::yes_no, false, "yes on the one state that goes on the road"},
    {"support", state, T::text, "support", "", W::support, false, "what the nose of an unhitched trailer stood on"},
    {"coupling_height", state, T::number, "coupling_height.value", "unit_length", W::any, false,
     "height of the coupling above the ground"},
    {"coupling_height_u", state, T::number, "coupling_height.u", "unit_length", W::any, false, "its uncertainty"},
    {"slope", state, T::number, "slope.value", "mm per m", W::any, false, "of the ground, nose up positive"},
    {"slope_u", state, T::number, "slope.u", "mm per m", W::any, false, "its uncertainty"},
    {"ride_heights", state, T::heights, "ride_heights", "unit_length", W::any, false,
     "as many as were taken: front_left 512; front_right 515"},
    {"at", object, T::text, "at", "", W::position, true,
     "where the scale stood; empty, with no load, for a state without readings"},
    {"load", object, T::number, "load", "unit", W::any, true, "what it showed"},
    {"unit", object, T::text, "unit", "", W::load_unit, false, "unit of the load; empty: that of the session"},
    {"scale", object, T::names, "scale", "", W::any, false, "its id; several that were added up: P1; P2"},
    {"taken_at", object, T::text, "taken_at", "", W::any, false, "when: 2026-10-03T08:51:10+02:00"},
    {"reading", object, T::text, "id", "", W::any, false, "a name for this reading; empty: r1, r2 … are given"},
    {"raised", object, T::number, "raised", "unit_length", W::any, false,
     "how far this axle stood above the others of its vehicle"},
    {"struck_why", object, T::text, "struck.why", "", W::any, false, "why the reading is set aside; empty: it counts"},
    {"struck_by", object, T::text, "struck.by", "", W::any, false, "who set it aside"},
    {"struck_at", object, T::text, "struck.at", "", W::any, false, "when"},
};

/// Axles that the lists offer; a cell may name more.
constexpr int listed_tow_axles = 3, listed_trailer_axles = 3;

std::vector<std::string> positions() {
  std::vector<std::string> all;
  for (const auto& [vehicle, axles] : {std::pair(rig::Vehicle::tow, listed_tow_axles),
                                       std::pair(rig::Vehicle::trailer, listed_trailer_axles)}) {
    for (int axle = 1; axle <= axles; ++axle) {
      for (const rig::Side side : {rig::Side::left, rig::Side::right})
        all.push_back(to_text(rig::Position::wheel(vehicle, axle, side)));
      all.push_back(to_text(rig::Position::whole_axle(vehicle, axle)));
    }
    all.push_back(to_text(rig::Position::whole(vehicle)));
  }
  all.push_back(to_text(rig::Position::support_at_coupling()));
  all.push_back(to_text(rig::Position::support_at_jockey()));
  return all;
}

std::vector<std::string> limits() {
  std::vector<std::string> all;
  for (const std::string_view name : rig::limit_names()) {
    if (!name.ends_with(".N")) {
      all.emplace_back(name);
      continue;
    }
    const bool tow_axle = name.find("tow") != std::string_view::npos;
    for (int axle = 1; axle <= (tow_axle ? listed_tow_axles : listed_trailer_axles); ++axle)
      all.push_back(std::string(name.substr(0, name.size() - 1)) + std::to_string(axle));
  }
  return all;
}

template <class... Values>
std::vector<std::string> words_of(Values... values) {
  return {std::string(rig::to_text(values))...};
}

}  // namespace

std::string_view csv_name(CsvKind kind) {
  switch (kind) {
    case CsvKind::sessions:
      return "sessions";
    case CsvKind::vehicles:
      return "vehicles";
    case CsvKind::scales:
      return "scales";
    case CsvKind::limits:
      return "limits";
    case CsvKind::readings:
      break;
  }
  return "readings";
}

std::string_view csv_purpose(CsvKind kind) {
  switch (kind) {
    case CsvKind::sessions:
      return "One row for each weighing: when, where, for whom, and which vehicles.";
    case CsvKind::vehicles:
      return "One row for each tow vehicle and each trailer, with its measures.";
    case CsvKind::scales:
      return "One row for each scale. Leave the sheet out where the scales are not known.";
    case CsvKind::limits:
      return "One row for each rating or piece of advice that the loads are compared with.";
    case CsvKind::readings:
      break;
  }
  return "One row for each reading, in the order in which they were taken.";
}

std::span<const CsvColumn> csv_columns(CsvKind kind) {
  switch (kind) {
    case CsvKind::sessions:
      return session_columns;
    case CsvKind::vehicles:
      return vehicle_columns;
    case CsvKind::scales:
      return scale_columns;
    case CsvKind::limits:
      return limit_columns;
    case CsvKind::readings:
      break;
  }
  return reading_columns;
}

std::vector<std::string> allowed_words(CellWords words) {
  switch (words) {
    case W::any:
      break;
    case W::yes_no:
      return {"yes", "no"};
    case W::load_unit:
      return {"kg", "lb"};
    case W::length_unit:
      return {"mm", "in"};
    case W::limit_unit:
      return {"kg", "lb", "kN", "1"};
    case W::vehicle_kind:
      return words_of(rig::Vehicle::tow, rig::Vehicle::trailer);
    case W::suspension:
      return words_of(rig::Suspension::single, rig::Suspension::independent, rig::Suspension::load_sharing);
    case W::support:
      return words_of(rig::Support::coupling, rig::Support::jockey);
    case W::accuracy_class:
      return words_of(rig::AccuracyClass::I, rig::AccuracyClass::II, rig::AccuracyClass::III,
                      rig::AccuracyClass::IIII);
    case W::basis:
      return words_of(rig::Basis::whole, rig::Basis::axles);
    case W::tyres:
      return {"1", "2"};
    case W::position:
      return positions();
    case W::limit:
      return limits();
  }
  return {};
}

}  // namespace steelyard::sheet
