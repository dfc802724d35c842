#include <set>

#include "sheet/check.hpp"
#include "sheet/decode.hpp"
#include "sheet/identity.hpp"
#include "sheet/sheet.hpp"
#include "sheet/write.hpp"

namespace steelyard::sheet {
namespace {

/// r1, r2 … for the readings without an id, passing over those that the sheet gives.
void give_ids(rig::Session& session) {
  std::set<std::string, std::less<>> taken;
  bool any_missing = false;
  for (const rig::State& state : session.states)
    for (const rig::Reading& reading : state.readings) {
      any_missing = any_missing || reading.id.empty();
      if (!reading.id.empty()) taken.insert(reading.id);
    }
  if (!any_missing) return;
  std::size_t next = 1;
  for (rig::State& state : session.states)
    for (rig::Reading& reading : state.readings) {
      if (!reading.id.empty()) continue;
      do reading.id = 'r' + std::to_string(next++);
      while (taken.contains(reading.id));
    }
}

void check_extras(const rig::Session& session, Faults& faults) {
  std::set<std::pair<std::string_view, std::string_view>> seen;
  for (const rig::Extra& extra : session.extras) {
    std::string place = extra.place;
    append_key(place, extra.key);
    if (!is_extra_key(extra.key)) faults.add(place, "an extra key must begin with x-");
    Faults own;
    const auto value = parse_json(extra.json, own);
    std::string again;
    if (value) append_json(again, *value);
    if (!own.empty() || again != extra.json) faults.add(place, "must be one compact JSON value");
    if (!seen.emplace(extra.place, extra.key).second)
      faults.add(place, "is given twice; keep one of the two");
  }
}

}  // namespace

std::optional<rig::Session> read_tree(json& tree, Faults& faults) {
  Decoding decoding{faults, {}, {}};
  rig::Session session = decode(tree, decoding);
  if (tree.is_object() && !faults.more_than_kept()) {
    const BrokenPlaces broken(faults.list());
    give_ids(session);
    check_session(session, broken, faults);
  }
  if (!faults.empty()) return std::nullopt;
  if (session.id.empty()) session.id = derived_id(session);
  return session;
}

Read read(std::string_view text) {
  Faults faults;
  if (text.size() > longest_sheet) {
    faults.add("", "the sheet is " + std::to_string(text.size()) + " bytes long; at most " +
                       std::to_string(longest_sheet) + " are read, and one sheet is one session");
    return {std::nullopt, faults.take()};
  }
  auto tree = parse_json(text, faults);
  if (!tree) return {std::nullopt, faults.take()};
  auto session = read_tree(*tree, faults);
  return {std::move(session), faults.take()};
}

std::vector<Fault> check(const rig::Session& session) {
  Faults faults;
  check_session(session, BrokenPlaces(), faults);
  check_extras(session, faults);
  if (!faults.empty()) return faults.take();
  if (const auto written = write_canonical(session, true); written.extras != session.extras.size())
    faults.add("extras", std::to_string(session.extras.size() - written.extras) +
                             " of them name a place that this session does not have");
  return faults.take();
}

}  // namespace steelyard::sheet
