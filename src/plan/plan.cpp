#include "plan/plan.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <tuple>

#include "plan/choose.hpp"
#include "reconcile/reconcile.hpp"

namespace steelyard::plan {
namespace {

// What a remedy is supposed to bring. Common practice, no source.
constexpr double taped_u = 10, height_u = 5, close_height_u = 2, slope_u = 0.5, length_u = 10, jockey_u = 5,
                 certified_gain_u = 0.0005;

units::Length millimetres(double value) {
  return {value, units::LengthUnit::millimetre};
}

/// What the readings that are there tell; nothing where there are none or no solution converges.
std::optional<reconcile::Findings> told_by_readings(const rig::Session& sheet) {
  try {
    return reconcile::reconcile(sheet, reconcile::Search::first_set);
  } catch (const reconcile::NotSolved&) {
    return std::nullopt;
  }
}

/// The same weighing with something measured besides; nothing where that is done already or makes no sense.
std::optional<rig::Session> remedied(rig::Session session, Remedy remedy, const SupposedRig& rig) {
  rig::TowVehicle& tow = session.rig.tow_vehicle;
  rig::Trailer* trailer =
      session.rig.trailer && !session.rig.trailer->self_supporting ? &*session.rig.trailer : nullptr;
  switch (remedy) {
    case Remedy::none:
      return std::nullopt;
    case Remedy::tape_overhang:
      if (!trailer || tow.overhang) return std::nullopt;
      tow.overhang = rig::MeasuredLength{millimetres(rig.overhang()), millimetres(taped_u)};
      return session;
    case Remedy::measure_heights: {
      if (!trailer) return std::nullopt;
      const bool measured =
          std::all_of(session.states.begin(), session.states.end(),
                      [](const rig::State& state) { return state.coupling_height.has_value(); });
      for (rig::State& state : session.states) {
        if (!state.coupling_height) state.coupling_height = rig::MeasuredLength{millimetres(400), {}};
        state.coupling_height->u = millimetres(measured ? close_height_u : height_u);
      }
      return session;
    }
    case Remedy::measure_slope:
      for (rig::State& state : session.states)
        state.slope = rig::MeasuredSlope{state.slope ? state.slope->value : 0, slope_u};
      return session;
    case Remedy::measure_to_axles:
      if (!trailer || trailer->coupling_to_axles) return std::nullopt;
      trailer->coupling_to_axles = rig::MeasuredLength{millimetres(4000), millimetres(length_u)};
      return session;
    case Remedy::measure_to_jockey:
      if (!trailer || trailer->coupling_to_jockey) return std::nullopt;
      trailer->coupling_to_jockey = rig::MeasuredLength{millimetres(500), millimetres(jockey_u)};
      return session;
    case Remedy::known_gains:
      if (session.scales.empty()) session.assumptions.anonymous_gain_u = certified_gain_u;
      for (rig::Scale& scale : session.scales) scale.gain_u = certified_gain_u;
      return session;
  }
  return std::nullopt;
}

class Planner {
 public:
  Planner(const rig::Session& sheet, const Wanted& wanted) : sheet_(sheet) {
    out_.wanted = wanted;
    arrange(to_, sheet);
    suppose();
    place(to_, *rig_);
    once_.assign(to_.elements.size(), 1);
    twice_.assign(to_.elements.size(), 2);
    aims_ = find_aims(to_, session_of(once_), wanted);
  }

  Plan plan() {
    const Outlook twice = look_at(twice_);
    if (!twice.solved)
      throw reconcile::NotSolved("session " + sheet_.id +
                                 ": no solution converges for the loads supposed; look at its lengths");
    Goals goals = goals_of(aims_, twice);
    if (out_.wanted.rule == Rule::checked) goals.checked = checked_by_others(to_, look_at(once_));
    const Selection chosen = choose(to_, goals, [this](const Selection& s) { return look_at(s); });
    out_.chosen = prospect(chosen);
    tell_suppositions();
    tell_steps(chosen);
    tell_aims(chosen, twice);
    out_.once = prospect(once_);
    out_.twice = prospect(twice_);
    return std::move(out_);
  }

 private:
  void suppose() {
    for (const rig::State& state : sheet_.states)
      for (const rig::Reading& reading : state.readings) out_.readings_there += reading.struck ? 0 : 1;
    const auto found = out_.readings_there > 0 ? told_by_readings(sheet_) : std::nullopt;
    rig_ = std::make_unique<SupposedRig>(sheet_, found ? &*found : nullptr);
    // Readings that give a load that no scale can show are off; so may be ratings.
    if (found && !rig_->possible(to_.base.states)) rig_ = std::make_unique<SupposedRig>(sheet_, nullptr);
    if (rig_->possible(to_.base.states)) return;
    unrated_ = sheet_;
    unrated_.rig.limits.clear();
    rig_ = std::make_unique<SupposedRig>(unrated_, nullptr);
  }

  rig::Session session_of(const Selection& selection) const {
    const auto order = in_order(to_, selection);
    return weighed(to_, *rig_, order, order.size(), states_of(to_, selection));
  }
  Outlook look_at(const Selection& selection) const { return look(session_of(selection), aims_); }

  void tell_suppositions() {
    out_.suppositions = rig_->told(to_.base.states);
    for (std::size_t k = 0; k < to_.base.states.size(); ++k) {
      const rig::State& state = to_.base.states[k];
      if (to_.added[k] && state.coupling_height)
        out_.suppositions.push_back({"coupling_height", state.name, reconcile::Measure::millimetre,
                                     state.coupling_height->value.mm().value(), Origin::usual});
    }
  }

  void tell_steps(const Selection& chosen) {
    const auto order = in_order(to_, chosen);
    const auto states = states_of(to_, chosen);
    for (std::size_t k = 0; k < states.size(); ++k)
      out_.states.push_back({to_.base.states[k], to_.added[k], 0});
    const bool coupled = sheet_.rig.trailer && !sheet_.rig.trailer->self_supporting;
    for (std::size_t i = 0; i < order.size(); ++i) {
      const Element& element = to_.elements[order[i].element];
      const rig::State& state = to_.base.states[element.state];
      ++out_.states[element.state].readings;
      Step& step = out_.steps.emplace_back();
      step.state = state.name;
      step.at = element.positions[order[i].position];
      step.scales = element.scales[order[i].position];
      step.pass = order[i].pass;
      step.set_down = order[i].set_down;
      step.expected = shown(to_.base, step.scales, rig_->load(state, step.at));
      if (coupled) step.coupling_u = look(weighed(to_, *rig_, order, i + 1, states), aims_).u[0];
    }
    std::size_t taken = 0;  // readings stand in the order in which they are taken, before all else
    for (const reconcile::Observation& o : out_.chosen.findings.observations)
      if (o.kind == reconcile::ObservationKind::reading)
        out_.steps.at(taken++).smallest_detectable = o.smallest_detectable;
    std::erase_if(out_.states, [](const PlannedState& state) { return state.added && state.readings == 0; });
  }

  void tell_aims(const Selection& chosen, const Outlook& twice) {
    const Outlook plan = look_at(chosen), once = look_at(once_);
    out_.aims = aims_.aims;
    for (std::size_t i = 0; i < out_.aims.size(); ++i) {
      Aim& aim = out_.aims[i];
      aim.once = once.u[i];
      aim.plan = plan.u[i];
      aim.twice = twice.u[i];
      aim.reached = aim.plan && (!aim.wanted || *aim.plan <= *aim.wanted * (1 + 1e-9));
      if (!aim.reached) shortfall(i, twice);
    }
  }

  void shortfall(std::size_t aim, const Outlook& twice) {
    Shortfall& out = out_.shortfalls.emplace_back();
    out.aim = aim;
    out.floor = twice.u[aim];
    if (out.floor) std::tie(out.governed_by, out.share) = governing(twice, aim);
    double best = out.floor ? 0.9 * *out.floor : HUGE_VAL;  // less than a tenth better is no remedy
    const rig::Session session = session_of(twice_);
    for (const Remedy remedy : {Remedy::tape_overhang, Remedy::measure_heights, Remedy::measure_to_axles,
                                Remedy::measure_to_jockey, Remedy::measure_slope, Remedy::known_gains}) {
      const auto other = remedied(session, remedy, *rig_);
      if (!other) continue;
      const auto u = look(*other, aims_).u[aim];
      if (!u || !(*u < best)) continue;
      best = *u;
      out.remedy = remedy;
      out.with_remedy = u;
    }
  }

  Prospect prospect(const Selection& selection) const {
    Prospect out;
    out.session = session_of(selection);
    out.findings = reconcile::reconcile(out.session, reconcile::Search::first_set);
    const auto order = in_order(to_, selection);
    out.readings = static_cast<int>(order.size());
    out.set_downs = order.empty() ? 0 : order.back().set_down;
    std::vector<double> sizes;
    for (const reconcile::Observation& o : out.findings.observations) {
      if (o.kind != reconcile::ObservationKind::reading) continue;
      if (o.smallest_detectable)
        sizes.push_back(*o.smallest_detectable);
      else
        ++out.unchecked;
    }
    if (sizes.empty()) return out;
    std::sort(sizes.begin(), sizes.end());
    const std::size_t middle = sizes.size() / 2;
    out.smallest_detectable = sizes.size() % 2 == 1 ? sizes[middle] : (sizes[middle - 1] + sizes[middle]) / 2;
    out.largest_detectable = sizes.back();
    return out;
  }

  const rig::Session& sheet_;
  rig::Session unrated_;
  Candidates to_;
  std::unique_ptr<SupposedRig> rig_;
  Selection once_, twice_;
  Aims aims_;
  Plan out_;
};

}  // namespace

std::string_view to_text(Rule rule) {
  return rule == Rule::checked ? "checked" : "least";
}

std::string_view to_text(Origin origin) {
  switch (origin) {
    case Origin::given:
      return "given";
    case Origin::readings:
      return "readings";
    case Origin::ratings:
      return "ratings";
    case Origin::usual:
      return "usual";
  }
  return {};
}

std::string_view to_text(Remedy remedy) {
  switch (remedy) {
    case Remedy::none:
      return "none";
    case Remedy::tape_overhang:
      return "tape_overhang";
    case Remedy::measure_heights:
      return "measure_heights";
    case Remedy::measure_slope:
      return "measure_slope";
    case Remedy::measure_to_axles:
      return "measure_to_axles";
    case Remedy::measure_to_jockey:
      return "measure_to_jockey";
    case Remedy::known_gains:
      return "known_gains";
  }
  return {};
}

Plan plan_weighing(const rig::Session& sheet, const Wanted& wanted) {
  return Planner(sheet, wanted).plan();
}

}  // namespace steelyard::plan
