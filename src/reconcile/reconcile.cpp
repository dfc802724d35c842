#include "reconcile/reconcile.hpp"

#include <algorithm>

#include "reconcile/explain.hpp"
#include "reconcile/further.hpp"
#include "reconcile/needs.hpp"
#include "reconcile/search.hpp"
#include "reconcile/trust.hpp"

namespace steelyard::reconcile {
namespace {

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
    judge(solved(), findings);
    for (const Derived& derived : whole->derived.listed) findings.quantities.push_back(derived.quantity);
    for (const Derived& derived : whole->derived.for_limits)
      findings.limit_quantities.push_back(derived.quantity);
    const auto& reference = solved().layout->reference;
    if (reference) findings.reference_state = session.states[*reference].name;
  }

  [[nodiscard]] const SolvedRig& solved() const { return *whole->everything; }

  [[nodiscard]] bool rejected() const { return findings.fit.consistent && !*findings.fit.consistent; }

  void first_set() { findings.suspects = {suspects_of(findings.observations, solved().solution)}; }

  void every_set() {
    Searched found = search(solved(), findings.observations);
    findings.suspects = std::move(found.sets);
    if (findings.suspects.empty()) return;
    leave_out_each(solved(), main_figure(), main_figure().dot(solved().solution.unknowns),
                   findings.suspects.front());
    const adjust::Vector& near = found.solved ? found.sound.unknowns : solved().solution.unknowns;
    explain_sets(found.likeliest, near);
    next_readings(found.likeliest, near);
  }

 private:
  /// The coupling load, else the tow vehicle's total.
  [[nodiscard]] adjust::Vector main_figure() const {
    const Layout& layout = *solved().layout;
    adjust::Vector gradient = adjust::Vector::Zero(layout.count);
    if (layout.coupled)
      gradient[*layout.coupling] = 1;
    else
      gradient[layout.front] = gradient[layout.rear] = 1;
    return gradient;
  }

  static std::vector<Index> rows_of(const SuspectSet& set) {
    std::vector<Index> out;
    for (const SuspectMember& member : set.members) out.push_back(static_cast<Index>(member.observation));
    return out;
  }

  [[nodiscard]] bool has_reading(const SuspectSet& set) const {
    return std::any_of(set.members.begin(), set.members.end(), [&](const SuspectMember& member) {
      return findings.observations[member.observation].kind == ObservationKind::reading;
    });
  }

  static std::vector<Index> others(std::vector<Index> likeliest, std::size_t but) {
    likeliest.erase(likeliest.begin() + static_cast<std::ptrdiff_t>(but));
    return likeliest;
  }

  /// One blunder may explain everything, in several readings at once; else each set has its own, the
  /// likeliest of the other sets being aside.
  void explain_sets(const std::vector<Index>& likeliest, const adjust::Vector& near) {
    std::vector<Index> everywhere;
    bool may_be_any = false;  // a set without readings: then any of them
    for (const SuspectSet& set : findings.suspects) {
      may_be_any = may_be_any || !has_reading(set);
      for (const Index row : rows_of(set))
        if (std::find(everywhere.begin(), everywhere.end(), row) == everywhere.end()) everywhere.push_back(row);
    }
    if (may_be_any) everywhere.clear();
    SuspectSet& first = findings.suspects.front();
    first.explanations = explain(solved(), near, {}, hypotheses(solved(), near, everywhere));
    // What pulls at many readings may have led the search astray; then the solution as read is nearer.
    const adjust::Vector& as_read = solved().solution.unknowns;
    if (first.explanations.empty())
      first.explanations = explain(solved(), as_read, {}, hypotheses(solved(), as_read, everywhere));
    if (!first.explanations.empty() || findings.suspects.size() < 2) return;
    for (std::size_t s = 0; s < findings.suspects.size(); ++s) {
      SuspectSet& set = findings.suspects[s];
      set.explanations = explain(solved(), near, others(likeliest, s), hypotheses(solved(), near, rows_of(set)));
    }
  }

  void next_readings(const std::vector<Index>& likeliest, const adjust::Vector& near) {
    const std::vector<Further> candidates = further_readings(solved(), near);
    for (std::size_t s = 0; s < findings.suspects.size(); ++s) {
      adjust::Observed given = solved().given;
      given.set_aside = others(likeliest, s);
      findings.suspects[s].next_reading =
          separating(solved(), given, near, candidates, findings.suspects[s]);
    }
  }
};

Reconciliation::Reconciliation(rig::Session session, Search search) : inside_(std::make_unique<Inside>()) {
  inside_->session = std::move(session);
  inside_->solve();
  inside_->tell();
  if (!inside_->rejected()) return;
  if (search == Search::whole)
    inside_->every_set();
  else
    inside_->first_set();
}

Reconciliation::Reconciliation(Reconciliation&&) noexcept = default;
Reconciliation& Reconciliation::operator=(Reconciliation&&) noexcept = default;
Reconciliation::~Reconciliation() = default;

const Findings& Reconciliation::findings() const {
  return inside_->findings;
}

namespace {

/// The derived quantity of that name, state and position, where it has a value and a gradient.
const Derived* with_gradient(const DerivedSet& set, const Quantity& quantity) {
  for (const auto* list : {&set.listed, &set.for_limits})
    for (const Derived& derived : *list) {
      const Quantity& other = derived.quantity;
      if (derived.gradient.size() > 0 && other.determinable && other.name == quantity.name &&
          other.state == quantity.state && other.at == quantity.at)
        return &derived;
    }
  return nullptr;
}

bool same_observation(const Observation& a, const Observation& b) {
  return a.kind == b.kind && a.id == b.id && a.state == b.state && a.scales == b.scales;
}

}  // namespace

std::optional<NextReading> Reconciliation::settle(const Quantity& quantity) const {
  const Derived* found = with_gradient(inside_->whole->derived, quantity);
  if (!found || found->weights_only) return std::nullopt;
  const SolvedRig& solved = inside_->solved();
  return sharpening(further_readings(solved, solved.solution.unknowns), solved.solution, found->gradient);
}

std::optional<std::vector<double>> Reconciliation::sensitivities(const Quantity& quantity) const {
  const Derived* found = with_gradient(inside_->whole->derived, quantity);
  if (!found) return std::nullopt;
  const WholeSolution& whole = *inside_->whole;
  const SolvedRig& from = found->weights_only && whole.weights_only ? *whole.weights_only : *whole.everything;
  const adjust::Solution& solution = from.solution;
  // The covariance of fitted value i with the quantity is uᵢ·(fitted_root·rootᵀg)ᵢ; by uᵢ² it is what yᵢ does.
  const adjust::Vector effect =
      solution.fitted_root * (solution.covariance_root.transpose() * found->gradient);
  std::vector<double> out;
  std::size_t row = 0;  // what is not observed without the tape is passed over: the others keep their order
  for (const Observation& observation : inside_->findings.observations) {
    const bool there = row < from.observed.size() && same_observation(observation, from.observed[row]);
    out.push_back(there ? effect[static_cast<Index>(row)] / observation.u : 0);
    if (there) ++row;
  }
  return out;
}

Findings reconcile(const rig::Session& session, Search search) {
  return Reconciliation(session, search).findings();
}

}  // namespace steelyard::reconcile
