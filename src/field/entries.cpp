#include "field/entries.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "sheet/json_text.hpp"

namespace steelyard::field {
namespace {

using nlohmann::json;

json sheet_of(const rig::Session& session) {
  return json::parse(sheet::write(session));
}

/// Where something of the body stands in the whole sheet, and where it stood in the body.
struct Moved {
  std::string whole, body;
};

/// Reads the whole sheet; places in what was added are told as they stand in the body.
Entry read_whole(const json& whole, const std::vector<Moved>& added) {
  std::string text;
  sheet::append_json(text, whole);
  sheet::Read read = sheet::read(text);
  for (sheet::Fault& fault : read.faults)
    for (const Moved& one : added) {
      const std::size_t end = one.whole.size();
      const bool inside = fault.place.starts_with(one.whole) &&
                          (fault.place.size() == end || fault.place[end] == '.' || fault.place[end] == '[');
      if (!inside) continue;
      fault.place.replace(0, end, one.body);
      if (fault.place.starts_with('.')) fault.place.erase(0, 1);
      break;
    }
  return {std::move(read.session), std::move(read.faults)};
}

Entry fault(std::string place, std::string what) {
  return {std::nullopt, {{std::move(place), std::move(what)}}};
}

/// The list of that name, made where the sheet has none: an empty one is left out of it.
json& list_of(json& object, const char* name) {
  json& list = object[name];
  if (!list.is_array()) list = json::array();
  return list;
}

json* state_named(json& whole, const std::string& name) {
  for (json& state : whole["states"])
    if (state["name"] == name) return &state;
  return nullptr;
}

std::string place_of(const char* list, std::size_t index) {
  return std::string(list) + '[' + std::to_string(index) + ']';
}

/// The scale of that name, or null.
json* scale_named(json& scales, const json& id) {
  const auto found = std::find_if(scales.begin(), scales.end(), [&](const json& one) { return one["id"] == id; });
  return found == scales.end() ? nullptr : &*found;
}

/// Appends a scale, or puts one whose id is among the first `stored` in its place: the very same again is no fault, and
/// another is told by the store. Gives its index.
std::size_t put_scale(json& scales, std::size_t stored, json given) {
  json* const there = given.is_object() && given.contains("id") ? scale_named(scales, given["id"]) : nullptr;
  if (!there || static_cast<std::size_t>(there - &scales[0]) >= stored) {
    scales.push_back(std::move(given));
    return scales.size() - 1;
  }
  for (const char* later : {"zero_after", "check_weights"})  // what it has got since
    if (!given.contains(later) && there->contains(later)) given[later] = (*there)[later];
  *there = std::move(given);
  return static_cast<std::size_t>(there - &scales[0]);
}

/// Drops, behind the first `stored`, those that are there already.
template <class Element>
void drop_repeated(std::vector<Element>& all, std::size_t stored) {
  for (std::size_t i = all.size(); i > stored; --i) {
    const auto one = all.begin() + static_cast<std::ptrdiff_t>(i) - 1;
    if (std::find(all.begin(), one, *one) != one) all.erase(one);
  }
}

void drop_repeated(rig::Session& session, const rig::Session& stored) {
  drop_repeated(session.rig.limits, stored.rig.limits.size());
  drop_repeated(session.modifications, stored.modifications.size());
  for (rig::Scale& scale : session.scales)
    if (const rig::Scale* const there = rig::find_scale(stored, scale.id))
      drop_repeated(scale.check_weights, there->check_weights.size());
}

struct Standing {
  json* scale = nullptr;
  std::string at;  // its place in the whole sheet
};

/// The scale of that name; none: a fault at `place`.
Standing standing_scale(json& whole, const std::string& name, const std::string& place, std::vector<sheet::Fault>& faults) {
  json& scales = list_of(whole, "scales");
  json* const scale = scale_named(scales, name);
  if (scale) return {scale, place_of("scales", static_cast<std::size_t>(scale - &scales[0]))};
  faults.push_back({place, "the session has no such scale"});
  return {};
}

/// {"P1": [{"mass", "load"}]}: behind what was put on each before.
void add_check_weights(json& whole, const json& given, std::vector<Moved>& moved, std::vector<sheet::Fault>& faults) {
  for (const auto& [name, weights] : given.items()) {
    const std::string place = "check_weights." + name;
    const auto [scale, at] = standing_scale(whole, name, place, faults);
    if (!scale) continue;
    if (!weights.is_array()) {
      faults.push_back({place, "must be a list"});
      continue;
    }
    json& list = list_of(*scale, "check_weights");
    for (std::size_t i = 0; i < weights.size(); ++i) {
      list.push_back(weights[i]);
      moved.push_back({at + '.' + place_of("check_weights", list.size() - 1), place_of(place.c_str(), i)});
    }
  }
}

/// Sets what one state has got besides; what it is not asked for is a fault.
void complete_state(json& state, const Moved& at, const json& given, std::vector<Moved>& moved,
                    std::vector<sheet::Fault>& faults) {
  if (!given.is_object()) {
    faults.push_back({at.body, "must be an object"});
    return;
  }
  for (const auto& [key, value] : given.items()) {
    if (key == "coupling_height" || key == "slope")
      state[key] = value;
    else if (key == "ride_heights" && value.is_object())
      for (const auto& [where, height] : value.items()) state[key][where] = height;
    else
      faults.push_back({at.body + '.' + key, "cannot be added; coupling_height, slope and ride_heights can"});
  }
  moved.push_back(at);
}

}  // namespace

std::optional<json> object_of(std::string_view body, std::vector<sheet::Fault>& faults) {
  sheet::Faults found;
  auto tree = sheet::parse_json(body, found);
  faults = found.take();
  if (!faults.empty()) return std::nullopt;
  if (!tree || !tree->is_object()) {
    faults.push_back({"", "must be one JSON object"});
    return std::nullopt;
  }
  return tree;
}

std::string text_in(const json& object, const char* key) {
  const auto found = object.find(key);
  return found != object.end() && found->is_string() ? found->get<std::string>() : std::string();
}

std::string text_in_body(std::string_view body, const char* key) {
  std::vector<sheet::Fault> faults;
  const auto object = object_of(body, faults);
  return object ? text_in(*object, key) : std::string();
}

Entry with_reading(const rig::Session& session, std::string_view body) {
  Entry entry;
  auto given = object_of(body, entry.faults);
  if (!given) return entry;
  const std::string state_name = text_in(*given, "state"), id = text_in(*given, "id");
  if (id.empty()) return fault("id", "must be given, so that an entry sent twice counts once");
  if (given->contains("struck")) return fault("struck", "a new reading is not struck; strike it afterwards");
  given->erase("state");
  json whole = sheet_of(session);
  for (json& state : whole["states"]) {
    auto& readings = state["readings"];
    readings.erase(std::remove_if(readings.begin(), readings.end(),
                                  [&](const json& reading) { return reading.contains("id") && reading["id"] == id; }),
                   readings.end());
  }
  json* const state = state_named(whole, state_name);
  if (!state) return fault("state", "the session has no state \"" + state_name + "\"");
  json& readings = list_of(*state, "readings");
  readings.push_back(std::move(*given));
  const auto index = static_cast<std::size_t>(state - &whole["states"][0]);
  return read_whole(whole, {{place_of("states", index) + '.' + place_of("readings", readings.size() - 1), ""}});
}

Entry with_state(const rig::Session& session, std::string_view body) {
  Entry entry;
  auto given = object_of(body, entry.faults);
  if (!given) return entry;
  json whole = sheet_of(session);
  json& states = list_of(whole, "states");
  if (!given->contains("readings")) (*given)["readings"] = json::array();
  if (given->contains("name"))
    states.erase(std::remove_if(states.begin(), states.end(),
                                [&](const json& state) { return state["name"] == (*given)["name"]; }),
                 states.end());
  states.push_back(std::move(*given));
  return read_whole(whole, {{place_of("states", states.size() - 1), ""}});
}

Entry with_additions(const rig::Session& session, std::string_view body) {
  Entry entry;
  auto given = object_of(body, entry.faults);
  if (!given) return entry;
  json whole = sheet_of(session);
  std::vector<Moved> moved;
  for (const auto& [key, value] : given->items()) {
    if (key == "check_weights" && value.is_object()) {
      add_check_weights(whole, value, moved, entry.faults);
      continue;
    }
    const bool scales = key == "scales", limits = key == "limits";
    if ((!scales && !limits && key != "modifications") || !value.is_array())
      return fault(key, "give scales, limits or modifications, as lists, or check_weights, as lists by scale");
    json& list = list_of(limits ? whole["rig"] : whole, key.c_str());
    for (std::size_t i = 0; i < value.size(); ++i) {
      if (!scales) list.push_back(value[i]);
      const std::size_t index = scales ? put_scale(list, session.scales.size(), value[i]) : list.size() - 1;
      moved.push_back({(limits ? "rig." : "") + place_of(key.c_str(), index), place_of(key.c_str(), i)});
    }
  }
  if (!entry.faults.empty()) return entry;
  entry = read_whole(whole, moved);
  if (entry.session) drop_repeated(*entry.session, session);
  return entry;
}

Entry with_completions(const rig::Session& session, std::string_view body) {
  Entry entry;
  auto given = object_of(body, entry.faults);
  if (!given) return entry;
  json whole = sheet_of(session);
  std::vector<Moved> moved;
  for (const auto& [key, value] : given->items()) {
    if ((key != "zero_after" && key != "states") || !value.is_object())
      return fault(key, "give zero_after or states, as objects");
    for (const auto& [name, what] : value.items()) {
      const std::string place = key + '.' + name;
      if (key == "states") {
        json* const state = state_named(whole, name);
        if (!state) return fault(place, "the session has no such state");
        const auto index = static_cast<std::size_t>(state - &whole["states"][0]);
        complete_state(*state, {place_of("states", index), place}, what, moved, entry.faults);
        continue;
      }
      const auto [scale, at] = standing_scale(whole, name, place, entry.faults);
      if (!scale) continue;
      (*scale)["zero_after"] = what;
      moved.push_back({at + ".zero_after", place});
    }
  }
  if (!entry.faults.empty()) return entry;
  return read_whole(whole, moved);
}

}  // namespace steelyard::field
