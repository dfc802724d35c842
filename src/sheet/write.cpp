// The canonical form; sheet.hpp says what it leaves out. The text is put together directly: through a JSON
// tree it would cost more than reading it.
#include "sheet/write.hpp"

#include "rig/words.hpp"
#include "sheet/object_out.hpp"
#include "sheet/sheet.hpp"

namespace steelyard::sheet {
namespace {

std::optional<double> as_number(std::optional<int> value) {
  return value ? std::optional<double>(*value) : std::nullopt;
}

std::string_view unit_if_other(units::LoadUnit unit, const rig::Session& session) {
  return unit == session.units.load ? std::string_view() : units::symbol(unit);
}

template <class Value>
std::string_view word_of(const std::optional<Value>& value) {
  return value ? rig::to_text(*value) : std::string_view();
}

void write_scale(ObjectOut& out, const rig::Scale& scale, const rig::Session& session) {
  out.text("accuracy_class", word_of(scale.accuracy_class));
  out.text("calibrated", scale.calibrated);
  out.load("capacity", scale.capacity);
  out.text("certificate", scale.certificate);
  out.list("check_weights", scale.check_weights, [&](ObjectOut& in, const rig::CheckWeight& weight) {
    in.load("load", weight.load);
    in.load("mass", weight.mass);
    in.text("taken_at", weight.taken_at);
    in.text("unit", unit_if_other(weight.mass.unit, session));
  });
  out.load("division", scale.division);
  out.text("due", scale.due);
  out.number("gain", scale.gain);
  out.number("gain_u", scale.gain_u);
  out.word("id", scale.id);
  out.load("repeatability", scale.repeatability);
  out.text("serial", scale.serial);
  out.text("uid", scale.uid);
  out.load("zero_after", scale.zero_after);
  out.load("zero_before", scale.zero_before);
}

void write_limit(ObjectOut& out, const rig::Limit& limit, const rig::Session& session) {
  out.flag("advice", limit.advice);
  out.load("against", limit.against);
  if (limit.basis != rig::Basis::whole) out.word("basis", rig::to_text(limit.basis));
  out.text("edition", limit.edition);
  out.text("jurisdiction", limit.jurisdiction);
  out.number("load_index", as_number(limit.load_index));
  out.word("of", rig::limit_name(limit));
  out.text("part", limit.part);
  out.text("read_by", limit.read_by);
  out.text("source", limit.source);
  if (limit.tyres != 1) out.number("tyres", limit.tyres);
  if (const auto& load = limit.load ? limit.load : limit.against)
    out.text("unit", unit_if_other(load->unit, session));
  out.number("value", limit.load ? std::optional(limit.load->figure) : limit.number);
  if (limit.with_weight_distribution) out.truth("with_weight_distribution", *limit.with_weight_distribution);
}

void write_tow_vehicle(ObjectOut& out, const rig::TowVehicle& vehicle) {
  out.list("axles", vehicle.axles, [](ObjectOut& in, const rig::Axle& axle) {
    in.length("at", axle.at);
    in.word("group", rig::to_text(axle.group));
  });
  out.measured("cg_height", vehicle.cg_height);
  out.text("label", vehicle.label);
  out.measured("overhang", vehicle.overhang);
  out.text("registration", vehicle.registration);
  out.text("uid", vehicle.uid);
  out.text("vin", vehicle.vin);
  out.length("wheelbase_u", vehicle.wheelbase_u);
}

void write_trailer(ObjectOut& out, const rig::Trailer& trailer) {
  out.number("axles", trailer.axles);
  out.measured("coupling_to_axles", trailer.coupling_to_axles);
  out.measured("coupling_to_jockey", trailer.coupling_to_jockey);
  out.text("label", trailer.label);
  out.text("registration", trailer.registration);
  out.flag("self_supporting", trailer.self_supporting);
  out.text("suspension", word_of(trailer.suspension));
  out.text("uid", trailer.uid);
}

void write_rig(ObjectOut& out, const rig::Session& session) {
  out.list("limits", session.rig.limits,
           [&](ObjectOut& in, const rig::Limit& limit) { write_limit(in, limit, session); });
  out.object("tow_vehicle", [&](ObjectOut& in) { write_tow_vehicle(in, session.rig.tow_vehicle); });
  if (session.rig.trailer)
    out.object("trailer", [&](ObjectOut& in) { write_trailer(in, *session.rig.trailer); });
}

void write_reading(ObjectOut& out, const rig::Reading& reading, const rig::Session& session) {
  out.word("at", rig::to_text(reading.at));
  out.text("id", reading.id);
  out.load("load", reading.load);
  out.length("raised", reading.raised);
  out.names("scale", reading.scales);
  if (reading.struck)
    out.object("struck", [&](ObjectOut& in) {
      in.text("at", reading.struck->at);
      in.text("by", reading.struck->by);
      in.word("why", reading.struck->why);
    });
  out.text("taken_at", reading.taken_at);
  out.text("unit", unit_if_other(reading.load.unit, session));
}

void write_state(ObjectOut& out, const rig::State& state, const rig::Session& session) {
  out.measured("coupling_height", state.coupling_height);
  out.truth("hitched", state.hitched);
  out.word("name", state.name);
  out.list(
      "readings", state.readings,
      [&](ObjectOut& in, const rig::Reading& reading) { write_reading(in, reading, session); }, true);
  out.object("ride_heights", [&](ObjectOut& in) {
    for (const auto& [name, height] : state.ride_heights) in.length(name, height);
  });
  out.measured("slope", state.slope);
  out.text("support", word_of(state.support));
  out.flag("travels", state.travels);
  out.flag("weight_distribution", state.weight_distribution);
}

void write_circumstances(ObjectOut& out, const rig::Session& session) {
  out.object("assumptions", [&](ObjectOut& in) {
    in.number("anonymous_gain_u", session.assumptions.anonymous_gain_u);
    in.number("height_sensitivity_u", session.assumptions.height_sensitivity_u);
    in.number("raised_kg_per_mm", session.assumptions.raised_kg_per_mm);
    in.length("unmeasured_height_u", session.assumptions.unmeasured_height_u);
  });
  out.object("carried", [&](ObjectOut& in) {
    in.number("fuel_percent", session.carried.fuel_percent);
    in.text("note", session.carried.note);
    in.number("occupants", as_number(session.carried.occupants));
  });
  out.object("client", [&](ObjectOut& in) {
    in.text("name", session.client.name);
    in.text("reference", session.client.reference);
    in.text("uid", session.client.uid);
  });
  out.object("conditions", [&](ObjectOut& in) {
    in.text("note", session.conditions.note);
    in.text("surface", session.conditions.surface);
    in.text("wind", session.conditions.wind);
  });
}

void write_modifications(ObjectOut& out, const rig::Session& session) {
  out.list("modifications", session.modifications, [](ObjectOut& in, const rig::Modification& modification) {
    in.length("at", modification.at);
    in.text("certificate", modification.certificate);
    in.load("mass", modification.mass);
    in.word("what", modification.what);
  });
}

void write_session(ObjectOut& out, const rig::Session& session, bool with_id) {
  write_circumstances(out, session);
  out.word("format", "steelyard-session/1");
  if (with_id) out.text("id", session.id);
  write_modifications(out, session);
  out.number("placement_u", session.placement_u);
  out.text("replaces", session.replaces);
  if (session.revised)
    out.object("revised", [&](ObjectOut& in) {
      in.text("at", session.revised->at);
      in.text("by", session.revised->by);
      in.word("why", session.revised->why);
    });
  if (session.revision != 1) out.number("revision", session.revision);
  out.object("rig", [&](ObjectOut& in) { write_rig(in, session); });
  out.list("scales", session.scales,
           [&](ObjectOut& in, const rig::Scale& scale) { write_scale(in, scale, session); });
  out.list("states", session.states,
           [&](ObjectOut& in, const rig::State& state) { write_state(in, state, session); });
  out.object("units", [&](ObjectOut& in) {
    const rig::SheetUnits defaults;
    if (session.units.length != defaults.length) in.word("length", units::symbol(session.units.length));
    if (session.units.load != defaults.load) in.word("load", units::symbol(session.units.load));
  });
  out.object("weighed", [&](ObjectOut& in) {
    in.text("at", session.weighed.at);
    in.text("place", session.weighed.place);
    in.text("purpose", session.weighed.purpose);
    in.text("technician", session.weighed.technician);
  });
}

}  // namespace

Written write_canonical(const rig::Session& session, bool with_id) {
  Writing writing(session);
  writing.text.reserve(6'000);
  const Place root;
  ObjectOut out(writing, root);
  write_session(out, session, with_id);
  out.finish();
  return {std::move(writing.text), writing.extras_written};
}

std::string write(const rig::Session& session) {
  return write_canonical(session, true).text;
}

}  // namespace steelyard::sheet
