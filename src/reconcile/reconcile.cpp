#include "reconcile/reconcile.hpp"

#include "reconcile/needs.hpp"
#include "reconcile/trust.hpp"

namespace steelyard::reconcile {
namespace {

std::vector<Quantity> taken(std::vector<Derived>& all) {
  std::vector<Quantity> out;
  out.reserve(all.size());
  for (Derived& derived : all) out.push_back(std::move(derived.quantity));
  return out;
}

}  // namespace

Findings reconcile(const rig::Session& session) {
  const bool any = [&] {
    for (const rig::State& state : session.states)
      for (const rig::Reading& reading : state.readings)
        if (!reading.struck) return true;
    return false;
  }();
  if (!any)
    throw NotSolved("session " + session.id +
                    ": there is no reading to reconcile; record one that is not struck");
  const auto whole = solve_whole(session);
  if (!whole)
    throw NotSolved("session " + session.id +
                    ": no solution converges; look for a reading that is far off, strike it and weigh again");
  find_needs(session, *whole->everything, whole->derived);
  Findings findings;
  findings.session = session.id;
  findings.revision = session.revision;
  judge(*whole->everything, findings);
  findings.quantities = taken(whole->derived.listed);
  findings.limit_quantities = taken(whole->derived.for_limits);
  const auto& reference = whole->everything->layout->reference;
  if (reference) findings.reference_state = session.states[*reference].name;
  return findings;
}

}  // namespace steelyard::reconcile
