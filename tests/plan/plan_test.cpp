// Plans against the engine: readings free of noise, made for a plan by moments and forces of our own from the
// figures it supposes, reconcile to the u that it predicts. And what a plan promises of itself: scales within
// their capacity, nothing in it that could go, a second reading never makes anything worse.
#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <map>

#include "assess/assessment.hpp"
#include "plan/plan.hpp"
#include "reconcile/reconcile.hpp"
#include "sheets.hpp"

namespace {

using namespace steelyard;
using plan::Plan;
using reconcile::Findings;
using reconcile::Quantity;

constexpr double same = 1e-9;  // relative

/// The supposed rig, by moments about its axles; nothing of the engine.
class Bench {
 public:
  Bench(const rig::Session& session, const Plan& plan) : session_(session) {
    for (const plan::Supposition& s : plan.suppositions) figures_[{s.name, s.state.value_or("")}] = s.value;
    double places[2] = {0, 0};
    for (const rig::Axle& axle : session.rig.tow_vehicle.axles) {
      const int group = axle.group == rig::Group::rear;
      places[group] += axle.at.mm().value();
      ++count_[group];
    }
    front_at_ = places[0] / count_[0];
    rear_at_ = places[1] / count_[1];
  }

  double load(const rig::State& state, const rig::Position& at) const {
    if (at.extent == rig::Extent::coupling) return figure("coupling_load");
    if (at.extent == rig::Extent::jockey)  // moments about the trailer's axles
      return figure("coupling_load") * figure("coupling_to_axles") /
             (figure("coupling_to_axles") - figure("coupling_to_jockey"));
    const double axle = at.vehicle == rig::Vehicle::tow ? tow(state, at.axle) : trailer(state);
    BOOST_REQUIRE(at.extent == rig::Extent::wheel);
    return axle * (at.side == rig::Side::left ? figure("left_share") : 1 - figure("left_share"));
  }

 private:
  double figure(const char* name, const std::string& state = {}) const {
    const auto found = figures_.find({name, state});
    BOOST_REQUIRE_MESSAGE(found != figures_.end(), name);
    return found->second;
  }
  bool coupled() const { return session_.rig.trailer && !session_.rig.trailer->self_supporting; }
  double bars(const rig::State& state) const {
    return state.weight_distribution ? figure("weight_distribution_moment", state.name) : 0;
  }
  double down(const rig::State& state) const {
    return coupled() && state.hitched ? figure("coupling_load") - bars(state) / figure("coupling_to_axles")
                                      : 0;
  }

  /// Moments about the front group's centre give the rear group, the sum of forces the front one.
  double tow(const rig::State& state, int axle) const {
    const double f = figure("tow_unhitched_front"), r = figure("tow_unhitched_rear"), n = down(state);
    const double base = rear_at_ - front_at_, total = f + r + n;
    double moment = r * base;
    if (n != 0) moment += n * (base + figure("overhang"));
    if (state.hitched && coupled()) moment -= bars(state);
    const auto& cg = session_.rig.tow_vehicle.cg_height;
    moment += total * (cg ? cg->value.mm().value() : 700) * (state.slope ? state.slope->value : 0) / 1000;
    const double rear = moment / base;
    const bool behind =
        session_.rig.tow_vehicle.axles[static_cast<std::size_t>(axle - 1)].group == rig::Group::rear;
    return behind ? rear / count_[1] : (total - rear) / count_[0];
  }
  double trailer(const rig::State& state) const {
    double carried = figure("trailer_mass") - down(state);
    if (coupled() && !state.hitched)
      carried -= load(state, state.support == rig::Support::jockey ? rig::Position::support_at_jockey()
                                                                   : rig::Position::support_at_coupling());
    return carried / session_.rig.trailer->axles;
  }

  const rig::Session& session_;
  std::map<std::pair<std::string, std::string>, double> figures_;
  double count_[2] = {0, 0}, front_at_ = 0, rear_at_ = 0;
};

/// The sheet weighed to the steps of a plan, without those of `but` (a set of step numbers).
rig::Session weighed(const rig::Session& sheet, const Plan& plan, const std::vector<std::size_t>& but = {}) {
  rig::Session out = sheet;
  out.states.clear();
  out.extras.clear();
  for (const plan::PlannedState& planned : plan.states) out.states.push_back(planned.state);
  const Bench bench(sheet, plan);
  for (std::size_t i = 0; i < plan.steps.size(); ++i) {
    if (std::find(but.begin(), but.end(), i) != but.end()) continue;
    const plan::Step& step = plan.steps[i];
    for (rig::State& state : out.states) {
      if (state.name != step.state) continue;
      rig::Reading& reading = state.readings.emplace_back();
      reading.id = std::to_string(i);
      reading.at = step.at;
      reading.scales = step.scales;
      double shows = bench.load(state, step.at), gain = 0;
      for (const std::string& id : step.scales) gain += rig::find_scale(out, id)->gain.value_or(0);
      if (!step.scales.empty()) shows *= 1 + gain / static_cast<double>(step.scales.size());
      reading.load = {shows, units::LoadUnit::kilogram};
    }
  }
  std::erase_if(out.states, [&](const rig::State& state) {
    return state.readings.empty() && !rig::find_state(sheet, state.name);
  });
  return out;
}

std::vector<rig::Session> rigs() {
  auto out = test::sample_fleet();
  auto random = test::drawn("rigs");
  random.resize(std::min<std::size_t>(random.size(), 40));
  out.insert(out.end(), random.begin(), random.end());
  return out;
}

/// Plans are made once for all tests: with the usual wishes, with hard ones and with easy ones.
struct Made {
  rig::Session sheet;
  Plan plan;
};
const std::vector<Made>& plans() {
  static const std::vector<Made> made = [] {
    std::vector<Made> out;
    int n = 0;
    for (rig::Session& sheet : rigs()) {
      const plan::Wanted wishes[] = {{}, {1.5, 3.0}, {20.0, 50.0}};
      const plan::Wanted& wanted = wishes[n++ % 3];
      // Every other one before anything was weighed.
      if (n % 2 == 0)
        for (rig::State& state : sheet.states) state.readings.clear();
      out.push_back({sheet, plan::plan_weighing(sheet, wanted)});
    }
    return out;
  }();
  return made;
}

bool in_both(const Quantity& said, const Findings& found, const Quantity*& other) {
  other = found.find(said.name, said.state.value_or(""), said.at.value_or(""));
  return other != nullptr;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(plans_of_weighing)

BOOST_AUTO_TEST_CASE(predicted_u_is_what_reconcile_gives_for_readings_to_the_plan) {
  std::size_t compared = 0, determinable = 0;
  for (const Made& made : plans()) {
    const Findings found = reconcile::reconcile(weighed(made.sheet, made.plan));
    BOOST_TEST_CONTEXT(made.sheet.id) {
      BOOST_REQUIRE_EQUAL(found.quantities.size(), made.plan.chosen.findings.quantities.size());
      BOOST_TEST(found.fit.chi_square < 1e-9);  // free of noise: every reading fits
      for (const Quantity& said : made.plan.chosen.findings.quantities) {
        const Quantity* other = nullptr;
        BOOST_REQUIRE(in_both(said, found, other));
        BOOST_TEST_CONTEXT(said.name << ' ' << said.state.value_or("") << ' ' << said.at.value_or("")) {
          BOOST_TEST(said.determinable == other->determinable);
          if (said.determinable && other->determinable) {
            BOOST_TEST(std::abs(said.u - other->u) <= same * other->u);
            ++determinable;
          }
        }
        ++compared;
      }
      for (std::size_t i = 0; i < made.plan.steps.size(); ++i) BOOST_TEST((made.plan.steps[i].expected > 0));
    }
  }
  BOOST_TEST_MESSAGE(compared << " quantities of " << plans().size() << " plans, " << determinable
                              << " determinable");
  BOOST_TEST(determinable > 2000u);
}

BOOST_AUTO_TEST_CASE(no_scale_gets_more_than_it_carries) {
  for (const Made& made : plans())
    for (const plan::Prospect* prospect : {&made.plan.chosen, &made.plan.once, &made.plan.twice})
      for (const rig::State& state : prospect->session.states)
        for (const rig::Reading& reading : state.readings)
          for (const std::string& id : reading.scales) {
            const auto& capacity = rig::find_scale(made.sheet, id)->capacity;
            if (capacity) BOOST_TEST(reading.load.kg().value() <= capacity->kg().value());
          }
}

BOOST_AUTO_TEST_CASE(what_is_wanted_is_reached_or_said_not_to_be) {
  std::size_t reached = 0, missed = 0;
  for (const Made& made : plans())
    for (std::size_t i = 0; i < made.plan.aims.size(); ++i) {
      const plan::Aim& aim = made.plan.aims[i];
      const bool said = std::any_of(made.plan.shortfalls.begin(), made.plan.shortfalls.end(),
                                    [i](const plan::Shortfall& shortfall) { return shortfall.aim == i; });
      BOOST_TEST(said == !aim.reached);
      BOOST_TEST((aim.twice.has_value() == aim.plan.has_value()));  // nothing determinable is lost
      if (aim.reached && aim.wanted) BOOST_TEST(*aim.plan <= *aim.wanted * (1 + same));
      // Not reached only where every position twice does not reach it either, and then as near as makes
      // sense.
      if (!aim.reached && aim.plan) {
        BOOST_TEST(*aim.twice * 1.02 > *aim.wanted);
        BOOST_TEST(*aim.plan <= *aim.twice * 1.02 * (1 + same));
      }
      ++(aim.reached ? reached : missed);
    }
  BOOST_TEST(reached > 200u);
  BOOST_TEST(missed > 20u);
}

BOOST_AUTO_TEST_CASE(reading_twice_never_makes_u_larger) {
  for (const Made& made : plans())
    for (const Quantity& once : made.plan.once.findings.quantities) {
      const Quantity* twice = nullptr;
      BOOST_REQUIRE(in_both(once, made.plan.twice.findings, twice));
      if (!once.determinable) continue;
      BOOST_REQUIRE(twice->determinable);
      BOOST_TEST(twice->u <= once.u * (1 + same));
    }
}

BOOST_AUTO_TEST_CASE(the_coupling_load_gets_surer_step_by_step_down_to_what_the_plan_gives) {
  std::size_t followed = 0;
  for (const Made& made : plans()) {
    const Quantity* load = made.plan.chosen.findings.find("coupling_load");
    if (!load || !load->determinable) continue;
    double before = HUGE_VAL;
    for (const plan::Step& step : made.plan.steps) {
      BOOST_TEST((before == HUGE_VAL || step.coupling_u.has_value()));
      if (!step.coupling_u) continue;
      BOOST_TEST(*step.coupling_u <= before * (1 + same));
      before = *step.coupling_u;
    }
    BOOST_TEST(std::abs(before - load->u) <= same * load->u);
    ++followed;
  }
  BOOST_TEST(followed > 40u);
}

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

/// Both wheel ends of an axle, or a support, once: the least that a plan could leave out.
BOOST_AUTO_TEST_CASE(nothing_in_a_plan_could_go) {
  std::size_t tried = 0, of_two = 0;
  for (const Made& made : plans()) {
    const auto& steps = made.plan.steps;
    BOOST_TEST_CONTEXT(made.sheet.id) BOOST_TEST(lost(made, weighed(made.sheet, made.plan)) == "");
    for (std::size_t i = 0; i < steps.size(); ++i) {
      const bool wheel = steps[i].at.extent == rig::Extent::wheel;
      if (wheel && steps[i].at.side == rig::Side::right) continue;
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
                                       << steps[i].state)
      BOOST_TEST(lost(made, weighed(made.sheet, made.plan, but)) != "");
      ++tried;
      of_two += times == 2;
    }
  }
  BOOST_TEST(tried > 300u);
  BOOST_TEST(of_two > 50u);
}

BOOST_AUTO_TEST_SUITE_END()
