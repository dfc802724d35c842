#include "plans_made.hpp"

#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <map>

#include "sheets.hpp"

namespace steelyard::test {
namespace {

using plan::Plan;

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

std::vector<rig::Session> rigs() {
  auto out = test::sample_fleet();
  auto random = test::drawn("rigs");
  random.resize(std::min<std::size_t>(random.size(), 40));
  out.insert(out.end(), random.begin(), random.end());
  return out;
}

}  // namespace

rig::Session weighed(const rig::Session& sheet, const Plan& plan, const std::vector<std::size_t>& but) {
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

const std::vector<Made>& plans() {
  static const std::vector<Made> made = [] {
    std::vector<Made> out;
    int n = 0;
    for (rig::Session& sheet : rigs()) {
      const plan::Wanted wishes[] = {{}, {1.5, 3.0}, {20.0, 50.0}};
      plan::Wanted wanted = wishes[n++ % 3];
      if (n % 4 == 0) wanted.rule = plan::Rule::least;
      // Every other one before anything was weighed.
      if (n % 2 == 0)
        for (rig::State& state : sheet.states) state.readings.clear();
      out.push_back({sheet, plan::plan_weighing(sheet, wanted)});
    }
    return out;
  }();
  return made;
}

}  // namespace steelyard::test
