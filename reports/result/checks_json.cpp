#include "reports/result/checks_json.hpp"

#include "reconcile/cross_checks.hpp"

namespace steelyard::reports {
namespace {

void write_interval(JsonText& out, std::string_view name, const std::pair<double, double>& ends) {
  out.key(name).begin_array().value(ends.first).value(ends.second).end_array();
}

void write_propagated(JsonText& out, const reconcile::Propagated& one, const reconcile::Quantity& quantity) {
  out.begin_object();
  out.field("name", quantity.name).field("state", quantity.state).field("at", quantity.at);
  out.field("unit", reconcile::symbol(quantity.measure));
  out.field("value", quantity.value).field("u", quantity.u);
  write_interval(out, "interval", one.linear);
  out.field("trials_mean", one.mean).field("trials_u", one.u);
  write_interval(out, "trials_interval", one.interval);
  write_interval(out, "trials_shortest_interval", one.shortest);
  out.field("not_determinable", static_cast<double>(one.not_determinable));
  out.end_object();
}

}  // namespace

void write_monte_carlo(JsonText& out, const reconcile::Findings& findings,
                       const reconcile::MonteCarlo* monte_carlo) {
  out.key("monte_carlo");
  if (!monte_carlo) {
    out.null();
    return;
  }
  out.begin_object();
  // Whole numbers up to 2^53: exact as a double.
  out.field("trials", static_cast<double>(monte_carlo->trials));
  out.field("seed", static_cast<double>(monte_carlo->seed));
  out.field("not_converged", static_cast<double>(monte_carlo->not_converged));
  out.field("chance", monte_carlo->chance);
  out.key("largest_difference");
  if (const auto& largest = monte_carlo->largest) {
    const reconcile::Quantity& quantity = findings.quantities.at(largest->quantity);
    out.begin_object().field("name", quantity.name).field("state", quantity.state).field("at", quantity.at);
    out.field("of", reconcile::to_text(largest->of)).field("in_u", largest->in_u).end_object();
  } else {
    out.null();
  }
  out.key("quantities").begin_array();
  for (const reconcile::Propagated& one : monte_carlo->quantities)
    write_propagated(out, one, findings.quantities.at(one.quantity));
  out.end_array().end_object();
}

void write_cross_checks(JsonText& out, const rig::Session& session, const reconcile::Findings& findings) {
  using reconcile::CrossCheck;
  out.key("cross_checks").begin_array();
  for (const CrossCheck& check : reconcile::cross_checks(session, findings)) {
    out.begin_object().field("kind", reconcile::to_text(check.kind));
    out.key("states").begin_array();
    for (const std::string& state : check.states) out.value(state);
    out.end_array().field("unit", reconcile::symbol(check.measure)).key("values").begin_array();
    for (const CrossCheck::Value& value : check.values) {
      out.begin_object().field("way", reconcile::to_text(value.way));
      out.field("value", value.value).field("u", value.u).end_object();
    }
    out.end_array();
    out.field("one", reconcile::to_text(check.values.at(check.one).way));
    out.field("other", reconcile::to_text(check.values.at(check.other).way));
    out.field("difference", check.difference).field("u", check.u).field("agrees", check.agrees);
    out.end_object();
  }
  out.end_array();
}

}  // namespace steelyard::reports
