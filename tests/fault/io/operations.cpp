#include "operations.hpp"

#include <algorithm>
#include <cstdlib>

#include "../../store/support.hpp"

namespace steelyard::test {
namespace {

using store::Store;

const rig::Position first_axle = rig::Position::whole_axle(rig::Vehicle::tow, 1);

void seal(Store& store, const std::string& name) {
  auto sealing = store.begin_sealing();
  sealing.add(store.load(name), "R. Okoye", {"0.1.0", "a build", R"({"format":"steelyard-result/1"})"});
  sealing.commit();
}

const std::vector<rig::Session>& imported() {
  static const std::vector<rig::Session> sessions{full_session("x"), small_session("y"), full_session("z")};
  return sessions;
}

/// small_session with something of everything that can come later.
rig::Session grown() {
  rig::Session session = small_session("b");
  rig::Scale scale;
  scale.id = "P1";
  session.scales = {scale};
  session.states[0].slope = rig::MeasuredSlope{1.5, 0.5};
  session.states[0].readings.push_back(reading("new", first_axle, 905));
  session.states.push_back(session.states[0]);
  session.states[1].name = "again";
  session.states[1].readings = {reading("newer", first_axle, 906)};
  return session;
}

rig::Session corrected() {
  rig::Session session = small_session("b");
  session.weighed.place = "Depot 9";
  session.states[0].readings[0].struck = rig::Strike{"door open", "R. Okoye", ""};
  return session;
}

bool are_there(const Store& store, const std::vector<rig::Session>& sessions) {
  const auto ids = store.ids();
  for (const rig::Session& session : sessions)
    if (std::find(ids.begin(), ids.end(), session.id) == ids.end() || store.load(session.id) != session) return false;
  return true;
}

}  // namespace

std::filesystem::path make_starting_store(const std::filesystem::path& folder) {
  for (const auto& [name, sessions] :
       {std::pair{"fleet.db", std::vector{full_session("a"), small_session("b"), small_session("c")}},
        {"other.db", std::vector{full_session("m"), small_session("n")}}}) {
    Store store = Store::create(folder / name);
    import_all(store, sessions);
    seal(store, sessions.front().id);
  }
  return folder / "fleet.db";
}

std::vector<Operation> operations(const std::filesystem::path& folder) {
  const auto place = [](const Store& store, const std::string& id) { return store.load(id).weighed.place; };
  return {
      {"import", [](Store& store) { import_all(store, imported()); },
       [](const Store& store) { return are_there(store, imported()); }},
      {"record", [](Store& store) { store.record("b", "alone", reading("new", first_axle, 905)); },
       [](const Store& store) {
         return store.load("b").states.at(0).readings.back() == reading("new", first_axle, 905);
       }},
      {"strike", [](Store& store) { store.strike("b", "r1", {"door open", "R. Okoye", ""}); },
       [](const Store& store) { return store.load("b").states.at(0).readings.at(0).struck.has_value(); }},
      {"extend", [](Store& store) { store.extend("b", grown()); },
       [](const Store& store) { return store.load("b") == grown(); }},
      {"revise", [](Store& store) { store.revise(small_session("b"), corrected(), "place left out", "R. Okoye"); },
       [](const Store& store) {
         return store.load("b").weighed.place == "Depot 9" && store.load("b").states == corrected().states &&
                store.load("b@1") == small_session("b");
       }},
      {"seal", [](Store& store) { seal(store, "b"); },
       [](const Store& store) { return store.record_of("b").seal.has_value() && store.issued("b").has_value(); }},
      {"amend", [](Store& store) { store.amend("a", "misread", "R. Okoye", {}); },
       [](const Store& store) {
         return store.revisions("a").size() == 2 && store.load("a").states == full_session("a").states;
       }},
      {"attach", [](Store& store) { store.attach("b", {}, std::string(20'000, 'p')); },
       [](const Store& store) { return store.attached_bytes("b", 1) == std::string(20'000, 'p'); }},
      {"note", [](Store& store) { store.note({{store::RegisterKind::client, "tcwb", "contact", "at the gate", ""}}); },
       [](const Store& store) {
         for (const auto& one : store.register_of(store::RegisterKind::client))
           if (one.contact == "at the gate") return true;
         return false;
       }},
      {"choose", [](Store& store) { store.choose({{.name = "words", .client = {}, .value = "au", .by = {}, .at = {}}}); },
       [](const Store& store) { return store.settings().size() == 1; }},
      {"redact", [](Store& store) { store.redact_session("a", "asked for", "R. Okoye"); },
       [place](const Store& store) { return store.record_of("a").redacted && place(store, "a").empty(); }},
      {"merge", [folder](Store& store) { store.merge(folder / "other.db"); },
       [](const Store& store) {
         return are_there(store, {full_session("m"), small_session("n")}) && store.record_of("m").seal.has_value();
       }},
  };
}

bool few_wanted() {
  return std::getenv("STEELYARD_FAULT_FEW") != nullptr;
}

bool all_wanted() {
  return std::getenv("STEELYARD_FAULT_ALL") != nullptr;
}

}  // namespace steelyard::test
