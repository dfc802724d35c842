#include "proof/power.hpp"

#include <algorithm>

#include "reconcile/reconcile.hpp"

namespace steelyard::proof {
namespace {

struct Trial {
  bool made = false, found = false, in_set = false, first = false;
  std::size_t set_size = 0;
  double smallest = 0;
};

rig::Reading& reading_of(rig::Session& session, const std::string& id) {
  for (rig::State& state : session.states)
    for (rig::Reading& reading : state.readings)
      if (reading.id == id) return reading;
  throw std::logic_error("no reading " + id);
}

/// The sheet's known gain of a scale stands between the figure and the observation.
double known_gain(const rig::Session& session, const rig::Reading& reading) {
  double sum = 0;
  for (const std::string& id : reading.scales) sum += rig::find_scale(session, id)->gain.value_or(0);
  return reading.scales.empty() ? 0 : sum / static_cast<double>(reading.scales.size());
}

void judge(const reconcile::Findings& findings, const std::string& culprit, Trial& trial) {
  trial.found = findings.fit.consistent == false;
  if (!trial.found || findings.suspects.empty()) return;
  const reconcile::SuspectSet& set = findings.suspects.front();
  trial.set_size = set.members.size();
  const auto is_culprit = [&](const reconcile::SuspectMember& member) {
    return findings.observations[member.observation].id == culprit;
  };
  trial.in_set = std::any_of(set.members.begin(), set.members.end(), is_culprit);
  trial.first = is_culprit(set.members.at(set.likeliest));
}

Trial one_trial(const Sessions& sessions, std::size_t number, double times) {
  constexpr std::uint64_t choice = 2000;
  rig::Session session = simulator::draw(sessions.seed, number, sessions.how).session;
  const reconcile::Findings before = reconcile::reconcile(session, reconcile::Search::first_set);
  std::vector<const reconcile::Observation*> checked;
  for (const reconcile::Observation& o : before.observations)
    if (o.kind == reconcile::ObservationKind::reading && o.smallest_detectable) checked.push_back(&o);
  Trial trial;
  if (checked.empty()) return trial;
  simulator::Random random(sessions.seed, number, choice);
  const reconcile::Observation& culprit = *checked[random.below(checked.size())];
  rig::Reading& reading = reading_of(session, *culprit.id);
  trial.made = true;
  trial.smallest = *culprit.smallest_detectable;
  const double error = times * trial.smallest * (1 + known_gain(session, reading)) /
                       units::Load{1, reading.load.unit}.kg().value();
  const double down = reading.load.figure - error;
  reading.load.figure = random.chance(0.5) && down > 0 ? down : reading.load.figure + error;
  judge(reconcile::reconcile(session, reconcile::Search::first_set), *culprit.id, trial);
  return trial;
}

}  // namespace

Power power(const Sessions& sessions, double times, const Workers& workers) {
  const auto all = workers.each<Trial>(
      "power", sessions.count, [&](std::size_t number) { return one_trial(sessions, number, times); });
  Power out;
  std::vector<double> smallest;
  double members = 0;
  for (const Trial& trial : all) {
    if (!trial.made) continue;
    out.found.add(trial.found);
    smallest.push_back(trial.smallest);
    if (!trial.found) continue;
    out.in_set.add(trial.in_set);
    out.first.add(trial.first);
    members += static_cast<double>(trial.set_size);
  }
  if (out.found.hits > 0) out.mean_set_size = members / out.found.hits;
  if (smallest.empty()) return out;
  const auto middle = smallest.begin() + static_cast<long>(smallest.size() / 2);
  std::nth_element(smallest.begin(), middle, smallest.end());
  out.median_smallest = *middle;
  return out;
}

}  // namespace steelyard::proof
