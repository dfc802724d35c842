// What departs from the method (ISO/IEC 17025:2017, 7.8.2.1 n), and which scale is not to be relied on. Only
// what the session itself shows: nothing is computed but counts.
#include <algorithm>
#include <cmath>
#include <map>

#include "reports/client/content.hpp"
#include "reports/words/scales.hpp"
#include "units/number.hpp"

namespace steelyard::reports::client {
namespace {

constexpr double level_enough =
    2;  // mm per m: what the method takes for level (reconciliation model, section 4)

using Texts = std::vector<std::string>;

std::string listed(const Texts& names) {
  std::string words;
  for (const std::string& name : names) words += (words.empty() ? "" : ", ") + name;
  return clipped(words, 400);
}

std::string quoted(const std::string& name) {
  return "“" + clipped(name, 40) + "”";
}

/// Names of the states that `what` holds for.
template <class What>
Texts states_where(const rig::Session& session, What what) {
  Texts names;
  for (const rig::State& state : session.states)
    if (what(state)) names.push_back(quoted(state.name));
  return names;
}

bool has_reading(const rig::State& state, rig::Vehicle vehicle) {
  return std::any_of(state.readings.begin(), state.readings.end(), [vehicle](const rig::Reading& reading) {
    return !reading.struck && reading.at.vehicle == vehicle && reading.at.extent != rig::Extent::coupling &&
           reading.at.extent != rig::Extent::jockey;
  });
}

void add_states(const rig::Session& session, Texts& all) {
  const auto none = [&](auto what) { return states_where(session, what).empty(); };
  if (!session.rig.trailer) return;
  if (none([](const auto& state) { return !state.hitched && has_reading(state, rig::Vehicle::tow); }))
    all.emplace_back("The tow vehicle was not weighed alone.");
  if (none([](const auto& state) { return !state.hitched && has_reading(state, rig::Vehicle::trailer); }))
    all.emplace_back("The trailer was not weighed alone.");
  if (none([](const auto& state) { return state.hitched; })) {
    all.emplace_back("The rig was not weighed hitched.");
    return;
  }
  const bool bars = !none([](const auto& state) { return state.weight_distribution; });
  if (bars && none([](const auto& state) { return state.hitched && !state.weight_distribution; }))
    all.emplace_back("The rig was not weighed hitched without its weight distribution.");
}

void add_readings(const rig::Session& session, Texts& all) {
  Texts struck, raised, unknown;
  int once = 0, positions = 0;
  for (const rig::State& state : session.states) {
    std::map<std::string, int> times;
    for (const rig::Reading& reading : state.readings) {
      const std::string name = clipped(reading.id, 30) + " in " + quoted(state.name);
      if (reading.struck) {
        struck.push_back(name);
        continue;
      }
      ++times[rig::to_text(reading.at)];
      if (reading.raised && reading.raised->mm().value() != 0) raised.push_back(name);
      if (reading.scales.empty()) unknown.push_back(name);
    }
    positions += static_cast<int>(times.size());
    once += static_cast<int>(
        std::count_if(times.begin(), times.end(), [](const auto& position) { return position.second == 1; }));
  }
  if (!struck.empty())
    all.push_back("Set aside, on record with the reason on the sheet Readings: " + listed(struck) + ".");
  if (once > 0)
    all.push_back("Read once, and not a second time after setting down again: " + std::to_string(once) +
                  " of " + std::to_string(positions) + " positions.");
  if (!raised.empty())
    all.push_back("The other axles did not stand as high as the one weighed: " + listed(raised) + ".");
  if (!unknown.empty()) all.push_back("On a scale that is not named: " + listed(unknown) + ".");
}

void add_not_measured(const rig::Session& session, Texts& all) {
  const auto sloped = states_where(
      session, [](const auto& state) { return state.slope && std::abs(state.slope->value) > level_enough; });
  if (!sloped.empty())
    all.push_back("The ground was not level: " + listed(sloped) + "; the slope is allowed for.");
  const auto level_unknown = states_where(session, [](const auto& state) { return !state.slope; });
  if (!level_unknown.empty())
    all.push_back("The level of the ground was not measured in " + listed(level_unknown) + ".");
  if (!session.rig.trailer || session.rig.trailer->self_supporting) return;
  const auto height_unknown = states_where(session, [](const auto& state) {
    return !state.coupling_height && (state.hitched || state.support == rig::Support::coupling);
  });
  if (!height_unknown.empty())
    all.push_back("The height of the coupling was not measured in " + listed(height_unknown) + ".");
  if (!session.rig.tow_vehicle.overhang) all.emplace_back("The overhang was not measured with a tape.");
  if (!session.rig.trailer->coupling_to_axles)
    all.emplace_back("The distance from the coupling to the trailer’s axles was not measured.");
}

std::string_view short_words(assess::ScaleFlagKind kind) {
  switch (kind) {
    case assess::ScaleFlagKind::out_of_date:
      return "out of date on the day of weighing";
    case assess::ScaleFlagKind::zero_off:
      return "not at zero when empty";
    case assess::ScaleFlagKind::zero_drift:
      return "its zero moved";
    case assess::ScaleFlagKind::check_weight:
      return "showed a known mass wrong";
    case assess::ScaleFlagKind::not_calibrated:
      break;
  }
  return {};
}

/// "P1 (serial 0411): out of date on the day of weighing", of the scales that were used.
Texts doubtful_scales(const rig::Session& session) {
  Texts all;
  for (const assess::ScaleCheck& check : assess::scale_checks(session)) {
    if (!check.used) continue;
    Texts why;
    for (const assess::ScaleFlag& flag : check.flags)
      if (const std::string words(short_words(flag.kind));
          !words.empty() && std::find(why.begin(), why.end(), words) == why.end())
        why.push_back(words);
    if (!why.empty())
      all.push_back(clipped(scale_name(session.scales[check.scale]), 40) + ": " + listed(why));
  }
  return all;
}

}  // namespace

std::string doubtful_scale_words(const rig::Session& session) {
  const Texts all = doubtful_scales(session);
  if (all.empty()) return {};
  return "Scale " + all.front() +
         (all.size() > 1 ? "; and " + std::to_string(all.size() - 1) + " more" : std::string()) +
         ". See the sheet Readings.";
}

std::vector<std::string> departures(const Source& source) {
  Texts all;
  add_states(source.session, all);
  add_readings(source.session, all);
  add_not_measured(source.session, all);
  for (const std::string& scale : doubtful_scales(source.session)) all.push_back("Scale " + scale + ".");
  if (source.session.conditions.surface.empty()) all.emplace_back("The surface of the site is not given.");
  if (all.empty()) all.emplace_back("Nothing that is on record.");
  for (std::string& one : all) one = source.wording.around_names(one, source.session);
  return all;
}

}  // namespace steelyard::reports::client
