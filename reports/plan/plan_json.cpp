#include "reports/plan/plan_json.hpp"

#include "reports/result/json_text.hpp"
#include "rig/words.hpp"

namespace steelyard::reports {
namespace {

using plan::Plan;

void write_wanted(JsonText& out, const plan::Wanted& wanted) {
  out.key("wanted").begin_object();
  out.field("coupling_u", wanted.coupling_u).field("margin_u", wanted.margin_u);
  out.field("rule", plan::to_text(wanted.rule));
  out.field("usual_coupling_u", plan::usual_coupling_u).field("usual_margin_share", plan::usual_margin_share);
  out.end_object();
}

void write_supposition(JsonText& out, const plan::Supposition& supposed) {
  out.begin_object();
  out.field("name", supposed.name).field("state", supposed.state);
  out.field("unit", reconcile::symbol(supposed.measure)).field("value", supposed.value);
  out.field("origin", plan::to_text(supposed.origin));
  out.end_object();
}

void write_state(JsonText& out, const plan::PlannedState& planned) {
  const rig::State& state = planned.state;
  out.begin_object();
  out.field("name", state.name).field("hitched", state.hitched);
  out.field("weight_distribution", state.weight_distribution);
  out.field("support",
            state.support ? std::optional(std::string(rig::to_text(*state.support))) : std::nullopt);
  out.field("travels", state.travels).field("added", planned.added).field("readings", planned.readings);
  out.end_object();
}

void write_step(JsonText& out, const plan::Step& step, int number) {
  out.begin_object();
  out.field("number", number).field("state", step.state).field("at", rig::to_text(step.at));
  out.key("scale").begin_array();
  for (const std::string& scale : step.scales) out.value(scale);
  out.end_array();
  out.field("pass", step.pass).field("set_down", step.set_down).field("expected", step.expected);
  out.field("coupling_u", step.coupling_u).field("smallest_detectable", step.smallest_detectable);
  out.end_object();
}

void write_shortfall(JsonText& out, const plan::Shortfall& shortfall) {
  const bool governed = shortfall.floor.has_value();
  out.begin_object();
  out.field("governed_by",
            governed ? std::optional(std::string(reconcile::to_text(shortfall.governed_by))) : std::nullopt);
  out.field("share", governed ? std::optional(shortfall.share) : std::nullopt);
  out.field("remedy", plan::to_text(shortfall.remedy)).field("with_remedy", shortfall.with_remedy);
  out.end_object();
}

void write_aim(JsonText& out, const rig::Session& sheet, const Plan& plan, std::size_t index) {
  const plan::Aim& aim = plan.aims[index];
  const rig::Limit* limit = aim.limit ? &sheet.rig.limits[*aim.limit] : nullptr;
  out.begin_object();
  out.field("of", limit ? rig::limit_name(*limit) : "coupling_load");
  out.field("part", limit && !limit->part.empty() ? std::optional(limit->part) : std::nullopt);
  out.field("state", aim.state).field("limit", aim.rating);
  out.field("unit", reconcile::symbol(aim.measure)).field("advice", limit && limit->advice);
  out.field("wanted", aim.wanted).field("plan", aim.plan);
  out.field("once", aim.once).field("twice", aim.twice).field("reached", aim.reached);
  out.key("shortfall");
  const plan::Shortfall* found = nullptr;
  for (const plan::Shortfall& shortfall : plan.shortfalls)
    if (shortfall.aim == index) found = &shortfall;
  if (found)
    write_shortfall(out, *found);
  else
    out.null();
  out.end_object();
}

void write_prospect(JsonText& out, std::string_view name, const plan::Prospect& prospect) {
  out.key(name).begin_object();
  out.field("readings", prospect.readings).field("set_downs", prospect.set_downs);
  out.field("unchecked", prospect.unchecked).field("smallest_detectable", prospect.smallest_detectable);
  out.field("largest_detectable", prospect.largest_detectable);
  out.key("quantities").begin_array();
  for (const reconcile::Quantity& quantity : prospect.findings.quantities) {
    const bool there = quantity.determinable;
    out.begin_object();
    out.field("name", quantity.name).field("state", quantity.state).field("at", quantity.at);
    out.field("unit", reconcile::symbol(quantity.measure));
    out.field("supposed", there ? std::optional(quantity.value) : std::nullopt);
    out.field("u", there ? std::optional(quantity.u) : std::nullopt);
    out.end_object();
  }
  out.end_array().end_object();
}

}  // namespace

std::string plan_json(const rig::Session& sheet, const Plan& plan, std::string_view engine_version) {
  JsonText out;
  out.begin_object().field("format", "steelyard-plan/1");
  out.field("session", sheet.id).field("engine", engine_version);
  write_wanted(out, plan.wanted);
  out.field("readings_there", plan.readings_there);
  out.key("suppositions").begin_array();
  for (const plan::Supposition& supposed : plan.suppositions) write_supposition(out, supposed);
  out.end_array().key("states").begin_array();
  for (const plan::PlannedState& state : plan.states) write_state(out, state);
  out.end_array().key("steps").begin_array();
  int number = 0;
  for (const plan::Step& step : plan.steps) write_step(out, step, ++number);
  out.end_array().key("aims").begin_array();
  for (std::size_t i = 0; i < plan.aims.size(); ++i) write_aim(out, sheet, plan, i);
  out.end_array();
  write_prospect(out, "plan", plan.chosen);
  write_prospect(out, "once", plan.once);
  write_prospect(out, "twice", plan.twice);
  out.end_object();
  return out.text();
}

}  // namespace steelyard::reports
