#include "rig/words.hpp"
#include "sheet/decode.hpp"
#include "sheet/formats.hpp"

namespace steelyard::sheet {
namespace {

rig::Axle decode_axle(Fields& fields) {
  rig::Axle axle;
  fields.require("at", "how far the axle is behind the first one");
  axle.at = fields.length("at").value_or(units::Length{0, fields.decoding().units.length});
  fields.require("group", "front or rear");
  axle.group = fields.word("group", rig::parse_group, "front or rear").value_or(axle.group);
  return axle;
}

rig::TowVehicle decode_tow_vehicle(Fields& fields) {
  rig::TowVehicle vehicle;
  vehicle.uid = fields.text("uid");
  vehicle.label = fields.text("label");
  vehicle.registration = fields.text("registration");
  vehicle.vin = fields.text("vin");
  fields.require("axles", "the list of its axles from the front, each with at and group");
  fields.list_of("axles", vehicle.axles, decode_axle);
  vehicle.wheelbase_u = fields.length("wheelbase_u");
  vehicle.overhang = fields.measured_length("overhang");
  vehicle.cg_height = fields.measured_length("cg_height");
  return vehicle;
}

rig::Trailer decode_trailer(Fields& fields) {
  rig::Trailer trailer;
  trailer.uid = fields.text("uid");
  trailer.label = fields.text("label");
  trailer.registration = fields.text("registration");
  fields.require("axles", "the number of its axles");
  trailer.axles = fields.whole("axles").value_or(trailer.axles);
  trailer.suspension =
      fields.word("suspension", rig::parse_suspension, "single, independent or load_sharing");
  trailer.self_supporting = fields.truth("self_supporting").value_or(false);
  trailer.coupling_to_axles = fields.measured_length("coupling_to_axles");
  trailer.coupling_to_jockey = fields.measured_length("coupling_to_jockey");
  return trailer;
}

std::string known_limits() {
  std::string names;
  for (const auto name : rig::limit_names()) names.append(names.empty() ? "" : ", ").append(name);
  return names;
}

std::optional<rig::Limit> decode_limit_name(Fields& fields) {
  json* const found = fields.find("of");
  fields.require("of", "what the limit is for, such as \"tow_gross\"");
  if (!found) return std::nullopt;
  if (!found->is_string()) {
    fields.wrong_type("of", "a text in double quotes", *found);
    return std::nullopt;
  }
  const std::string& name = found->get_ref<const std::string&>();
  auto limit = rig::parse_limit_name(name);
  if (limit) return limit;
  const auto meant = nearest(name, rig::limit_names());
  fields.fault("of",
               "must name a limit, is " + in_quotes(name) + "; " +
                   (meant.empty() ? "allowed: " + known_limits() : "did you mean " + in_quotes(meant) + "?") +
                   " (N: axle 1 to " + std::to_string(rig::most_axles) + " counted from the front)");
  return std::nullopt;
}

/// The unit of the limit's value; for a mass ratio, whose value has none, a load unit is that of `against`.
units::LoadUnit decode_limit_unit(Fields& fields, const std::optional<rig::Limit>& limit) {
  const units::LoadUnit own = fields.decoding().units.load;
  json* const found = fields.find("unit");
  if (!found || !limit) return own;
  if (!found->is_string()) {
    fields.wrong_type("unit", "a text in double quotes", *found);
    return own;
  }
  const std::string& word = found->get_ref<const std::string&>();
  const auto measure = rig::measure_of(limit->kind);
  const bool ratio_with_load = limit->kind == rig::LimitKind::mass_ratio;
  if (measure == rig::Measure::load || ratio_with_load) {
    if (const auto unit = rig::parse_load_unit(word)) return *unit;
  }
  if (measure == rig::Measure::ratio && word == "1") return own;
  if (measure == rig::Measure::force_kn && word == "kN") return own;
  fields.fault("unit", std::string("must be ") +
                           (measure == rig::Measure::load       ? "kg or lb"
                            : measure == rig::Measure::force_kn ? "kN"
                            : ratio_with_load                   ? "1, or kg or lb for its `against`"
                                                                : "1") +
                           ", is " + in_quotes(word));
  return own;
}

void decode_limit_value(Fields& fields, rig::Limit& limit, bool named) {
  const auto unit = decode_limit_unit(fields, named ? std::optional(limit) : std::nullopt);
  const auto value = fields.number("value");
  if (value && rig::measure_of(limit.kind) == rig::Measure::load) limit.load = units::Load{*value, unit};
  if (value && rig::measure_of(limit.kind) != rig::Measure::load) limit.number = value;
  if (const auto against = fields.number("against")) limit.against = units::Load{*against, unit};
  limit.load_index = fields.whole("load_index");
  const auto tyres = fields.whole("tyres");
  limit.tyres = tyres.value_or(1);
  if (tyres && !limit.load_index) fields.fault("tyres", "goes only with load_index; leave it out");
}

rig::Limit decode_limit(Fields& fields) {
  const auto named = decode_limit_name(fields);
  rig::Limit limit = named.value_or(rig::Limit{});
  decode_limit_value(fields, limit, named.has_value());
  limit.part = fields.text("part");
  if (const auto basis = fields.word("basis", rig::parse_basis, "whole or axles")) {
    limit.basis = *basis;
    using enum rig::LimitKind;
    if (limit.kind != trailer_gross && limit.kind != towed_mass && limit.kind != towed_mass_unbraked)
      fields.fault("basis", "goes only with trailer_gross, towed_mass and towed_mass_unbraked; leave it out");
  }
  limit.with_weight_distribution = fields.truth("with_weight_distribution");
  limit.advice = fields.truth("advice").value_or(false);
  limit.source = fields.text("source");
  limit.edition = fields.text("edition");
  limit.jurisdiction = fields.text("jurisdiction");
  limit.read_by = fields.text("read_by");
  return limit;
}

}  // namespace

rig::Rig decode_rig(Fields& fields) {
  rig::Rig rig;
  fields.require("tow_vehicle", "the tow vehicle with its axles");
  fields.object("tow_vehicle", [&](Fields& in) { rig.tow_vehicle = decode_tow_vehicle(in); });
  fields.object("trailer", [&](Fields& in) { rig.trailer = decode_trailer(in); });
  fields.list_of("limits", rig.limits, decode_limit);
  return rig;
}

}  // namespace steelyard::sheet
