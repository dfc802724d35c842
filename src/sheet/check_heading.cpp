// Rules for what stands above the rig: identity, when and where, what was carried, the scales.
#include <unordered_map>

#include "sheet/check.hpp"

namespace steelyard::sheet {
namespace {

void check_identity(Check& check, const Place& root) {
  const rig::Session& session = check.session;
  check.text(root["id"], session.id, TextKind::name);
  check.text(root["replaces"], session.replaces, TextKind::name);
  check.range(root["revision"], session.revision, 1, 1e6, "");
  if (!session.replaces.empty() && session.revision < 2 && check.sound(root["revision"]))
    check.fault(root["replaces"],
                "goes only with a revision of 2 or more; the first revision replaces nothing");
}

void check_revised(Check& check, const Place& root) {
  if (!check.session.revised) return;
  const rig::Revised& revised = *check.session.revised;
  const Place place = root["revised"];
  if (check.session.revision < 2 && check.sound(root["revision"]))
    check.fault(place, "goes only with a revision of 2 or more; the first revision amends nothing");
  if (revised.why.empty()) check.fault(place["why"], "must say why the session was amended");
  check.text(place["why"], revised.why, TextKind::note);
  check.text(place["by"], revised.by, TextKind::line);
  check.time(place["at"], revised.at);
}

void check_circumstances(Check& check, const Place& root) {
  const rig::Session& session = check.session;
  const Place weighed = root["weighed"], client = root["client"], conditions = root["conditions"];
  check.time(weighed["at"], session.weighed.at);
  check.text(weighed["place"], session.weighed.place, TextKind::line);
  check.text(weighed["technician"], session.weighed.technician, TextKind::line);
  check.text(weighed["purpose"], session.weighed.purpose, TextKind::line);
  check.text(client["uid"], session.client.uid, TextKind::name);
  check.text(client["name"], session.client.name, TextKind::line);
  check.text(client["reference"], session.client.reference, TextKind::line);
  check.text(conditions["surface"], session.conditions.surface, TextKind::line);
  check.text(conditions["wind"], session.conditions.wind, TextKind::line);
  check.text(conditions["note"], session.conditions.note, TextKind::note);
  const Place carried = root["carried"];
  if (session.carried.fuel_percent)
    check.range(carried["fuel_percent"], *session.carried.fuel_percent, 0, 100, "%");
  if (session.carried.occupants)
    check.range(carried["occupants"], *session.carried.occupants, 0, 99, "persons");
  check.text(carried["note"], session.carried.note, TextKind::note);
}

void check_load_unit(Check& check, const Place& place, const std::optional<units::Load>& load) {
  if (load && load->unit != check.session.units.load)
    check.fault(place, "must be in the sheet's unit of load");
}

void check_modifications(Check& check, const Place& modifications) {
  for (std::size_t i = 0; i < check.session.modifications.size(); ++i) {
    const rig::Modification& modification = check.session.modifications[i];
    const Place place = modifications[i];
    if (modification.what.empty()) check.fault(place["what"], "must say what was fitted or removed");
    check.text(place["what"], modification.what, TextKind::line);
    check.load(place["mass"], modification.mass, -bounds::heaviest_kg, bounds::heaviest_kg);
    check_load_unit(check, place["mass"], modification.mass);
    check.length(place["at"], modification.at, -bounds::longest_mm, bounds::longest_mm);
    check.text(place["certificate"], modification.certificate, TextKind::line);
  }
}

void check_assumptions(Check& check, const Place& root) {
  const Place place = root["assumptions"];
  const rig::Assumptions& given = check.session.assumptions;
  if (check.session.placement_u)
    check.range(root["placement_u"], *check.session.placement_u, 0, bounds::largest_relative, "");
  if (const auto u = given.height_sensitivity_u)
    check.uncertainty(place["height_sensitivity_u"], *u, *u, 1e-6, 1e3, "kg/mm");
  if (const auto u = given.unmeasured_height_u)
    check.uncertainty(place["unmeasured_height_u"], u->mm().value(), u->figure, bounds::least_u_mm,
                      bounds::longest_mm, "mm");
  if (given.unmeasured_height_u && given.unmeasured_height_u->unit != check.session.units.length)
    check.fault(place["unmeasured_height_u"], "must be in the sheet's unit of length");
  if (const auto rate = given.raised_kg_per_mm)
    check.range(place["raised_kg_per_mm"], *rate, 0, 1e4, "kg/mm");
  if (const auto u = given.anonymous_gain_u)
    check.uncertainty(place["anonymous_gain_u"], *u, *u, bounds::least_relative_u, bounds::largest_relative,
                      "");
}

void check_weight(Check& check, const Place& place, const rig::CheckWeight& weight, const rig::Scale& scale) {
  check.load(place["mass"], weight.mass, bounds::least_division_kg, bounds::heaviest_kg);
  check.load(place["load"], weight.load, -bounds::heaviest_kg, bounds::heaviest_kg);
  check.time(place["taken_at"], weight.taken_at);
  if (weight.load.unit != weight.mass.unit) check.fault(place["load"], "must be in the unit of its mass");
  if (!scale.capacity) return;
  constexpr double rounding = 1 + 1e-12;  // of figures that were converted from pounds
  const double capacity = scale.capacity->kg().value();
  for (const auto& [key, load] : {std::pair("mass", weight.mass), std::pair("load", weight.load)})
    if (load.kg().value() > capacity * rounding)
      check.fault(place[key], "is above the capacity of its scale, " + figure(capacity) + " kg, is " +
                                  figure(load.kg().value()) + " kg; check the figure, its unit and the scale");
}

void check_scale(Check& check, const Place& place, const rig::Scale& scale) {
  check.name(place["id"], scale.id);
  check.text(place["uid"], scale.uid, TextKind::name);
  check.text(place["serial"], scale.serial, TextKind::line);
  check.load(place["capacity"], scale.capacity, bounds::least_division_kg, bounds::heaviest_kg);
  check.load(place["division"], scale.division, bounds::least_division_kg, bounds::heaviest_division_kg);
  check.load(place["repeatability"], scale.repeatability, 0, bounds::heaviest_division_kg);
  check.load(place["zero_before"], scale.zero_before, -bounds::heaviest_division_kg,
             bounds::heaviest_division_kg);
  check.load(place["zero_after"], scale.zero_after, -bounds::heaviest_division_kg,
             bounds::heaviest_division_kg);
  for (const auto& [key, load] :
       {std::pair("capacity", &scale.capacity), std::pair("division", &scale.division),
        std::pair("repeatability", &scale.repeatability), std::pair("zero_before", &scale.zero_before),
        std::pair("zero_after", &scale.zero_after)})
    check_load_unit(check, place[key], *load);
  if (scale.gain)
    check.range(place["gain"], *scale.gain, -bounds::largest_relative, bounds::largest_relative, "");
  if (scale.gain_u)
    check.uncertainty(place["gain_u"], *scale.gain_u, *scale.gain_u, bounds::least_relative_u,
                      bounds::largest_relative, "");
  check.text(place["certificate"], scale.certificate, TextKind::line);
  check.date(place["calibrated"], scale.calibrated);
  check.date(place["due"], scale.due);
  if (is_date(scale.calibrated) && is_date(scale.due) && scale.due < scale.calibrated)
    check.fault(place["due"], "must not be before the day of calibration, " + scale.calibrated);
  const Place weights = place["check_weights"];
  for (std::size_t i = 0; i < scale.check_weights.size(); ++i) {
    const Place one = weights[i];
    check_weight(check, one, scale.check_weights[i], scale);
  }
}

}  // namespace

void check_heading(Check& check, const Place& root) {
  check_identity(check, root);
  check_revised(check, root);
  check_circumstances(check, root);
  const Place modifications = root["modifications"];
  check_modifications(check, modifications);
  check_assumptions(check, root);
}

void check_scales(Check& check, const Place& scales) {
  std::unordered_map<std::string_view, std::size_t> seen;
  for (std::size_t i = 0; i < check.session.scales.size(); ++i) {
    const rig::Scale& scale = check.session.scales[i];
    const Place place = scales[i];
    check_scale(check, place, scale);
    const auto [first, added] = seen.emplace(scale.id, i);
    if (added || scale.id.empty()) continue;
    const Place other = scales[first->second];
    check.fault(place["id"],
                in_quotes(scale.id) + " is the id of " + other.text() + " too; give each scale its own");
  }
}

}  // namespace steelyard::sheet
