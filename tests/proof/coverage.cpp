#include "proof/coverage.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "reconcile/reconcile.hpp"

namespace steelyard::proof {
namespace {

constexpr double z95 = 1.959964;  // as the model prints it
constexpr double share_of_each_test = 0.025, power_quantile = 0.8416;

struct Judged {
  std::string name;
  bool covered = false;
};

struct One {
  std::vector<Judged> judged;
  std::optional<double> p_value;
  bool alarm = false, residual_alarm = false, held = false, small_coupling = false;
};

bool covers(const reconcile::Quantity& quantity, double truth) {
  if (quantity.interval) return quantity.interval->first <= truth && truth <= quantity.interval->second;
  return std::abs(quantity.value - truth) <= z95 * quantity.u;
}

/// The largest residual's test, undone from the smallest detectable error.
bool outlying(const reconcile::Findings& findings) {
  return std::any_of(findings.observations.begin(), findings.observations.end(), [](const auto& o) {
    if (!o.normalised_residual || !o.smallest_detectable) return false;
    const double critical = *o.smallest_detectable * std::sqrt(o.redundancy) / o.u - power_quantile;
    return std::abs(*o.normalised_residual) > critical;
  });
}

/// One instance of each name, by chance: those of one session hang together and would count as one.
std::vector<Judged> judge(const simulator::Simulation& drawn, const reconcile::Findings& findings,
                          simulator::Random random) {
  std::vector<std::pair<std::string, std::vector<bool>>> all;
  for (const reconcile::Quantity& quantity : findings.quantities) {
    if (!quantity.determinable) continue;
    const auto truth = drawn.truth(quantity.name, quantity.state.value_or(""), quantity.at.value_or(""));
    if (!truth) throw std::logic_error("the simulator has no truth of " + quantity.name);
    auto found =
        std::find_if(all.begin(), all.end(), [&](const auto& one) { return one.first == quantity.name; });
    if (found == all.end()) found = all.insert(all.end(), {quantity.name, {}});
    found->second.push_back(covers(quantity, *truth));
  }
  std::vector<Judged> out;
  for (const auto& [name, covered] : all) out.push_back({name, covered[random.below(covered.size())]});
  return out;
}

One examine(const Sessions& sessions, std::size_t number) {
  constexpr std::uint64_t choice = 1000;
  const simulator::Simulation drawn = simulator::draw(sessions.seed, number, sessions.how);
  const reconcile::Findings findings = reconcile::reconcile(drawn.session, reconcile::Search::first_set);
  One out;
  out.judged = judge(drawn, findings, simulator::Random(sessions.seed, number, choice));
  out.p_value = findings.fit.p_value;
  out.alarm = findings.fit.consistent == false;
  out.residual_alarm = outlying(findings);
  out.held = findings.fit.overhang_held;
  const auto& trailer = drawn.rig.trailer;
  out.small_coupling = trailer && !trailer->self_supporting && trailer->coupling < small_coupling_load;
  return out;
}

Row& row_of(std::vector<Row>& rows, const std::string& name) {
  const auto found = std::find_if(rows.begin(), rows.end(), [&](const Row& r) { return r.name == name; });
  if (found != rows.end()) return *found;
  return rows.emplace_back(Row{name, {}, {}, {}});
}

}  // namespace

Coverage cover(const Sessions& sessions, const Workers& workers) {
  const auto all = workers.each<One>("coverage", sessions.count,
                                     [&](std::size_t number) { return examine(sessions, number); });
  Coverage out;
  for (const char* name : {"tow_unhitched_front",
                           "tow_unhitched_rear",
                           "tow_unhitched_total",
                           "coupling_load",
                           "coupling_load_at_height",
                           "coupling_load_net",
                           "load_transfer_ratio",
                           "front_relief_ratio",
                           "overhang",
                           "inferred_overhang",
                           "inferred_transfer_ratio",
                           "tow_hitched_front",
                           "tow_hitched_rear",
                           "tow_hitched_total",
                           "trailer_mass",
                           "trailer_axles_hitched",
                           "combination_mass",
                           "coupling_share",
                           "weight_distribution_moment",
                           "front_axle_restoration",
                           "height_sensitivity",
                           "wheel_load",
                           "axle_load",
                           "group_load",
                           "side_difference"})
    row_of(out.rows, name);
  for (const One& one : all) {
    for (const Judged& judged : one.judged) {
      Row& row = row_of(out.rows, judged.name);
      row.all.add(judged.covered);
      (one.small_coupling ? row.small_coupling : row.other).add(judged.covered);
    }
    out.overhang_held += one.held ? 1 : 0;
    if (!one.p_value) {
      ++out.untested;
      continue;
    }
    out.p_values.push_back(*one.p_value);
    out.alarms.add(one.alarm);
    out.by_chi_square.add(*one.p_value < share_of_each_test);
    out.by_residual.add(one.residual_alarm);
    if (one.residual_alarm) out.both.add(*one.p_value < share_of_each_test);
  }
  return out;
}

}  // namespace steelyard::proof
