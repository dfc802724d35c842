#include "reconcile/trials.hpp"

#include <cmath>

#include "adjust/distributions.hpp"
#include "reconcile/statics.hpp"

namespace steelyard::reconcile {
namespace {

adjust::Observed as_observed(const std::vector<Observation>& rows) {
  const auto m = static_cast<Index>(rows.size());
  adjust::Observed out{adjust::Vector(m), adjust::Vector(m), std::nullopt};
  for (Index i = 0; i < m; ++i) {
    out.value[i] = rows[static_cast<std::size_t>(i)].value;
    out.u[i] = rows[static_cast<std::size_t>(i)].u;
  }
  return out;
}

/// A solution out of bounds was found without them, and so are its trials.
bool within_bounds(const SolvedRig& solved) {
  const RigModel model(*solved.layout, solved.observed, true);
  adjust::Vector fitted(model.observations()), misclosure(model.constraints());
  model.values(solved.solution.unknowns, fitted, misclosure);
  return fitted.allFinite();
}

}  // namespace

RedrawnRig::RedrawnRig(const SolvedRig& solved)
    : solved_(solved),
      model_(*solved.layout, solved.observed, within_bounds(solved)),
      redraw_(model_, as_observed(solved.observed), solved.solution),
      unknowns_(solved.solution.unknowns) {
  if (!solved.layout->coupled) return;
  const adjust::Vector load = adjust::Vector::Unit(solved.layout->count, *solved.layout->coupling);
  if (solved.solution.determinable(load)) coupling_u_ = solved.solution.uncertainty(load);
}

bool RedrawnRig::solve(const adjust::Vector& values) {
  auto found = redraw_.solve(values);
  if (!found) return false;
  unknowns_ = std::move(*found);
  return true;
}

bool RedrawnRig::division_refused(bool taped) const {
  const Statics rig(*solved_.layout, unknowns_);
  if (!taped && std::abs(rig.coupling()) <= adjust::z95 * coupling_u_) return true;
  return std::abs(rig.overhang()) > longest_overhang;
}

Trials::Trials(const rig::Session& session, const WholeSolution& whole)
    : main_(*whole.everything), taped_(session.rig.tow_vehicle.overhang.has_value()) {
  if (whole.weights_only) weights_ = std::make_unique<RedrawnRig>(*whole.weights_only);
  for (const Derived& derived : whole.derived.listed) rules_.push_back(rule_of(derived.quantity));
}

Trials::Rule Trials::rule_of(const Quantity& quantity) const {
  if (!quantity.determinable) return {};
  const std::string& name = quantity.name;
  if (name.starts_with("inferred_")) return {Refusal::weights_division};
  if (name == "load_transfer_ratio" || name == "front_relief_ratio" || name == "overhang")
    return {Refusal::main_division};
  if (name != "front_axle_restoration") return {};
  const Layout& layout = *main_.solved().layout;
  const adjust::Solution& solution = main_.solved().solution;
  Rule out{Refusal::restoration};
  while (layout.states[out.state].state->name != *quantity.state) ++out.state;
  const Statics rig(layout, solution.unknowns);
  const double load = rig.static_coupling(out.state), o = rig.overhang(), length = rig.wheelbase();
  adjust::Vector gradient = adjust::Vector::Zero(layout.count);
  const auto add = [&](Index unknown, double d) { gradient[unknown] += d; };
  rig.add_static_coupling(out.state, add, o / length);
  rig.add_overhang(add, load / length);
  add(layout.wheelbase, -load * o / (length * length));
  out.loss_u = solution.uncertainty(gradient);
  return out;
}

bool Trials::refused(const Rule& rule, bool main, bool weights) const {
  switch (rule.refusal) {
    case Refusal::never:
      return false;
    case Refusal::main_division:
      return main;
    case Refusal::weights_division:
      return weights;
    case Refusal::restoration:
      break;
  }
  const Statics rig(*main_.solved().layout, main_.unknowns());
  return main ||
         std::abs(rig.static_coupling(rule.state) * rig.overhang() / rig.wheelbase()) < 2 * rule.loss_u;
}

/// Both problems get the same draw; the tape is the one row that the second lacks.
bool Trials::solve(adjust::Deviates& deviates) {
  const std::vector<Observation>& rows = main_.solved().observed;
  const std::size_t fewer = weights_ ? weights_->solved().observed.size() : 0;
  adjust::Vector values(static_cast<Index>(rows.size())), without(static_cast<Index>(fewer));
  Index i = 0, j = 0;
  for (const Observation& row : rows) {
    values[i] = row.value + row.u * deviates.normal();
    if (row.kind != ObservationKind::overhang && j < without.size()) without[j++] = values[i];
    ++i;
  }
  return main_.solve(values) && (!weights_ || weights_->solve(without));
}

std::optional<Trial> Trials::next(adjust::Deviates& deviates) {
  if (!solve(deviates)) return std::nullopt;
  const RedrawnRig& weights = weights_ ? *weights_ : main_;
  const Layout& layout = *main_.solved().layout;
  const bool coupled = layout.coupled;
  Trial out;
  out.values = derive_values(layout, main_.solved().observed, main_.unknowns(), *weights.solved().layout,
                             &weights.unknowns());
  const bool main = coupled && main_.division_refused(taped_),
             other = coupled && weights.division_refused(false);
  out.not_determinable.reserve(rules_.size());
  for (const Rule& rule : rules_) out.not_determinable.push_back(refused(rule, main, other));
  return out;
}

}  // namespace steelyard::reconcile
