#include "field/next_place.hpp"

#include <algorithm>

#include "store/instant.hpp"

namespace steelyard::field {
namespace {

using rig::Extent;
using rig::Position;
using rig::Side;
using rig::State;
using rig::Vehicle;

void add_axles(std::vector<Place>& places, Vehicle vehicle, int axles) {
  for (int axle = 1; axle <= axles; ++axle)
    for (const Side side : {Side::left, Side::right}) places.push_back({Position::wheel(vehicle, axle, side)});
}

void add_wholes(std::vector<Place>& places, Vehicle vehicle, int axles) {
  for (int axle = 1; axle <= axles; ++axle) places.push_back({Position::whole_axle(vehicle, axle), false});
  places.push_back({Position::whole(vehicle), false});
}

/// How often a place was read, a whole axle or vehicle counting for each of its wheel ends.
int times_read(const State& state, const Position& place) {
  const auto covers = [&](const Position& read) {
    if (read == place) return true;
    if (place.extent != Extent::wheel || read.vehicle != place.vehicle) return false;
    return read.extent == Extent::vehicle || (read.extent == Extent::axle && read.axle == place.axle);
  };
  return static_cast<int>(std::count_if(state.readings.begin(), state.readings.end(), [&](const rig::Reading& reading) {
    return !reading.struck && covers(reading.at);
  }));
}

/// The state that is being weighed: where the latest reading stands; the first before any. One without a time counts as
/// earlier than any with one.
std::size_t current_state(const rig::Session& session) {
  std::size_t current = 0;
  std::optional<std::int64_t> latest;
  for (std::size_t i = 0; i < session.states.size(); ++i)
    for (const rig::Reading& reading : session.states[i].readings)
      if (const auto instant = store::instant_ms(reading.taken_at); instant >= latest) {
        current = i;
        latest = instant;
      }
  return current;
}

/// The first place of the walk that was read fewer than `times` times.
std::optional<Position> first_short_of(const rig::Session& session, const State& state, int times) {
  for (const Place& place : places_of(session.rig, state))
    if (place.usual && times_read(state, place.at) < times) return place.at;
  return std::nullopt;
}

bool is_among(const Position& at, const std::vector<Position>& positions) {
  return std::any_of(positions.begin(), positions.end(), [&](const Position& one) {
    return one == at || (one.extent == Extent::axle && at.extent == Extent::wheel && one.vehicle == at.vehicle &&
                         one.axle == at.axle);
  });
}

/// True where something that cannot be told yet asks for this place.
bool is_needed(const reconcile::Findings& findings, const State& state, const Position& at) {
  for (const reconcile::Quantity& quantity : findings.quantities) {
    if (quantity.determinable || !quantity.needs) continue;
    for (const reconcile::Need::Step& step : quantity.needs->weigh)
      if (!step.new_state && step.state == state.name && is_among(at, step.positions)) return true;
  }
  return false;
}

std::optional<NextPlace> separating(const reconcile::Findings& findings) {
  for (const reconcile::SuspectSet& set : findings.suspects)
    if (set.next_reading && set.next_reading->at && !set.next_reading->new_state)
      return NextPlace{set.next_reading->state, *set.next_reading->at, "to tell which reading does not fit"};
  return std::nullopt;
}

}  // namespace

std::vector<Place> places_of(const rig::Rig& rig, const State& state) {
  std::vector<Place> places;
  const int tow = static_cast<int>(rig.tow_vehicle.axles.size());
  add_axles(places, Vehicle::tow, tow);
  if (rig.trailer) add_axles(places, Vehicle::trailer, rig.trailer->axles);
  if (state.support)
    places.push_back({*state.support == rig::Support::coupling ? Position::support_at_coupling()
                                                                : Position::support_at_jockey()});
  add_wholes(places, Vehicle::tow, tow);
  if (rig.trailer) add_wholes(places, Vehicle::trailer, rig.trailer->axles);
  return places;
}

std::optional<NextPlace> next_place(const rig::Session& session, const reconcile::Findings* findings) {
  if (findings)
    if (auto place = separating(*findings)) return place;
  if (session.states.empty()) return std::nullopt;
  // The state being weighed first, then those before and after it in the sheet's order.
  std::vector<const State*> states{&session.states[current_state(session)]};
  for (const State& state : session.states)
    if (&state != states.front()) states.push_back(&state);
  for (const State* state : states)
    if (const auto at = first_short_of(session, *state, 1))
      return NextPlace{state->name, *at,
                       findings && is_needed(*findings, *state, *at) ? "something cannot be told without it"
                                                                     : "not read yet in this state"};
  // Nothing checks anything: read again, set down anew.
  if (findings && findings->fit.degrees_of_freedom == 0)
    if (const auto at = first_short_of(session, *states.front(), 2))
      return NextPlace{states.front()->name, *at, "a second reading, set down again, lets a wrong one show"};
  return std::nullopt;
}

}  // namespace steelyard::field
