#include "plan/candidates.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace steelyard::plan {
namespace {

using rig::Position;

// Loads are supposed: a scale is chosen with this much to spare where there is one, and never without any.
constexpr double comfortable = 1.1, least_spare = 1.01;

std::string free_name(const rig::Session& session, const std::string& wanted) {
  std::string name = wanted;
  for (int n = 2; rig::find_state(session, name); ++n) name = wanted + ' ' + std::to_string(n);
  return name;
}

class Arranger {
 public:
  explicit Arranger(Candidates& to) : to_(to), states_(to.base.states) {}

  void all() {
    const auto& trailer = to_.base.rig.trailer;
    if (!trailer) {
      if (states_.empty()) add("vehicle alone", false, {}, 0);
      return;
    }
    const bool coupled = !trailer->self_supporting;
    const bool alone = any([](const rig::State& s) { return !s.hitched; });
    const bool nose = any([](const rig::State& s) { return s.support == rig::Support::coupling; });
    if (coupled && !nose)
      add(alone ? "trailer alone" : "apart", false, rig::Support::coupling, first_hitched());
    else if (!coupled && !alone)
      add("apart", false, {}, first_hitched());
    if (any([](const rig::State& s) { return s.hitched && !s.weight_distribution; })) return;
    const bool bars = any([](const rig::State& s) { return s.weight_distribution; });
    add(bars ? "hitched without weight distribution" : "hitched", true, {}, first_hitched());
  }

 private:
  template <class Is>
  bool any(Is is) const {
    return std::any_of(states_.begin(), states_.end(), is);
  }

  std::size_t first_hitched() const {
    const auto found =
        std::find_if(states_.begin(), states_.end(), [](const rig::State& s) { return s.hitched; });
    return static_cast<std::size_t>(found - states_.begin());
  }

  void add(const std::string& name, bool hitched, std::optional<rig::Support> support, std::size_t before) {
    rig::State state;
    state.name = free_name(to_.base, name);
    state.hitched = hitched;
    state.support = support;
    // Who measures every height of the sheet measures this one too.
    const bool measured = !states_.empty() && std::all_of(states_.begin(), states_.end(), [](const auto& s) {
      return s.coupling_height.has_value();
    });
    if (measured)
      state.coupling_height = states_[std::min(first_hitched(), states_.size() - 1)].coupling_height;
    const auto at = static_cast<std::ptrdiff_t>(before);
    states_.insert(states_.begin() + at, state);
    to_.added.insert(to_.added.begin() + at, true);
  }

  Candidates& to_;
  std::vector<rig::State>& states_;
};

/// The scales in the van: one under the nose, the others under wheels.
class Kit {
 public:
  Kit(const rig::Session& session, double nose_load) : session_(session) {
    nose_ = finest(nose_load);
    for (const rig::Scale& scale : session.scales) {
      const bool small =
          nose_ == &scale && session.scales.size() > 1 &&
          std::all_of(session.scales.begin(), session.scales.end(), [&](const rig::Scale& other) {
            return &other == &scale || capacity(scale) < capacity(other);
          });
      if (!small) pads_.push_back(&scale);  // the smallest by itself is made for the nose
    }
  }

  std::vector<std::string> under_nose() const {
    return nose_ ? std::vector{nose_->id} : std::vector<std::string>{};
  }

  /// Scales under left and right of the axle that is the `nth` of its vehicle: the same in every state where
  /// one carries it in all, so that what it is off by falls out of differences; as many axles at once as
  /// there are pairs.
  std::vector<std::vector<std::string>> under_axle(std::size_t nth, double heaviest_end) const {
    std::vector<const rig::Scale*> usable;
    for (const double spare : {comfortable, least_spare}) {
      for (const rig::Scale* pad : pads_)
        if (carries(*pad, heaviest_end, spare)) usable.push_back(pad);
      if (!usable.empty()) break;
    }
    if (usable.empty()) return {{}, {}};
    if (usable.size() == 1) return {{usable[0]->id}, {usable[0]->id}};
    const std::size_t first = 2 * nth % (usable.size() - usable.size() % 2);
    return {{usable[first]->id}, {usable[first + 1]->id}};
  }

 private:
  static double capacity(const rig::Scale& scale) {
    return scale.capacity ? scale.capacity->kg().value() : HUGE_VAL;
  }
  static double division(const rig::Scale& scale) {
    return scale.division ? scale.division->kg().value() : 1;
  }
  bool carries(const rig::Scale& scale, double load, double spare) const {
    return shown(session_, {scale.id}, load) * spare <= capacity(scale);
  }

  const rig::Scale* finest(double load) const {
    const rig::Scale* best = nullptr;
    for (const double spare : {comfortable, least_spare}) {
      for (const rig::Scale& scale : session_.scales) {
        if (!carries(scale, load, spare)) continue;
        const auto rank = [](const rig::Scale& s) { return std::pair{division(s), capacity(s)}; };
        if (!best || rank(scale) < rank(*best)) best = &scale;
      }
      if (best) break;
    }
    return best;
  }

  const rig::Session& session_;
  const rig::Scale* nose_ = nullptr;
  std::vector<const rig::Scale*> pads_;
};

Position support_of(const rig::State& state) {
  return state.support == rig::Support::jockey ? Position::support_at_jockey()
                                               : Position::support_at_coupling();
}

}  // namespace

void arrange(Candidates& candidates, const rig::Session& sheet) {
  candidates.base = sheet;
  // What belongs to a reading or a state belongs to that weighing, not to the next.
  std::erase_if(candidates.base.extras,
                [](const rig::Extra& extra) { return extra.place.starts_with("states["); });
  for (rig::State& state : candidates.base.states) state.readings.clear();
  candidates.added.assign(sheet.states.size(), false);
  // Adding states must not change which one the rig goes on the road in.
  const rig::State* travels = rig::travelling_state(candidates.base);
  if (travels && travels->hitched)
    for (rig::State& state : candidates.base.states) state.travels = &state == travels;
  Arranger(candidates).all();
}

void place(Candidates& candidates, const SupposedRig& rig) {
  const rig::Session& base = candidates.base;
  double nose = 0;
  for (const rig::State& state : base.states)
    if (state.support) nose = std::max(nose, rig.load(state, support_of(state)));
  const Kit kit(base, nose);
  const auto under = [&](std::size_t k, rig::Vehicle vehicle, int n) {
    const auto end = [&](const rig::State& state) {
      return rig.load(state, Position::wheel(vehicle, n, rig::Side::left));
    };
    double heaviest = 0;
    for (const rig::State& state : base.states) heaviest = std::max(heaviest, end(state));
    const auto nth = static_cast<std::size_t>(n - 1);
    auto scales = kit.under_axle(nth, heaviest);
    return scales[0].empty() ? kit.under_axle(nth, end(base.states[k])) : scales;
  };
  const auto axles = [&](std::size_t k, rig::Vehicle vehicle, int count) {
    const Unit unit = vehicle == rig::Vehicle::tow ? Unit::tow : Unit::trailer;
    for (int n = 1; n <= count; ++n)
      candidates.elements.push_back(
          {k,
           unit,
           {Position::wheel(vehicle, n, rig::Side::left), Position::wheel(vehicle, n, rig::Side::right)},
           under(k, vehicle, n)});
  };
  for (std::size_t k = 0; k < base.states.size(); ++k) {
    const rig::State& state = base.states[k];
    axles(k, rig::Vehicle::tow, static_cast<int>(base.rig.tow_vehicle.axles.size()));
    if (!base.rig.trailer) continue;
    if (state.support)
      candidates.elements.push_back({k, Unit::nose, {support_of(state)}, {kit.under_nose()}});
    // Unhitched and held up by nothing that is weighed, a trailer's axles tell nothing of its mass.
    if (state.hitched || state.support || base.rig.trailer->self_supporting)
      axles(k, rig::Vehicle::trailer, base.rig.trailer->axles);
  }
}

std::vector<Taken> in_order(const Candidates& candidates, const Selection& selection) {
  std::vector<Taken> out;
  int set_down = 0;
  for (std::size_t k = 0; k < candidates.base.states.size(); ++k)
    for (const int pass : {1, 2}) {
      std::set<std::string> used;
      bool fresh = true, tow = false;
      for (std::size_t e = 0; e < candidates.elements.size(); ++e) {
        const Element& element = candidates.elements[e];
        if (element.state != k || selection[e] < pass) continue;
        // Apart, the vehicle and the trailer are set down one after the other.
        fresh = fresh || (!candidates.base.states[k].hitched && tow && element.unit != Unit::tow);
        tow = element.unit == Unit::tow;
        for (std::size_t p = 0; p < element.positions.size(); ++p) {
          const auto& scales = element.scales[p];
          const bool taken = scales.empty() ? p == 0 : used.contains(scales.front());
          if (fresh || taken) {
            ++set_down;
            used.clear();
          }
          fresh = false;
          used.insert(scales.begin(), scales.end());
          out.push_back({e, p, pass, set_down});
        }
      }
    }
  return out;
}

double shown(const rig::Session& session, const std::vector<std::string>& scales, double load) {
  double gain = 0;
  for (const std::string& id : scales) gain += rig::find_scale(session, id)->gain.value_or(0);
  return scales.empty() ? load : load * (1 + gain / static_cast<double>(scales.size()));
}

std::vector<bool> states_of(const Candidates& candidates, const Selection& selection) {
  std::vector<bool> out(candidates.added.size());
  for (std::size_t k = 0; k < out.size(); ++k) out[k] = !candidates.added[k];
  for (std::size_t e = 0; e < selection.size(); ++e)
    if (selection[e] > 0) out[candidates.elements[e].state] = true;
  return out;
}

rig::Session weighed(const Candidates& candidates, const SupposedRig& rig, const std::vector<Taken>& order,
                     std::size_t first, const std::vector<bool>& states) {
  rig::Session out = candidates.base;
  for (std::size_t i = 0; i < std::min(first, order.size()); ++i) {
    const Element& element = candidates.elements[order[i].element];
    rig::State& state = out.states[element.state];
    rig::Reading& reading = state.readings.emplace_back();
    reading.id = std::to_string(i + 1).insert(0, 1, 'r');
    reading.at = element.positions[order[i].position];
    reading.scales = element.scales[order[i].position];
    const double kg = shown(out, reading.scales, rig.load(state, reading.at));
    const bool pounds = out.units.load == units::LoadUnit::pound;
    reading.load = {pounds ? units::to_pounds(units::Kilograms(kg)).value() : kg, out.units.load};
  }
  for (std::size_t k = states.size(); k-- > 0;)
    if (!states[k]) out.states.erase(out.states.begin() + static_cast<std::ptrdiff_t>(k));
  return out;
}

}  // namespace steelyard::plan
