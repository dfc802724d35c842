#include "reconcile/needs.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "reconcile/statics.hpp"

namespace steelyard::reconcile {
namespace {

using rig::Position;

constexpr double least_supposed_load = 50;  // kg; a supposed reading only has to be possible
// A reading on a scale not named, and a height given bare (model, section 4): what is said must do on any
// scale.
constexpr double unnamed_scale_u = 1.0801234497346435, unnamed_gain_u = 0.003, bare_height_u = 5;

/// An addition to the weighing: what is said, and the session as it would be.
struct Addition {
  Need need;
  rig::Session session;
  bool tried = false;
  std::unique_ptr<WholeSolution> outcome;
};

/// Loads that a further reading might show, from the solution as far as it goes.
class Supposed {
 public:
  Supposed(const rig::Session& session, const SolvedRig& solved)
      : session_(session), layout_(*solved.layout), rig_(layout_, solved.solution.unknowns) {}

  double load(const rig::State& state, const Position& at) const {
    const double coupling = layout_.coupled ? rig_.coupling() : 0;
    double load = 0;
    if (at.extent == rig::Extent::coupling || at.extent == rig::Extent::jockey) {
      load = coupling;
    } else if (at.vehicle == rig::Vehicle::trailer) {
      load = (rig_.trailer() - coupling) / session_.rig.trailer->axles;
    } else {
      const double on = state.hitched ? coupling : 0,
                   arm = layout_.coupled ? rig_.overhang() / rig_.wheelbase() : 0;
      const bool rear = at.axle > 0 && layout_.in_rear(static_cast<std::size_t>(at.axle - 1));
      const double group = rear ? rig_.rear() + on * (1 + arm) : rig_.front() - on * arm;
      const auto& axles = session_.rig.tow_vehicle.axles;
      const auto wanted = rear ? rig::Group::rear : rig::Group::front;
      load = group / static_cast<double>(std::count_if(
                         axles.begin(), axles.end(), [&](const rig::Axle& a) { return a.group == wanted; }));
    }
    if (at.extent == rig::Extent::wheel) load /= 2;
    return std::isfinite(load) ? std::clamp(load, least_supposed_load, 20000.0) : 500;
  }

 private:
  const rig::Session& session_;
  const Layout& layout_;
  Statics rig_;
};

/// A need that no single addition to the readings meets.
Need in_words(std::string text) {
  Need need;
  need.text = std::move(text);
  return need;
}

/// An uncertainty as wide as this means that the supposed loads, which need not agree, opened what the rig
/// keeps shut.
double useless_u(Measure measure) {
  switch (measure) {
    case Measure::one:
      return 5;
    case Measure::kilogram_millimetre:
      return 1e7;
    default:
      return 5000;
  }
}

std::string quoted(const std::string& name) {
  return "“" + name + "”";
}

std::string free_name(const rig::Session& session, std::string wanted) {
  const std::string stem = wanted;
  for (int n = 2; rig::find_state(session, wanted); ++n) wanted = stem + " " + std::to_string(n);
  return wanted;
}

class NeedFinder {
 public:
  NeedFinder(const rig::Session& session, const SolvedRig& solved)
      : session_(session), solved_(solved), supposed_(session, solved) {
    const Layout& layout = *solved.layout;
    tow_axles_ = axle_positions(rig::Vehicle::tow, session.rig.tow_vehicle.axles.size());
    if (layout.has_trailer)
      trailer_axles_ =
          axle_positions(rig::Vehicle::trailer, static_cast<std::size_t>(session.rig.trailer->axles));
  }

  void answer(Derived& derived, bool for_limits) {
    Quantity& quantity = derived.quantity;
    if (quantity.determinable) return;
    if (derived.obstacle == Obstacle::prior_only) return heights(quantity);
    if (derived.obstacle == Obstacle::far_overhang || derived.obstacle == Obstacle::held ||
        derived.obstacle == Obstacle::not_solved) {
      quantity.needs = in_words(
          "no overhang fits these readings: one of them is off; strike it and weigh that place again");
      return;
    }
    if (derived.obstacle == Obstacle::small_front_loss) {
      quantity.needs = in_words(
          "the front axle loses too little to compare with: put more load on the coupling and weigh again");
      return;
    }
    if (additions_.empty()) add_all();
    for (Addition& addition : additions_)
      if (makes_determinable(addition, quantity, for_limits)) {
        quantity.needs = addition.need;
        return;
      }
    quantity.needs =
        in_words(derived.obstacle == Obstacle::small_coupling
                     ? "the coupling load is too small to infer it: load the trailer further forward and "
                       "weigh again"
                     : "weigh every axle of the tow vehicle and of the trailer, unhitched and hitched");
  }

 private:
  /// The least work first.
  void add_all() {
    if (solved_.layout->coupled && !session_.rig.tow_vehicle.overhang) tape();
    single_positions();
    whole_vehicles();
    new_states();
  }

  static std::vector<Position> axle_positions(rig::Vehicle vehicle, std::size_t count) {
    std::vector<Position> out;
    for (std::size_t a = 1; a <= count; ++a)
      out.push_back(Position::whole_axle(vehicle, static_cast<int>(a)));
    return out;
  }

  Addition& start(std::string text) {
    Addition& addition = additions_.emplace_back();
    addition.need.text = std::move(text);
    addition.session = session_;
    return addition;
  }

  void tape() {
    Addition& addition = start("tape the overhang, from the rear axle group's centre to the coupling");
    addition.need.tape_overhang = true;
    addition.session.rig.tow_vehicle.overhang =
        rig::MeasuredLength{{1200, units::LengthUnit::millimetre}, {}};
  }

  void read(Addition& addition, const std::string& name, const std::vector<Position>& positions) {
    for (rig::State& state : addition.session.states) {
      if (state.name != name) continue;
      for (const Position& at : positions) {
        rig::Reading& reading = state.readings.emplace_back();
        reading.id = "supposed " + std::to_string(state.readings.size());
        reading.at = at;
        reading.load = {supposed_.load(state, at), units::LoadUnit::kilogram};
      }
    }
    auto& steps = addition.need.weigh;
    for (Need::Step& step : steps)
      if (step.state == name) {
        step.positions.insert(step.positions.end(), positions.begin(), positions.end());
        return;
      }
    steps.push_back({name, std::nullopt, positions});
  }

  std::string arrange(Addition& addition, std::string wanted, bool hitched,
                      std::optional<rig::Support> support, std::optional<rig::MeasuredLength> height = {}) {
    rig::State& state = addition.session.states.emplace_back();
    state.name = free_name(session_, std::move(wanted));
    state.hitched = hitched;
    state.support = support;
    state.coupling_height = height;
    addition.need.weigh.push_back({state.name, state, {}});
    return state.name;
  }

  /// One place in a state that is there: the other wheel of an axle, an axle passed over, a support not read.
  void single_positions() {
    for (const StateLayout& place : solved_.layout->states) {
      const std::string& name = place.state->name;
      if (place.support) {
        const bool jockey = place.state->support == rig::Support::jockey;
        read(start("weigh the " + std::string(jockey ? "jockey wheel" : "coupling") +
                   " on a scale in state " + quoted(name)),
             name, {jockey ? Position::support_at_jockey() : Position::support_at_coupling()});
      }
      for (std::size_t v = 0; v < 2; ++v)
        for (std::size_t a = 0; a < place.axles[v].size(); ++a) one_axle(place, v, a);
    }
  }

  void one_axle(const StateLayout& place, std::size_t v, std::size_t a) {
    const auto vehicle = v == 0 ? rig::Vehicle::tow : rig::Vehicle::trailer;
    const int n = static_cast<int>(a + 1);
    std::vector<Position> places;
    if (place.axles[v][a].split)
      places = {Position::wheel(vehicle, n, rig::Side::left), Position::wheel(vehicle, n, rig::Side::right)};
    else
      places = {Position::whole_axle(vehicle, n)};
    for (const Position& at : places) {
      const auto& readings = place.state->readings;
      const bool there = std::any_of(readings.begin(), readings.end(),
                                     [&](const rig::Reading& r) { return r.at == at && !r.struck; });
      if (!there)
        read(start("weigh " + rig::in_words(at) + " in state " + quoted(place.state->name)),
             place.state->name, {at});
    }
  }

  void whole_vehicles() {
    for (const StateLayout& place : solved_.layout->states) {
      const std::string& name = place.state->name;
      read(start("weigh every axle of the tow vehicle in state " + quoted(name)), name, tow_axles_);
      if (!trailer_axles_.empty())
        read(start("weigh every trailer axle in state " + quoted(name)), name, trailer_axles_);
    }
  }

  void new_states() {
    const bool coupled = solved_.layout->coupled;
    const auto alone = [&](Addition& to) {
      read(to, arrange(to, "tow vehicle alone", false, {}), tow_axles_);
    };
    const auto nose = [&](Addition& to, bool axles) {
      const std::string name = arrange(to, "trailer alone", false, rig::Support::coupling);
      read(to, name, {Position::support_at_coupling()});
      if (axles) read(to, name, trailer_axles_);
    };
    const auto hitched = [&](Addition& to, bool tow, bool trailer) {
      const std::string name = arrange(to, "hitched", true, {});
      if (tow) read(to, name, tow_axles_);
      if (trailer) read(to, name, trailer_axles_);
    };
    const std::string tow_alone = "weigh every axle of the tow vehicle unhitched";
    alone(start(tow_alone));
    if (!solved_.layout->has_trailer) return;
    const std::string by_nose = "weigh the coupling of the unhitched trailer on a scale at towing height";
    const std::string without = distributes() ? ", without weight distribution" : "";
    if (coupled) {
      nose(start(by_nose), false);
      nose(start(by_nose + ", and every trailer axle with it"), true);
    }
    hitched(start("weigh every axle of the tow vehicle hitched" + without), true, false);
    hitched(start("weigh every trailer axle hitched" + without), false, true);
    hitched(start("weigh every axle of the rig hitched" + without), true, true);
    Addition& both = start(tow_alone + " and hitched" + without);
    alone(both);
    hitched(both, true, false);
    if (!coupled) return;
    Addition& ends = start(tow_alone + "; " + by_nose + ", and every trailer axle with it");
    alone(ends);
    nose(ends, true);
    Addition& levers = start(by_nose + "; " + tow_alone + " and hitched" + without);
    nose(levers, false);
    alone(levers);
    hitched(levers, true, false);
    Addition& all = start("weigh every axle of the rig hitched" + without +
                          " and every axle of the tow vehicle unhitched; " + by_nose +
                          ", and every trailer axle with it");
    alone(all);
    nose(all, true);
    hitched(all, true, true);
  }

  bool distributes() const {
    return std::any_of(session_.states.begin(), session_.states.end(),
                       [](const rig::State& state) { return state.weight_distribution; });
  }

  const WholeSolution* outcome(Addition& addition) {
    if (!addition.tried) addition.outcome = solve_whole(addition.session);
    addition.tried = true;
    return addition.outcome.get();
  }

  bool makes_determinable(Addition& addition, const Quantity& quantity, bool for_limits) {
    const WholeSolution* whole = outcome(addition);
    if (!whole) return false;
    for (const Derived& derived : for_limits ? whole->derived.for_limits : whole->derived.listed) {
      const Quantity& other = derived.quantity;
      if (other.name != quantity.name || other.state != quantity.state || other.at != quantity.at) continue;
      // What only the supposed loads stand in the way of is determined by the arrangement.
      if (other.determinable) return other.u < useless_u(other.measure);
      return derived.obstacle == Obstacle::small_front_loss;
    }
    return false;
  }

  /// The coupling read at two heights, far enough apart to halve what is known of the sensitivity beforehand.
  /// The difference of the two readings sees S·apart alone, so what it teaches is known without solving; what
  /// else the readings say of S only helps.
  void heights(Quantity& quantity) {
    double prior = 0;
    for (const Observation& o : solved_.observed)
      if (o.kind == ObservationKind::height_sensitivity) prior = o.u;
    Addition addition;
    addition.session = session_;
    rig::State nose;
    const double load = supposed_.load(nose, Position::support_at_coupling());
    const double read_u = std::hypot(unnamed_scale_u, unnamed_gain_u * load),
                 height_part = prior * bare_height_u;
    double apart = 100;
    const auto difference_u = std::sqrt(2 * (read_u * read_u + height_part * height_part));
    while (difference_u / apart > prior / std::sqrt(3.0)) apart += 50;
    addition.need.text = "read the coupling on one scale at two measured heights at least " +
                         std::to_string(static_cast<int>(apart)) + " mm apart";
    measure_reference(addition);
    for (const double offset : {0.0, apart}) {
      const rig::MeasuredLength height{{400 + offset, units::LengthUnit::millimetre}, {}};
      arrange(addition, offset == 0 ? "coupling low" : "coupling high", false, rig::Support::coupling,
              height);
      addition.need.weigh.back().positions = {Position::support_at_coupling()};
    }
    quantity.needs = std::move(addition.need);
  }

  /// Heights count from the reference state's; without it no height says anything.
  void measure_reference(Addition& addition) {
    const auto& reference = solved_.layout->reference;
    if (!reference) return;
    rig::State& state = addition.session.states[*reference];
    if (state.coupling_height) return;
    state.coupling_height = rig::MeasuredLength{{400, units::LengthUnit::millimetre}, {}};
    addition.need.measure_height_in = state.name;
    addition.need.text += ", and measure the coupling height in state " + quoted(state.name);
  }

  const rig::Session& session_;
  const SolvedRig& solved_;
  Supposed supposed_;
  std::vector<Position> tow_axles_, trailer_axles_;
  std::vector<Addition> additions_;
};

}  // namespace

void find_needs(const rig::Session& session, const SolvedRig& solved, DerivedSet& derived) {
  const auto open = [](const Derived& d) { return !d.quantity.determinable; };
  if (std::none_of(derived.listed.begin(), derived.listed.end(), open) &&
      std::none_of(derived.for_limits.begin(), derived.for_limits.end(), open))
    return;
  NeedFinder finder(session, solved);
  for (Derived& one : derived.listed) finder.answer(one, false);
  for (Derived& one : derived.for_limits) finder.answer(one, true);
}

}  // namespace steelyard::reconcile
