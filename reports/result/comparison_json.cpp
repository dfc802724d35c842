#include "reports/result/comparison_json.hpp"

#include "reports/result/json_text.hpp"

namespace steelyard::reports {
namespace {

using compare::Comparison;

std::optional<std::string> given(const std::string& text) {
  return text.empty() ? std::nullopt : std::optional(text);
}

void write_session(JsonText& out, std::string_view key, const rig::Session& session, assess::RigOutcome outcome) {
  out.key(key).begin_object();
  out.field("session", session.id).field("revision", session.revision);
  out.field("weighed_at", given(session.weighed.at)).field("place", given(session.weighed.place));
  out.field("outcome", assess::to_text(outcome)).end_object();
}

void write_figure(JsonText& out, std::string_view key, const std::optional<compare::Figure>& figure) {
  out.key(key);
  if (!figure) {
    out.null();
    return;
  }
  out.begin_object().field("value", figure->value).field("u", figure->u).end_object();
}

void write_states(JsonText& out, const rig::Session& before, const rig::Session& after, const Comparison& all) {
  out.key("states").begin_array();
  for (const compare::MatchedState& match : all.states)
    out.begin_object()
        .field("before", before.states[match.before].name)
        .field("after", after.states[match.after].name)
        .field("alike", match.alike)
        .end_object();
  out.end_array();
}

void write_common(JsonText& out, const Comparison& all) {
  out.key("common_errors").begin_array();
  for (const compare::CommonError& error : all.common)
    out.begin_object()
        .field("kind", reconcile::to_text(error.kind))
        .field("scale", given(error.scale))
        .field("u", error.u)
        .end_object();
  out.end_array();
}

void write_difference(JsonText& out, const std::optional<compare::Difference>& difference) {
  const auto part = [&](double compare::Difference::*member) {
    return difference ? std::optional((*difference).*member) : std::nullopt;
  };
  out.field("difference", part(&compare::Difference::value)).field("u", part(&compare::Difference::u));
  out.field("en", difference ? difference->en : std::nullopt);
  out.field("significant", difference ? difference->significant() : std::nullopt);
}

void write_quantity(JsonText& out, const compare::Compared& row) {
  out.begin_object();
  out.field("name", row.name).field("state_before", row.state_before).field("state_after", row.state_after);
  out.field("at", row.at).field("unit", reconcile::symbol(row.measure));
  write_figure(out, "before", row.before);
  write_figure(out, "after", row.after);
  write_difference(out, row.difference);
  out.field("correlation", row.difference ? std::optional(row.correlation) : std::nullopt);
  out.field("another_trailer", row.another_trailer).field("arranged_otherwise", row.arranged_otherwise);
  out.field("reason_before", row.reason_before).field("reason_after", row.reason_after);
  out.end_object();
}

void write_limit_side(JsonText& out, std::string_view key, const std::optional<compare::LimitSide>& side) {
  out.key(key);
  if (!side) {
    out.null();
    return;
  }
  out.begin_object().field("limit", side->rating).field("value", side->value).field("u", side->u);
  out.field("margin", side->margin).field("outcome", assess::to_text(side->outcome));
  out.field("source", given(side->source)).field("reason", side->reason).end_object();
}

void write_limit(JsonText& out, const compare::LimitCompared& row) {
  out.begin_object();
  out.field("of", row.of).field("part", given(row.limit.part));
  out.field("state_before", row.state_before).field("state_after", row.state_after);
  out.field("unit", reconcile::symbol(row.measure)).field("advice", row.advice);
  out.field("added", row.added()).field("removed", row.removed());
  out.field("rating_changed", row.rating_changed()).field("source_changed", row.source_changed());
  out.field("outcome_changed", row.outcome_changed());
  write_limit_side(out, "before", row.before);
  write_limit_side(out, "after", row.after);
  out.end_object();
}

void write_unlike(JsonText& out, const compare::Unlike& row) {
  out.begin_object();
  out.field("kind", row.kind).field("what", row.what).field("before", row.before).field("after", row.after);
  out.field("worth", given(row.worth));
  write_figure(out, "size", row.size);
  out.end_object();
}

void write_modifications(JsonText& out, std::string_view key, const std::vector<rig::Modification>& all) {
  out.key(key).begin_array();
  for (const rig::Modification& one : all) {
    out.begin_object().field("what", one.what);
    out.field("mass", one.mass ? std::optional(one.mass->kg().value()) : std::nullopt);
    out.field("at", one.at ? std::optional(one.at->mm().value()) : std::nullopt);
    out.field("certificate", given(one.certificate)).end_object();
  }
  out.end_array();
}

void write_fitted(JsonText& out, const compare::Fitted& fitted) {
  out.key("fitted").begin_object();
  write_modifications(out, "added", fitted.added);
  write_modifications(out, "removed", fitted.removed);
  out.field("without_mass", fitted.without_mass).field("without_place", fitted.without_place);
  out.field("mass", fitted.mass).field("moment", fitted.moment);
  out.key("checks").begin_array();
  for (const compare::Fitted::Check& check : fitted.checks) {
    out.begin_object().field("name", check.name).field("declared", check.declared);
    out.field("found", check.found.value).field("beyond", check.beyond.value).field("u", check.beyond.u);
    out.field("en", check.beyond.en).field("significant", check.beyond.significant()).end_object();
  }
  out.end_array().end_object();
}

}  // namespace

std::string comparison_json(const rig::Session& before, const rig::Session& after, const Comparison& all,
                            std::string_view engine_version) {
  JsonText out;
  out.begin_object();
  out.field("format", "steelyard-comparison/1").field("engine", engine_version);
  write_session(out, "before", before, all.outcome_before);
  write_session(out, "after", after, all.outcome_after);
  out.field("same_tow_vehicle", compare::to_text(all.tow_vehicle));
  out.field("same_trailer", compare::to_text(all.trailer));
  write_states(out, before, after, all);
  write_common(out, all);
  out.key("quantities").begin_array();
  for (const compare::Compared& row : all.quantities) write_quantity(out, row);
  out.end_array().key("limits").begin_array();
  for (const compare::LimitCompared& row : all.limits) write_limit(out, row);
  out.end_array().key("not_comparable").begin_array();
  for (const compare::Unlike& row : all.unlike) write_unlike(out, row);
  out.end_array();
  write_fitted(out, all.fitted);
  out.end_object();
  return out.text();
}

}  // namespace steelyard::reports
