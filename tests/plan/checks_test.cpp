// What a plan promises of its own: nothing in it could go without an aim, a figure or a check being lost, and
// every reading is checked that can be.
#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <set>

#include "assess/assessment.hpp"
#include "plan/plan.hpp"
#include "plans_made.hpp"
#include "reconcile/reconcile.hpp"
#include "sheets.hpp"

namespace {

using namespace steelyard;
using plan::Plan;
using reconcile::Findings;
using reconcile::Quantity;
using test::Made;
using test::plans;
using test::weighed;

constexpr double same = 1e-9;  // relative

/// What is lost when a plan is cut down to this: an aim, or a figure that every plan keeps.
std::string lost(const Made& made, const rig::Session& less) {
  const Findings found = reconcile::reconcile(less);
  const auto gone = [&](const Quantity* quantity) { return !quantity || !quantity->determinable; };
  for (const char* name : {"tow_unhitched_front", "tow_unhitched_rear", "trailer_mass", "coupling_load"})
    if (!gone(made.plan.chosen.findings.find(name)) && gone(found.find(name))) return name;
  const rig::State* travels = rig::travelling_state(made.plan.chosen.session);
  for (const plan::PlannedState& planned : made.plan.states)
    for (const char* name : {"tow_hitched_front", "tow_hitched_rear", "trailer_axles_hitched"}) {
      if (!planned.state.hitched || (planned.added && planned.state.name != travels->name)) continue;
      if (!gone(made.plan.chosen.findings.find(name, planned.state.name)) &&
          gone(found.find(name, planned.state.name)))
        return name + planned.state.name;
    }
  const assess::Assessment assessment = assess::assess(less, found);
  for (const plan::Aim& aim : made.plan.aims) {
    if (!aim.plan) continue;
    std::optional<double> u;
    if (!aim.limit && !gone(found.find("coupling_load"))) u = found.find("coupling_load")->u;
    for (const assess::Row& row : assessment.rows)
      if (aim.limit == row.limit && aim.state == row.state) u = row.u;
    if (!u) return "an aim cannot be determined";
    if (aim.wanted && *u > std::max(*aim.wanted, 1.02 * *aim.twice) * (1 + same))
      return "an aim is not reached";
  }
  return {};
}

using Place = std::pair<std::string, std::string>;  // state, position

/// The places whose readings nothing checks, in a session with everything once or in part of it.
std::set<Place> unchecked(const Findings& found) {
  std::set<Place> out;
  for (const reconcile::Observation& o : found.observations)
    if (o.kind == reconcile::ObservationKind::reading && o.redundancy < 0.01) out.insert({*o.state, *o.at});
  return out;
}

/// A check that is lost when a plan is cut down to this, if checks are wanted of it.
std::string lost_check(const Made& made, const rig::Session& less) {
  if (made.plan.wanted.rule == plan::Rule::least) return {};
  const std::set<Place> never = unchecked(made.plan.once.findings);
  for (const Place& place : unchecked(reconcile::reconcile(less)))
    if (!never.contains(place)) return "nothing checks " + place.second + " in " + place.first;
  return {};
}

/// Whether a support's scale stands there unused by the trailer that is weighed in that state.
bool stands_anyway(const Made& made, const plan::Step& step) {
  const bool nose = step.at.extent == rig::Extent::coupling || step.at.extent == rig::Extent::jockey;
  if (!nose || step.pass == 2 || step.scales.empty() || made.plan.wanted.rule == plan::Rule::least)
    return false;
  bool trailer = false;
  for (const plan::Step& other : made.plan.steps)
    if (other.state == step.state && other.at.vehicle == rig::Vehicle::trailer) {
      trailer = true;
      if (other.scales == step.scales) return false;
    }
  return trailer;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(checks_of_plans)

/// Both wheel ends of an axle, or a support, once: the least that a plan could leave out.
BOOST_AUTO_TEST_CASE(nothing_in_a_plan_could_go) {
  std::size_t tried = 0, of_two = 0, for_checks = 0;
  for (const Made& made : plans()) {
    const auto& steps = made.plan.steps;
    BOOST_TEST_CONTEXT(made.sheet.id) {
      BOOST_TEST(lost(made, weighed(made.sheet, made.plan)) == "");
      BOOST_TEST(lost_check(made, weighed(made.sheet, made.plan)) == "");
    }
    for (std::size_t i = 0; i < steps.size(); ++i) {
      const bool wheel = steps[i].at.extent == rig::Extent::wheel;
      if (wheel && steps[i].at.side == rig::Side::right) continue;
      if (stands_anyway(made, steps[i])) continue;
      // Of two readings one place is left with the first.
      const auto same_place = [&](const plan::Step& other) {
        return other.state == steps[i].state && other.at == steps[i].at;
      };
      const auto times = std::count_if(steps.begin(), steps.end(), same_place);
      if (times == 2 && steps[i].pass == 1) continue;
      std::vector<std::size_t> but{i};
      if (wheel) but.push_back(i + 1);
      if (but.size() == steps.size()) continue;
      BOOST_TEST_CONTEXT(made.sheet.id << ": without " << rig::to_text(steps[i].at) << " in "
                                       << steps[i].state) {
        const rig::Session less = weighed(made.sheet, made.plan, but);
        const std::string aim = lost(made, less), check = lost_check(made, less);
        BOOST_TEST((aim != "" || check != ""));
        for_checks += aim.empty();
      }
      ++tried;
      of_two += times == 2;
    }
  }
  BOOST_TEST(tried > 300u);
  BOOST_TEST(of_two > 50u);
  BOOST_TEST(for_checks > 100u);
}

BOOST_AUTO_TEST_CASE(every_reading_is_checked_or_even_everything_once_would_not_check_it) {
  std::size_t checked = 0, never = 0;
  for (const Made& made : plans()) {
    if (made.plan.wanted.rule == plan::Rule::least) continue;
    const std::set<Place> without = unchecked(made.plan.once.findings);
    const Findings found = reconcile::reconcile(weighed(made.sheet, made.plan));
    int bare = 0;
    for (std::size_t i = 0; i < made.plan.steps.size(); ++i) {
      const plan::Step& step = made.plan.steps[i];
      BOOST_TEST_CONTEXT(made.sheet.id << ": " << rig::to_text(step.at) << " in " << step.state) {
        const auto same_reading = [i](const auto& o) { return o.id == std::to_string(i); };
        const auto o = std::find_if(found.observations.begin(), found.observations.end(), same_reading);
        BOOST_REQUIRE((o != found.observations.end()));
        BOOST_REQUIRE((o->smallest_detectable.has_value() == step.smallest_detectable.has_value()));
        if (step.smallest_detectable) {
          BOOST_TEST(std::abs(*o->smallest_detectable - *step.smallest_detectable) <=
                     1e-6 * *step.smallest_detectable);
          ++checked;
          continue;
        }
        BOOST_TEST(without.contains({step.state, rig::to_text(step.at)}));
        ++never;
        ++bare;
      }
    }
    BOOST_TEST(bare == made.plan.chosen.unchecked);
    BOOST_TEST(made.plan.twice.unchecked == 0);
  }
  BOOST_TEST_MESSAGE(checked << " checked, " << never << " that cannot be");
  BOOST_TEST(checked > 500u);
  BOOST_TEST(never > 5u);
}

/// What the table says of a reading that nothing checks: read twice it is checked.
BOOST_AUTO_TEST_CASE(a_reading_that_nothing_checks_is_checked_when_read_twice) {
  std::size_t tried = 0;
  for (const Made& made : plans())
    for (std::size_t i = 0; i < made.plan.steps.size(); ++i) {
      const plan::Step& step = made.plan.steps[i];
      if (step.smallest_detectable) continue;
      rig::Session more = weighed(made.sheet, made.plan);
      for (rig::State& state : more.states) {
        if (state.name != step.state) continue;
        rig::Reading again = *std::find_if(state.readings.begin(), state.readings.end(),
                                           [i](const auto& r) { return r.id == std::to_string(i); });
        again.id = "again";
        state.readings.push_back(again);
      }
      BOOST_TEST(!unchecked(reconcile::reconcile(more)).contains({step.state, rig::to_text(step.at)}));
      ++tried;
    }
  BOOST_TEST(tried > 20u);
}

BOOST_AUTO_TEST_CASE(a_nose_on_a_scale_of_its_own_is_read_where_its_trailer_is_weighed) {
  std::size_t read = 0;
  for (const Made& made : plans()) {
    if (made.plan.wanted.rule == plan::Rule::least) continue;
    for (const rig::State& full : made.plan.once.session.states) {
      if (!full.support) continue;
      std::set<std::string> under_wheels;
      bool trailer = false, nose = false;
      for (const plan::Step& step : made.plan.steps) {
        if (step.state != full.name) continue;
        trailer = trailer || step.at.vehicle == rig::Vehicle::trailer;
        nose = nose || step.at.extent == rig::Extent::coupling || step.at.extent == rig::Extent::jockey;
        if (step.at.vehicle == rig::Vehicle::trailer)
          under_wheels.insert(step.scales.begin(), step.scales.end());
      }
      for (const rig::Reading& reading : full.readings) {
        const bool support =
            reading.at.extent == rig::Extent::coupling || reading.at.extent == rig::Extent::jockey;
        if (!support || !trailer || reading.scales.empty() || under_wheels.contains(reading.scales[0]))
          continue;
        BOOST_TEST_CONTEXT(made.sheet.id << ": " << full.name) BOOST_TEST(nose);
        ++read;
      }
    }
  }
  BOOST_TEST(read > 10u);
}

BOOST_AUTO_TEST_CASE(the_least_work_is_less_and_checks_less) {
  int work[2] = {0, 0}, unchecked_readings[2] = {0, 0};
  for (const rig::Session& sheet : test::sample_fleet())
    for (const plan::Rule rule : {plan::Rule::checked, plan::Rule::least}) {
      const Plan made = plan::plan_weighing(sheet, {{}, {}, rule});
      const int least = rule == plan::Rule::least;
      work[least] += made.chosen.readings;
      unchecked_readings[least] += made.chosen.unchecked;
      BOOST_TEST((made.wanted.rule == rule));
    }
  BOOST_TEST(work[1] < work[0]);
  BOOST_TEST(unchecked_readings[1] > unchecked_readings[0]);
}

BOOST_AUTO_TEST_SUITE_END()
