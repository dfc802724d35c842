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

bool any_reading(const rig::Session& session) {
  for (const rig::State& state : session.states)
    for (const rig::Reading& reading : state.readings)
      if (!reading.struck) return true;
  return false;
}

}  // namespace

struct Reconciliation::Inside {
  rig::Session session;  // the solutions refer to it
  std::unique_ptr<WholeSolution> whole;
  Findings findings;

  void solve() {
    if (!any_reading(session))
      throw NotSolved("session " + session.id +
                      ": there is no reading to reconcile; record one that is not struck");
    whole = solve_whole(session);
    if (!whole)
      throw NotSolved(
          "session " + session.id +
          ": no solution converges; look for a reading that is far off, strike it and weigh again");
    find_needs(session, *whole->everything, whole->derived);
  }

  void tell() {
    findings.session = session.id;
    findings.revision = session.revision;
    judge(*whole->everything, findings);
    findings.quantities = taken(whole->derived.listed);
    findings.limit_quantities = taken(whole->derived.for_limits);
    const auto& reference = whole->everything->layout->reference;
    if (reference) findings.reference_state = session.states[*reference].name;
  }
};

Reconciliation::Reconciliation(rig::Session session, Search) : inside_(std::make_unique<Inside>()) {
  inside_->session = std::move(session);
  inside_->solve();
  inside_->tell();
}

Reconciliation::Reconciliation(Reconciliation&&) noexcept = default;
Reconciliation& Reconciliation::operator=(Reconciliation&&) noexcept = default;
Reconciliation::~Reconciliation() = default;

const Findings& Reconciliation::findings() const {
  return inside_->findings;
}

std::optional<NextReading> Reconciliation::settle(const Quantity&) const {
  return std::nullopt;
}

Findings reconcile(const rig::Session& session, Search search) {
  return Reconciliation(session, search).findings();
}

}  // namespace steelyard::reconcile
