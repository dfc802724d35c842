// Rules for states and readings, and for what they say of the rig and the scales.
#include <algorithm>
#include <unordered_map>

#include "rig/words.hpp"
#include "sheet/check.hpp"

namespace steelyard::sheet {
namespace {

class StateRules {
 public:
  explicit StateRules(Check& check)
      : check_(check), trailer_(check.session.rig.trailer), tow_vehicle_(check.session.rig.tow_vehicle) {
    for (const rig::Scale& scale : check.session.scales) scales_.emplace(scale.id, &scale);
    find_what_was_read();
  }
  StateRules(const StateRules&) = delete;
  StateRules& operator=(const StateRules&) = delete;

  void state(const rig::State& state, const Place& place);
  void reading(const rig::State& state, bool state_read, const rig::Reading& reading, const Place& place);

 private:
  void find_what_was_read();
  void arrangement(const rig::State& state, const Place& place);
  void geometry(const rig::State& state, const Place& place);
  void position(const rig::Position& at, const Place& place);
  void support(const rig::State& state, const rig::Position& at, const Place& place);
  void load(const rig::Reading& reading, const Place& place);
  void scales(const rig::Reading& reading, const Place& place);
  void strike(const rig::Strike& strike, const Place& place);

  Check& check_;
  const std::optional<rig::Trailer>& trailer_;
  const rig::TowVehicle& tow_vehicle_;
  std::unordered_map<std::string_view, const rig::Scale*> scales_;
  bool trailer_read_ = true, trailer_axles_read_ = true, tow_axles_read_ = true, scales_read_ = true;
};

void StateRules::find_what_was_read() {
  const Place root;
  const Place rig = root["rig"], scales = root["scales"];
  const Place trailer = rig["trailer"], tow_vehicle = rig["tow_vehicle"];
  trailer_read_ = check_.sound(trailer["self_supporting"]);
  trailer_axles_read_ = check_.sound(trailer["axles"]);
  tow_axles_read_ = check_.sound(tow_vehicle["axles"]);
  for (std::size_t i = 0; i <= check_.session.scales.size();
       ++i) {  // one past the end stands for the list itself
    const Place scale = scales[i];
    scales_read_ = scales_read_ && check_.sound(scale["id"]);
  }
}

void StateRules::arrangement(const rig::State& state, const Place& place) {
  if (!trailer_read_) return;
  const bool carried = trailer_ && trailer_->self_supporting;
  if (state.hitched && !trailer_)
    check_.fault(place["hitched"],
                 "must be false: there is no trailer in rig; add one, or weigh the vehicle alone");
  if (state.support) {
    const Place support = place["support"];
    if (state.hitched)
      check_.fault(support, "goes only with an unhitched state; leave it out, or write \"hitched\": false");
    else if (!trailer_)
      check_.fault(support, "there is no trailer in rig to support; leave it out");
    else if (carried)
      check_.fault(support, "a self_supporting trailer stands on its own axles; leave it out");
  }
  if (state.weight_distribution && (!state.hitched || carried))
    check_.fault(place["weight_distribution"],
                 !state.hitched ? "goes only with a hitched state; write false or leave it out"
                                : "a self_supporting trailer has no bars across its coupling; leave it out");
}

void StateRules::geometry(const rig::State& state, const Place& place) {
  check_.measured(place["coupling_height"], state.coupling_height, 0, bounds::highest_mm);
  if (state.slope) {
    const Place slope = place["slope"];
    check_.range(slope, state.slope->value, -bounds::steepest_mm_per_m, bounds::steepest_mm_per_m,
                 "mm per m");
    if (state.slope->u)
      check_.uncertainty(slope["u"], *state.slope->u, *state.slope->u, bounds::least_u_mm_per_m,
                         bounds::steepest_mm_per_m, "mm per m");
  }
  const Place heights = place["ride_heights"];
  for (std::size_t i = 0; i < state.ride_heights.size(); ++i) {
    const auto& [name, height] = state.ride_heights[i];
    check_.name(heights[name], name);
    check_.length(heights[name], height, 0, bounds::highest_mm);
    if (is_extra_key(name)) check_.fault(heights[name], "must not begin with x-");
    if (i > 0 && !(state.ride_heights[i - 1].first < name))
      check_.fault(heights[name], "the heights must be sorted by name, each name once");
  }
}

void StateRules::state(const rig::State& state, const Place& place) {
  check_.name(place["name"], state.name);
  const bool state_read = check_.sound(place["hitched"]) && check_.sound(place["support"]) &&
                          check_.sound(place["weight_distribution"]);
  if (state_read) arrangement(state, place);
  geometry(state, place);
  const Place readings = place["readings"];
  for (std::size_t i = 0; i < state.readings.size(); ++i) {
    const Place at = readings[i];
    reading(state, state_read, state.readings[i], at);
  }
}

void StateRules::position(const rig::Position& at, const Place& place) {
  const bool on_trailer = at.vehicle == rig::Vehicle::trailer;
  if (on_trailer && !trailer_) {
    if (trailer_read_) check_.fault(place, "there is no trailer in rig");
    return;
  }
  if (at.extent == rig::Extent::vehicle) return;
  const int axles = on_trailer ? trailer_->axles : static_cast<int>(tow_vehicle_.axles.size());
  if ((at.axle < 1 || at.axle > axles) && (on_trailer ? trailer_axles_read_ : tow_axles_read_))
    check_.fault(place, "names axle " + std::to_string(at.axle) + "; the " +
                            (on_trailer ? "trailer" : "tow vehicle") + " has axles 1 to " +
                            std::to_string(axles));
}

void StateRules::support(const rig::State& state, const rig::Position& at, const Place& place) {
  const auto needed = at.extent == rig::Extent::coupling ? rig::Support::coupling : rig::Support::jockey;
  const std::string word(rig::to_text(needed));
  if (!trailer_)
    check_.fault(place, "there is no trailer in rig");
  else if (state.hitched)
    check_.fault(place,
                 "no scale stands under the " + word + " of a hitched rig; weigh it in an unhitched state");
  else if (state.support != needed)
    check_.fault(place, "needs \"support\": \"" + word + "\" on this state, which has " +
                            (state.support ? in_quotes(rig::to_text(*state.support)) : "none"));
}

void StateRules::load(const rig::Reading& reading, const Place& place) {
  const Place at = place["load"];
  if (reading.load.figure < 0)
    check_.fault(at, "must be 0 or more, is " + figure(reading.load.figure) +
                         "; a scale cannot be pulled: zero it and weigh again");
  else
    check_.load(at, reading.load, 0, bounds::heaviest_kg);
  double capacity = 0;
  for (const std::string& id : reading.scales) {
    const auto scale = scales_.find(id);
    if (scale == scales_.end() || !scale->second->capacity) return;
    capacity += scale->second->capacity->kg().value();
  }
  constexpr double rounding = 1 + 1e-12;  // of adding capacities that were converted from pounds
  const double kg = reading.load.kg().value();
  if (reading.scales.empty() || kg <= capacity * rounding) return;
  check_.fault(at, "is above the capacity of " +
                       std::string(reading.scales.size() == 1 ? "its scale" : "its scales together") + ", " +
                       figure(capacity) + " kg, is " + figure(kg) +
                       " kg; check the figure, its unit and the scale");
}

void StateRules::scales(const rig::Reading& reading, const Place& place) {
  const Place at = place["scale"];
  if (reading.scales.size() > bounds::most_scales_in_a_reading)
    return check_.fault(at, "names " + std::to_string(reading.scales.size()) + " scales; at most " +
                                std::to_string(bounds::most_scales_in_a_reading) +
                                " can be summed in one reading");
  for (auto name = reading.scales.begin(); name != reading.scales.end(); ++name) {
    if (std::find(reading.scales.begin(), name, *name) != name)
      check_.fault(at, in_quotes(*name) + " stands twice in one reading; name each scale once");
    else if (scales_read_ && !scales_.contains(*name))
      check_.fault(
          at, in_quotes(*name) +
                  " is not in the list of scales; add it there, or leave scale out where it is not known");
  }
}

void StateRules::strike(const rig::Strike& strike, const Place& place) {
  if (strike.why.empty()) check_.fault(place["why"], "must say why the reading was set aside");
  check_.text(place["why"], strike.why, TextKind::note);
  check_.text(place["by"], strike.by, TextKind::line);
  check_.time(place["at"], strike.at);
}

void StateRules::reading(const rig::State& state, bool state_read, const rig::Reading& reading,
                         const Place& place) {
  check_.text(place["id"], reading.id, TextKind::name);
  const Place at = place["at"];
  const bool on_support =
      reading.at.extent == rig::Extent::coupling || reading.at.extent == rig::Extent::jockey;
  if (!on_support)
    position(reading.at, at);
  else if (state_read && trailer_read_)
    support(state, reading.at, at);
  load(reading, place);
  scales(reading, place);
  check_.length(place["raised"], reading.raised, bounds::least_u_mm, bounds::highest_mm);
  if (reading.raised && on_support)
    check_.fault(place["raised"], "is for an axle or a wheel end; a support has its coupling_height");
  check_.time(place["taken_at"], reading.taken_at);
  if (reading.struck) {
    const Place struck = place["struck"];
    strike(*reading.struck, struck);
  }
}

void check_names(Check& check, const Place& states) {
  std::unordered_map<std::string_view, std::size_t> state_of;
  std::unordered_map<std::string_view, std::pair<std::size_t, std::size_t>> reading_of;
  std::optional<std::size_t> travels;
  for (std::size_t i = 0; i < check.session.states.size(); ++i) {
    const rig::State& state = check.session.states[i];
    const Place place = states[i];
    if (state.travels && travels) {
      const Place first = states[*travels];
      check.fault(place["travels"],
                  "stands on " + first.text() + " too; the rig goes on the road in one state");
    }
    if (state.travels && !travels) travels = i;
    if (const auto [first, added] = state_of.emplace(state.name, i); !added && !state.name.empty()) {
      const Place other = states[first->second];
      check.fault(place["name"],
                  in_quotes(state.name) + " is the name of " + other.text() + " too; give each its own");
    }
    const Place readings = place["readings"];
    for (std::size_t j = 0; j < state.readings.size(); ++j) {
      const std::string& id = state.readings[j].id;
      if (id.empty()) continue;
      const auto [first, added] = reading_of.emplace(id, std::pair(i, j));
      if (added) continue;
      const Place other_state = states[first->second.first];
      const Place other_readings = other_state["readings"];
      const Place other = other_readings[first->second.second], at = readings[j];
      check.fault(at["id"],
                  in_quotes(id) + " is the id of " + other.text() + " too; give each reading its own");
    }
  }
}

}  // namespace

void check_states(Check& check, const Place& states) {
  if (check.session.states.empty()) check.fault(states, "must hold at least one state");
  StateRules rules(check);
  for (std::size_t i = 0; i < check.session.states.size(); ++i) {
    const Place place = states[i];
    rules.state(check.session.states[i], place);
  }
  check_names(check, states);
}

}  // namespace steelyard::sheet
