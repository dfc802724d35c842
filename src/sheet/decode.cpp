#include "sheet/decode.hpp"

#include <algorithm>
#include <tuple>

#include "rig/words.hpp"

namespace steelyard::sheet {
namespace {

void decode_format(Fields& fields) {
  constexpr std::string_view format = "steelyard-session/1";
  fields.require("format", "\"steelyard-session/1\"");
  const auto known = [&](std::string_view word) {
    return word == format ? std::optional(format) : std::nullopt;
  };
  fields.word("format", known, "\"steelyard-session/1\", the only form this program reads");
}

rig::SheetUnits decode_units(Fields& fields) {
  rig::SheetUnits units;
  units.load = fields.word("load", rig::parse_load_unit, "kg or lb").value_or(units.load);
  units.length = fields.word("length", rig::parse_length_unit, "mm or in").value_or(units.length);
  return units;
}

/// One unit for both: a check weight is shown in the unit that it is marked in.
rig::CheckWeight decode_check_weight(Fields& fields) {
  fields.require("mass", "the known mass, a number");
  fields.require("load", "what the scale showed, a number");
  const double mass = fields.number("mass").value_or(0), load = fields.number("load").value_or(0);
  const auto unit = fields.word("unit", rig::parse_load_unit, "kg or lb").value_or(fields.decoding().units.load);
  return {{mass, unit}, {load, unit}, fields.text("taken_at")};
}

rig::Scale decode_scale(Fields& fields) {
  rig::Scale scale;
  fields.require("id", "the name by which readings call this scale, such as \"P1\"");
  scale.id = fields.text("id");
  scale.uid = fields.text("uid");
  scale.serial = fields.text("serial");
  scale.capacity = fields.load("capacity");
  scale.division = fields.load("division");
  scale.repeatability = fields.load("repeatability");
  scale.zero_before = fields.load("zero_before");
  scale.zero_after = fields.load("zero_after");
  scale.gain = fields.number("gain");
  scale.gain_u = fields.number("gain_u");
  scale.accuracy_class = fields.word("accuracy_class", rig::parse_accuracy_class, "I, II, III or IIII");
  scale.certificate = fields.text("certificate");
  scale.calibrated = fields.text("calibrated");
  scale.due = fields.text("due");
  fields.list_of("check_weights", scale.check_weights, decode_check_weight);
  return scale;
}

rig::Modification decode_modification(Fields& fields) {
  rig::Modification modification;
  fields.require("what", "what was fitted or removed");
  modification.what = fields.text("what");
  modification.mass = fields.load("mass");
  modification.at = fields.length("at");
  modification.certificate = fields.text("certificate");
  return modification;
}

rig::Assumptions decode_assumptions(Fields& fields) {
  rig::Assumptions assumptions;
  assumptions.height_sensitivity_u = fields.number("height_sensitivity_u");
  assumptions.unmeasured_height_u = fields.length("unmeasured_height_u");
  assumptions.raised_kg_per_mm = fields.number("raised_kg_per_mm");
  assumptions.anonymous_gain_u = fields.number("anonymous_gain_u");
  return assumptions;
}

void decode_heading(Fields& fields, rig::Session& session) {
  session.id = fields.text("id");
  session.revision = fields.whole("revision").value_or(1);
  session.replaces = fields.text("replaces");
  fields.object("revised", [&](Fields& in) {
    in.require("why", "why the session was amended");
    session.revised = rig::Revised{in.text("why"), in.text("by"), in.text("at")};
  });
  fields.object("weighed", [&](Fields& in) {
    session.weighed = {in.text("at"), in.text("place"), in.text("technician"), in.text("purpose")};
  });
  fields.object("client", [&](Fields& in) {
    session.client = {in.text("uid"), in.text("name"), in.text("reference")};
  });
  fields.object("conditions", [&](Fields& in) {
    session.conditions = {in.text("surface"), in.text("wind"), in.text("note")};
  });
  fields.object("carried", [&](Fields& in) {
    session.carried = {in.number("fuel_percent"), in.whole("occupants"), in.text("note")};
  });
}

}  // namespace

rig::Session decode(json& sheet, Decoding& decoding) {
  rig::Session session;
  const Place root;
  Fields fields(decoding, sheet, root);
  decode_format(fields);
  fields.object("units", [&](Fields& in) { decoding.units = decode_units(in); });
  session.units = decoding.units;
  decode_heading(fields, session);
  fields.list_of("modifications", session.modifications, decode_modification);
  session.placement_u = fields.number("placement_u");
  fields.object("assumptions", [&](Fields& in) { session.assumptions = decode_assumptions(in); });
  fields.list_of("scales", session.scales, decode_scale);
  fields.require("rig", "the rig with its tow_vehicle");
  fields.object("rig", [&](Fields& in) { session.rig = decode_rig(in); });
  fields.require("states", "the list of states that were weighed");
  fields.list_of("states", session.states, decode_state);
  fields.finish();
  session.extras = std::move(decoding.extras);
  std::sort(session.extras.begin(), session.extras.end(), [](const rig::Extra& a, const rig::Extra& b) {
    return std::tie(a.place, a.key) < std::tie(b.place, b.key);
  });
  return session;
}

}  // namespace steelyard::sheet
