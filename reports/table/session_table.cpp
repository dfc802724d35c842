#include <utility>
#include <vector>

#include "reports/table/limit_words.hpp"
#include "reports/table/result_table.hpp"
#include "reports/words/terminal_text.hpp"
#include "rig/words.hpp"
#include "units/number.hpp"

namespace steelyard::reports {
namespace {

std::string entered(const units::Load& load) {
  return units::shortest(load.figure) + ' ' + std::string(symbol(load.unit));
}
std::string entered(const units::Length& length) {
  return units::shortest(length.figure) + ' ' + std::string(symbol(length.unit));
}
std::string entered(const rig::MeasuredLength& length) {
  const std::string u = length.u ? " (u " + units::shortest(length.u->figure) + ')' : "";
  return entered(length.value) + u;
}

/// "name  value, value": only what was given, nothing where nothing was.
std::string listed(std::string_view name, const std::vector<std::pair<std::string, std::string>>& values) {
  std::string text;
  for (const auto& [what, value] : values)
    if (!value.empty()) text += (text.empty() ? "" : ", ") + (what.empty() ? value : what + ' ' + value);
  return text.empty() ? "" : paragraph(std::string("  ") + pad_right(name, 13), text);
}

template <class Value>
std::string maybe(const std::optional<Value>& value) {
  return value ? entered(*value) : "";
}
std::string maybe(const std::optional<double>& value) {
  return value ? units::shortest(*value) : "";
}

std::string tow_vehicle(const rig::TowVehicle& tow) {
  std::string axles;
  for (const rig::Axle& axle : tow.axles)
    axles += (axles.empty() ? "" : "; ") + std::string(rig::to_text(axle.group)) + " at " + entered(axle.at);
  return listed("tow vehicle", {{"", vehicle_in_words(tow.label, tow.registration)},
                                {"VIN", printable(tow.vin)},
                                {"axles", axles},
                                {"wheelbase u", maybe(tow.wheelbase_u)},
                                {"overhang", maybe(tow.overhang)},
                                {"centre of gravity", maybe(tow.cg_height)}});
}

std::string trailer(const rig::Trailer& trailer, const Wording& wording) {
  const std::string to_jockey = wording.plain() ? "coupling to jockey" : wording("coupling to jockey wheel");
  return listed("trailer",
                {{"", vehicle_in_words(trailer.label, trailer.registration)},
                 {"axles", std::to_string(trailer.axles)},
                 {"suspension", trailer.suspension ? std::string(rig::to_text(*trailer.suspension)) : ""},
                 {"", trailer.self_supporting ? "stands on its own axles" : ""},
                 {"coupling to axles", maybe(trailer.coupling_to_axles)},
                 {to_jockey, maybe(trailer.coupling_to_jockey)}});
}

std::string scale(const rig::Scale& scale) {
  const std::string of_class = scale.accuracy_class ? std::string(rig::to_text(*scale.accuracy_class)) : "";
  return listed("scale " + printable(scale.id), {{"serial", printable(scale.serial)},
                                                 {"capacity", maybe(scale.capacity)},
                                                 {"division", maybe(scale.division)},
                                                 {"repeatability", maybe(scale.repeatability)},
                                                 {"class", of_class},
                                                 {"gain", maybe(scale.gain)},
                                                 {"gain u", maybe(scale.gain_u)},
                                                 {"certificate", printable(scale.certificate)},
                                                 {"calibrated", printable(scale.calibrated)},
                                                 {"due", printable(scale.due)},
                                                 {"zero before", maybe(scale.zero_before)},
                                                 {"zero after", maybe(scale.zero_after)}});
}

std::string check_weight(const rig::CheckWeight& weight) {
  return listed("checked", {{"", entered(weight.mass) + " showed " + entered(weight.load)},
                            {"", printable(weight.taken_at)}});
}

std::string limit(const rig::Limit& limit, const Wording& wording) {
  std::string value = limit.load ? entered(*limit.load) : "";
  if (limit.number) value = units::shortest(*limit.number);
  if (rig::measure_of(limit.kind) == rig::Measure::force_kn) value += " kN";
  if (limit.load_index)
    value = "load index " + std::to_string(*limit.load_index) + ", tyres " + std::to_string(limit.tyres);
  std::string when;
  if (limit.with_weight_distribution)
    when =
        wording(*limit.with_weight_distribution ? "with weight distribution" : "without weight distribution");
  return listed("limit", {{"", wording.plain() ? rig::limit_name(limit) : brief_limit_words(limit, wording)},
                          {"", printable(limit.part)},
                          {"", value},
                          {"", limit.basis == rig::Basis::axles ? "axles' load only" : ""},
                          {"against", maybe(limit.against)},
                          {"", when},
                          {"", limit.advice ? "advice" : ""},
                          {"from", printable(limit.source)},
                          {"edition", printable(limit.edition)},
                          {"jurisdiction", printable(limit.jurisdiction)},
                          {"read by", printable(limit.read_by)}});
}

std::string reading(const rig::Reading& reading) {
  std::string scales;
  for (const std::string& id : reading.scales) scales += (scales.empty() ? "" : " + ") + printable(id);
  std::string more = scales.empty() ? "scale not named" : "on " + scales;
  if (reading.raised) more += ", raised " + entered(*reading.raised);
  if (!reading.taken_at.empty()) more += ", " + printable(reading.taken_at);
  std::string out = "  " + pad_right(printable(reading.id), 6) + pad_right(rig::to_text(reading.at), 17) +
                    pad_left(entered(reading.load), 12);
  out = paragraph(out + "  ", more);
  if (reading.struck) {
    std::string struck = printable(reading.struck->why);
    if (!reading.struck->by.empty()) struck += ", " + printable(reading.struck->by);
    if (!reading.struck->at.empty()) struck += ", " + printable(reading.struck->at);
    out += paragraph("        set aside: ", struck);
  }
  return out;
}

/// The sheet's word; a region's own where it has one.
std::string support_words(rig::Support support, const Wording& wording) {
  if (wording.plain() || support != rig::Support::jockey) return std::string(rig::to_text(support));
  return wording("jockey wheel");
}

std::string state(const rig::State& state, bool travels, const Wording& wording) {
  std::string what = state.hitched ? "hitched" : "not hitched";
  if (state.weight_distribution) what += ", " + wording("weight distribution");
  if (state.support) what += ", nose on the " + support_words(*state.support, wording);
  if (state.coupling_height) what += ", coupling at " + entered(*state.coupling_height);
  if (state.slope) what += ", slope " + units::shortest(state.slope->value) + " mm per m";
  if (travels) what += "; travels like this";
  std::string out = '\n' + paragraph("", '"' + printable(state.name) + "\": " + what);
  std::string heights;
  for (const auto& [name, height] : state.ride_heights)
    heights += (heights.empty() ? "" : ", ") + printable(name) + ' ' + entered(height);
  if (!heights.empty()) out += paragraph("  ride heights ", heights);
  for (const rig::Reading& one : state.readings) out += reading(one);
  if (state.readings.empty()) out += "  no readings\n";
  return out;
}

std::string circumstances(const rig::Session& session) {
  const rig::Carried& carried = session.carried;
  const std::string occupants = carried.occupants ? std::to_string(*carried.occupants) : "";
  std::string out = listed("purpose", {{"", printable(session.weighed.purpose)}});
  out += listed("conditions", {{"", printable(session.conditions.surface)},
                               {"wind", printable(session.conditions.wind)},
                               {"", printable(session.conditions.note)}});
  out += listed(
      "carried",
      {{"fuel %", maybe(carried.fuel_percent)}, {"occupants", occupants}, {"", printable(carried.note)}});
  for (const rig::Modification& one : session.modifications)
    out += listed("modified", {{"", printable(one.what)},
                               {"", maybe(one.mass)},
                               {"at", maybe(one.at)},
                               {"certificate", printable(one.certificate)}});
  const rig::Assumptions& own = session.assumptions;
  return out + listed("assumed", {{"placement u", maybe(session.placement_u)},
                                  {"height sensitivity u, kg/mm", maybe(own.height_sensitivity_u)},
                                  {"unmeasured height u", maybe(own.unmeasured_height_u)},
                                  {"raised, kg/mm", maybe(own.raised_kg_per_mm)},
                                  {"unnamed scales' gain u", maybe(own.anonymous_gain_u)}});
}

}  // namespace

std::string session_table(const rig::Session& session, const rig::RecordNote* record, const Reader& reader) {
  const Wording wording(reader, session);
  std::string out = session_heading(session, record) + circumstances(session) + '\n';
  out += tow_vehicle(session.rig.tow_vehicle);
  if (session.rig.trailer) out += trailer(*session.rig.trailer, wording);
  for (const rig::Scale& one : session.scales) {
    out += scale(one);
    for (const rig::CheckWeight& weight : one.check_weights) out += check_weight(weight);
  }
  for (const rig::Limit& one : session.rig.limits) out += limit(one, wording);
  const rig::State* travelling = rig::travelling_state(session);
  for (const rig::State& one : session.states) out += state(one, &one == travelling, wording);
  return out;
}

}  // namespace steelyard::reports
