#include "store/growth.hpp"

#include <algorithm>
#include <initializer_list>
#include <string_view>
#include <utility>
#include <vector>

namespace steelyard::store {
namespace {

using Fault = std::optional<std::string>;

struct Same {
  std::string_view name;
  bool same = false;
};

Fault first_of(const std::string& place, std::initializer_list<Same> members) {
  for (const Same& member : members)
    if (!member.same) return (place + std::string(member.name)) + " is not as stored";
  return std::nullopt;
}

/// True where a figure is as it was, or was empty.
template <class Value>
bool filled(const std::optional<Value>& stored, const std::optional<Value>& extended) {
  return !stored || stored == extended;
}

/// Every element of the stored list in its place; `check` gives what is wrong with one.
template <class Element, class Check>
Fault beginning(const std::string& list, const std::vector<Element>& stored, const std::vector<Element>& extended,
                const Check& check) {
  for (std::size_t i = 0; i < stored.size(); ++i) {
    std::string place = list + "[";
    place += std::to_string(i) + "]";
    if (i >= extended.size()) return place + " is missing";
    if (Fault fault = check(place, stored[i], extended[i])) return fault;
  }
  return std::nullopt;
}

template <class Element>
Fault unchanged(const std::string& place, const Element& stored, const Element& extended) {
  return first_of(place, {{"", stored == extended}});
}

Fault check_heading(const rig::Session& a, const rig::Session& b) {
  return first_of("", {{"id", a.id == b.id},
                       {"revision", a.revision == b.revision},
                       {"replaces", a.replaces == b.replaces},
                       {"revised", a.revised == b.revised},
                       {"units", a.units == b.units},
                       {"weighed.at", a.weighed.at == b.weighed.at},
                       {"weighed.place", a.weighed.place == b.weighed.place},
                       {"weighed.technician", a.weighed.technician == b.weighed.technician},
                       {"weighed.purpose", a.weighed.purpose == b.weighed.purpose},
                       {"client.uid", a.client.uid == b.client.uid},
                       {"client.name", a.client.name == b.client.name},
                       {"client.reference", a.client.reference == b.client.reference},
                       {"conditions", a.conditions == b.conditions},
                       {"carried", a.carried == b.carried},
                       {"placement_u", a.placement_u == b.placement_u},
                       {"assumptions", a.assumptions == b.assumptions},
                       {"rig.tow_vehicle", a.rig.tow_vehicle == b.rig.tow_vehicle},
                       {"rig.trailer", a.rig.trailer == b.rig.trailer}});
}

Fault check_scale(const std::string& place, const rig::Scale& a, const rig::Scale& b) {
  if (Fault fault = first_of(place + ".", {{"id", a.id == b.id},
                                           {"uid", a.uid == b.uid},
                                           {"serial", a.serial == b.serial},
                                           {"capacity", a.capacity == b.capacity},
                                           {"division", a.division == b.division},
                                           {"repeatability", a.repeatability == b.repeatability},
                                           {"zero_before", a.zero_before == b.zero_before},
                                           {"zero_after", filled(a.zero_after, b.zero_after)},
                                           {"gain", a.gain == b.gain},
                                           {"gain_u", a.gain_u == b.gain_u},
                                           {"accuracy_class", a.accuracy_class == b.accuracy_class},
                                           {"certificate", a.certificate == b.certificate},
                                           {"calibrated", a.calibrated == b.calibrated},
                                           {"due", a.due == b.due}}))
    return fault;
  return beginning(place + ".check_weights", a.check_weights, b.check_weights, unchanged<rig::CheckWeight>);
}

Fault check_reading(const std::string& place, const rig::Reading& a, const rig::Reading& b) {
  return first_of(place + ".", {{"id", a.id == b.id},
                                {"at", a.at == b.at},
                                {"load", a.load == b.load},
                                {"scale", a.scales == b.scales},
                                {"raised", a.raised == b.raised},
                                {"taken_at", a.taken_at == b.taken_at},
                                {"struck", a.struck == b.struck}});
}

Fault check_ride_heights(const std::string& place, const rig::State& a, const rig::State& b) {
  for (const auto& height : a.ride_heights)
    if (std::find(b.ride_heights.begin(), b.ride_heights.end(), height) == b.ride_heights.end())
      return (place + ".ride_heights." + height.first) + " is not as stored";
  return std::nullopt;
}

Fault check_state(const std::string& place, const rig::State& a, const rig::State& b) {
  if (Fault fault =
          first_of(place + ".", {{"name", a.name == b.name},
                                 {"hitched", a.hitched == b.hitched},
                                 {"weight_distribution", a.weight_distribution == b.weight_distribution},
                                 {"travels", a.travels == b.travels},
                                 {"support", a.support == b.support},
                                 {"coupling_height", filled(a.coupling_height, b.coupling_height)},
                                 {"slope", filled(a.slope, b.slope)}}))
    return fault;
  if (Fault fault = check_ride_heights(place, a, b)) return fault;
  return beginning(place + ".readings", a.readings, b.readings, check_reading);
}

/// Keys of other programs: none comes later, since those that stand have their numbers in the file.
Fault check_extras(const rig::Session& a, const rig::Session& b) {
  if (a.extras == b.extras) return std::nullopt;
  const auto [mine, theirs] = std::mismatch(a.extras.begin(), a.extras.end(), b.extras.begin(), b.extras.end());
  const rig::Extra& first = mine != a.extras.end() ? *mine : *theirs;
  return (first.place.empty() ? first.key : first.place + "." + first.key) + " is not as stored";
}

/// An added reading is known by its id from the first.
Fault check_ids(const rig::Session& extended) {
  for (std::size_t i = 0; i < extended.states.size(); ++i)
    for (std::size_t k = 0; k < extended.states[i].readings.size(); ++k)
      if (extended.states[i].readings[k].id.empty()) {
        std::string place = "states[" + std::to_string(i);
        return place += "].readings[" + std::to_string(k) + "].id is missing";
      }
  return std::nullopt;
}

}  // namespace

Fault other_than_growth(const rig::Session& stored, const rig::Session& extended) {
  if (Fault fault = check_heading(stored, extended)) return fault;
  if (Fault fault = beginning("modifications", stored.modifications, extended.modifications,
                              unchanged<rig::Modification>))
    return fault;
  if (Fault fault = beginning("scales", stored.scales, extended.scales, check_scale)) return fault;
  if (Fault fault = beginning("rig.limits", stored.rig.limits, extended.rig.limits, unchanged<rig::Limit>))
    return fault;
  if (Fault fault = beginning("states", stored.states, extended.states, check_state)) return fault;
  if (Fault fault = check_extras(stored, extended)) return fault;
  return check_ids(extended);
}

}  // namespace steelyard::store
