#include "reports/result/result_json.hpp"

#include "reports/result/checks_json.hpp"
#include "reports/result/json_text.hpp"
#include "reports/result/scales_json.hpp"
#include "reports/result/suspects_json.hpp"

namespace steelyard::reports {
namespace {

using reconcile::Findings;

void write_fit(JsonText& out, const reconcile::Fit& fit) {
  out.key("fit").begin_object();
  out.field("observations", fit.observations).field("unknowns", fit.unknowns);
  out.field("degrees_of_freedom", fit.degrees_of_freedom);
  out.field("chi_square", fit.chi_square).field("p_value", fit.p_value);
  out.field("consistent", fit.consistent).field("iterations", fit.iterations);
  out.end_object();
}

void write_quantity(JsonText& out, const reconcile::Quantity& quantity) {
  const bool there = quantity.determinable;
  out.begin_object();
  out.field("name", quantity.name).field("state", quantity.state).field("at", quantity.at);
  out.field("unit", reconcile::symbol(quantity.measure)).field("determinable", there);
  out.field("value", there ? std::optional(quantity.value) : std::nullopt);
  out.field("u", there ? std::optional(quantity.u) : std::nullopt);
  out.key("interval");
  if (there && quantity.interval)
    out.begin_array().value(quantity.interval->first).value(quantity.interval->second).end_array();
  else
    out.null();
  out.field("needs", quantity.needs ? std::optional(quantity.needs->text) : std::nullopt);
  out.end_object();
}

void write_observation(JsonText& out, const reconcile::Observation& observation) {
  out.begin_object();
  out.field("kind", reconcile::to_text(observation.kind)).field("id", observation.id);
  out.field("state", observation.state).field("at", observation.at);
  out.key("scale").begin_array();
  for (const std::string& scale : observation.scales) out.value(scale);
  out.end_array();
  out.field("value", observation.value).field("u", observation.u).field("fitted", observation.fitted);
  out.field("residual", observation.residual).field("redundancy", observation.redundancy);
  out.field("normalised_residual", observation.normalised_residual);
  out.field("smallest_detectable", observation.smallest_detectable);
  out.end_object();
}

void write_limit(JsonText& out, const assess::Row& row) {
  out.begin_object();
  out.field("of", row.of).field("part", row.part).field("state", row.state);
  out.field("limit", row.rating).field("value", row.value).field("u", row.u);
  out.field("unit", reconcile::symbol(row.measure));
  out.field("margin", row.margin).field("p_breach", row.p_breach);
  out.field("outcome", assess::to_text(row.outcome)).field("advice", row.advice);
  out.field("source", row.source.empty() ? std::nullopt : std::optional(row.source));
  out.field("reason", row.reason);
  write_next_reading(out, row.next_reading, "u_after");
  out.end_object();
}

}  // namespace

std::string result_json(const rig::Session& session, const Findings& findings,
                        const assess::Assessment& assessment, std::string_view engine_version,
                        const reconcile::MonteCarlo* monte_carlo) {
  JsonText out;
  out.begin_object();
  out.field("format", "steelyard-result/1");
  out.field("session", session.id).field("revision", session.revision).field("engine", engine_version);
  write_fit(out, findings.fit);
  out.key("quantities").begin_array();
  for (const reconcile::Quantity& quantity : findings.quantities) write_quantity(out, quantity);
  out.end_array();
  out.key("observations").begin_array();
  for (const reconcile::Observation& observation : findings.observations) write_observation(out, observation);
  out.end_array();
  write_suspects(out, findings);
  out.key("limits").begin_array();
  for (const assess::Row& row : assessment.rows) write_limit(out, row);
  out.end_array();
  out.field("outcome", assess::to_text(assessment.outcome));
  out.field("assessed", assessment.assessed).field("not_assessed", assessment.not_assessed);
  out.field("travels_in", assessment.travels_in);
  write_cross_checks(out, session, findings);
  write_monte_carlo(out, findings, monte_carlo);
  write_scales(out, session);
  out.end_object();
  return out.text();
}

}  // namespace steelyard::reports
