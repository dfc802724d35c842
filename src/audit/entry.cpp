#include "audit/entry.hpp"

#include <algorithm>
#include <string>

#include "assess/deciding.hpp"
#include "assess/scale_checks.hpp"

namespace steelyard::audit {
namespace {

std::string label_of(const std::string& label, const std::string& registration) {
  if (label.empty() || registration.empty()) return label.empty() ? registration : label;
  return label + " (" + registration + ")";
}

/// By what is like and unlike in a fleet: axles, and how the trailer rests.
std::string kind_words(const rig::Rig& rig) {
  std::string words = std::to_string(rig.tow_vehicle.axles.size()) + "-axle vehicle";
  if (!rig.trailer) return words + " alone";
  const rig::Trailer& trailer = *rig.trailer;
  words += ", " + std::to_string(trailer.axles) + "-axle trailer";
  if (trailer.self_supporting) return words + " on its own axles";
  const auto& overhang = rig.tow_vehicle.overhang;
  return overhang && overhang->value.mm().value() < 0 ? words + ", coupled ahead of the rear axle" : words;
}

void name_scales(const rig::Session& session, Entry& entry, Names& names) {
  for (const assess::ScaleCheck& check : assess::scale_checks(session)) {
    if (!check.used || !check.out_of_date.value_or(false)) continue;
    const rig::Scale& scale = session.scales.at(check.scale);
    entry.scales_out_of_date.push_back(
        {names.keep(scale.uid), names.keep(scale.serial.empty() ? scale.id : scale.serial), names.keep(scale.due)});
  }
}

Entry heading_of(const rig::Session& session, Names& names) {
  const rig::TowVehicle& tow = session.rig.tow_vehicle;
  Entry entry;
  entry.id = names.keep(session.id);
  entry.time = names.keep(session.weighed.at);
  entry.day = entry.time.size() >= 10 ? entry.time.substr(0, 10) : std::string_view();
  entry.place = names.keep(session.weighed.place);
  entry.technician = names.keep(session.weighed.technician);
  entry.purpose = names.keep(session.weighed.purpose);
  entry.client_uid = names.keep(session.client.uid);
  entry.client = names.keep(session.client.name.empty() ? session.client.uid : session.client.name);
  entry.tow_uid = names.keep(tow.uid);
  entry.tow = names.keep(label_of(tow.label, tow.registration));
  entry.has_trailer = session.rig.trailer.has_value();
  if (const auto& trailer = session.rig.trailer) {
    entry.trailer_uid = names.keep(trailer->uid);
    entry.trailer = names.keep(label_of(trailer->label, trailer->registration));
  }
  entry.rig_kind = names.keep(kind_words(session.rig));
  entry.revision = session.revision;
  entry.load_unit = session.units.load;
  name_scales(session, entry, names);
  return entry;
}

Rated rated_of(const assess::Row& row, const rig::Limit& limit, Names& names) {
  return {.of = names.keep(row.of),
          .part = names.keep(row.part.value_or("")),
          .source = names.keep(row.source),
          .reason = names.keep(row.reason.value_or("")),
          .kind = limit.kind,
          .measure = row.measure,
          .outcome = row.outcome,
          .minimum = row.minimum,
          .suspect = row.suspect,
          .rating = row.rating,
          .value = row.value,
          .u = row.u,
          .used = assess::used(row)};
}

std::optional<Figure> figure_of(const reconcile::Findings& findings, std::string_view name) {
  const reconcile::Quantity* quantity = findings.find(name);
  if (!quantity || !quantity->determinable) return std::nullopt;
  return Figure{quantity->value, quantity->u};
}

std::optional<Suspect> suspect_of(const reconcile::Findings& findings, Names& names) {
  if (findings.suspects.empty() || findings.suspects.front().members.empty()) return std::nullopt;
  const reconcile::SuspectSet& set = findings.suspects.front();
  const reconcile::SuspectMember& member = set.members.at(set.likeliest);
  const reconcile::Observation& observation = findings.observations.at(member.observation);
  Suspect suspect{.kind = observation.kind,
                  .id = names.keep(observation.id.value_or("")),
                  .state = names.keep(observation.state.value_or("")),
                  .at = names.keep(observation.at.value_or("")),
                  .scale = names.keep(observation.scales.empty() ? "" : observation.scales.front()),
                  .error = member.estimated_error,
                  .others = static_cast<std::uint32_t>(set.members.size() - 1),
                  .blunder = {}};
  if (!set.explanations.empty()) suspect.blunder = set.explanations.front().kind;
  return suspect;
}

}  // namespace

Entry entry_of(const rig::Session& session, const reconcile::Findings& findings, const assess::Assessment& assessment,
               Names& names) {
  Entry entry = heading_of(session, names);
  entry.outcome = assessment.outcome;
  const auto rows = assess::deciding(assessment);
  const assess::Row* nearest = assess::nearest(rows);
  entry.ratings.reserve(rows.size());
  for (const assess::Row* row : rows) {
    if (row == nearest) entry.nearest = static_cast<std::uint32_t>(entry.ratings.size());
    entry.ratings.push_back(rated_of(*row, session.rig.limits.at(row->limit), names));
  }
  entry.coupling_load = figure_of(findings, "coupling_load");
  entry.coupling_share = figure_of(findings, "coupling_share");
  entry.tow_mass = figure_of(findings, "tow_unhitched_total");
  entry.trailer_mass = figure_of(findings, "trailer_mass");
  entry.combination_mass = figure_of(findings, "combination_mass");
  entry.consistent = findings.fit.consistent;
  entry.suspect = suspect_of(findings, names);
  return entry;
}

Entry entry_without_solution(const rig::Session& session, std::string_view why, Names& names) {
  Entry entry = heading_of(session, names);
  entry.not_solved = names.keep(why);
  return entry;
}

}  // namespace steelyard::audit
