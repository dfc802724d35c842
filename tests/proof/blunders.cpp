#include "proof/blunders.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "reconcile/reconcile.hpp"

namespace steelyard::proof {
namespace {

using simulator::Blundered;
using simulator::BlunderKind;

struct Outcome {
  bool made = false, found = false, first = false, tied = false, large = false, unsolved = false;
};

/// Kind and place: the readings that were changed, or for what happens to a whole state that state.
bool is_what_was_done(const reconcile::Explanation& explanation, const Blundered& done,
                      const reconcile::Findings& findings) {
  if (reconcile::to_text(explanation.kind) != simulator::to_text(done.kind)) return false;
  switch (done.kind) {
    case BlunderKind::scale_not_zeroed:
      return explanation.state == done.state && explanation.scale == done.scale;
    case BlunderKind::jockey_still_loaded:
    case BlunderKind::jockey_taken_for_coupling:
    case BlunderKind::person_aboard:
    case BlunderKind::weight_distribution_mislabelled:
      return explanation.state == done.state;
    default:
      break;
  }
  std::set<std::string> proposed, changed;
  for (const auto& correction : explanation.corrections)
    proposed.insert(findings.observations[correction.observation].id.value_or(""));
  for (const simulator::Changed& one : done.changed) changed.insert(one.id);
  return proposed == changed;
}

/// See large_times; the smallest detectable error is that many u/√r of its observation.
bool is_large(const reconcile::Findings& before, const reconcile::Findings& after) {
  for (const reconcile::Observation& o : before.observations) {
    if (!o.smallest_detectable) continue;
    const double detectable = *o.smallest_detectable * std::sqrt(o.redundancy) / o.u;
    return std::sqrt(std::max(0.0, after.fit.chi_square - before.fit.chi_square)) >= large_times * detectable;
  }
  return false;
}

Outcome examine(const simulator::Simulation& drawn, const Blundered& done) try {
  Outcome out;
  out.made = true;
  const reconcile::Findings before = reconcile::reconcile(drawn.session, reconcile::Search::first_set);
  const reconcile::Findings findings = reconcile::reconcile(done.session, reconcile::Search::whole);
  out.large = is_large(before, findings);
  out.found = findings.fit.consistent == false;
  if (!out.found || findings.suspects.empty()) return out;
  const auto& explanations = findings.suspects.front().explanations;
  for (const reconcile::Explanation& one : explanations) {
    const bool leads = &one == &explanations.front();
    if (!is_what_was_done(one, done, findings) || !(leads || one.tied)) continue;
    out.tied = true;
    out.first = out.first || leads;
  }
  return out;
} catch (const reconcile::NotSolved&) {
  Outcome out;
  out.made = out.unsolved = true;
  return out;
}

/// Sessions are drawn until one has room for a blunder of this kind.
Outcome one_blunder(const Sessions& sessions, std::size_t number, BlunderKind kind) {
  constexpr std::uint64_t choice = 3000, most_tries = 300;
  for (std::uint64_t attempt = 0; attempt < most_tries; ++attempt) {
    const std::uint64_t session = number * most_tries + attempt;
    const simulator::Simulation drawn = simulator::draw(sessions.seed, session, sessions.how);
    const auto done = simulator::blunder(drawn, kind, simulator::Random(sessions.seed, session, choice));
    if (done) return examine(drawn, *done);
  }
  return {};
}

void add(Explained& to, const Outcome& outcome) {
  to.found.add(outcome.found);
  if (!outcome.found) return;
  to.first.add(outcome.first);
  to.tied.add(outcome.tied);
}

}  // namespace

BlunderTable blunder_table(const Sessions& sessions, const Workers& workers) {
  constexpr std::size_t kinds = simulator::blunder_kinds;
  const auto all = workers.each<Outcome>("blunders", sessions.count * kinds, [&](std::size_t i) {
    return one_blunder(sessions, i, static_cast<BlunderKind>(i % kinds));
  });
  BlunderTable out;
  for (std::size_t k = 0; k < kinds; ++k) out[k].kind = static_cast<BlunderKind>(k);
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (!all[i].made) continue;
    BlunderRow& row = out[i % kinds];
    row.unsolved += all[i].unsolved ? 1 : 0;
    add(row.all, all[i]);
    if (all[i].large) add(row.large, all[i]);
  }
  return out;
}

}  // namespace steelyard::proof
