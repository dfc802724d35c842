#include "field/desk.hpp"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "field/cautions.hpp"
#include "field/view.hpp"
#include "reports/result/json_text.hpp"
#include "reports/words/terms.hpp"
#include "rig/words.hpp"
#include "sheet/sheet.hpp"

namespace steelyard::field {
namespace {

using nlohmann::json;
using reports::JsonText;

constexpr std::size_t most_sessions_listed = 100, most_sessions_read = 200;

void write_limit_kinds(JsonText& out, const reports::Wording& wording) {
  out.key("limit_kinds").begin_array();
  for (const std::string_view name : rig::limit_names()) {
    std::string first(name);
    const bool axles = first.ends_with(".N");
    if (axles) first.replace(first.size() - 1, 1, "1");
    const auto limit = rig::parse_limit_name(first);
    if (!limit) continue;
    const bool trailer = name.starts_with("trailer") || name.starts_with("wheel.trailer");
    const rig::Measure measure = rig::measure_of(limit->kind);
    out.begin_object().field("of", name).field("words", reports::brief_limit_words(*limit, wording));
    out.field("measure", measure == rig::Measure::load ? "load" : measure == rig::Measure::ratio ? "ratio" : "force");
    out.field("axles", axles ? std::optional(trailer ? "trailer" : "tow") : std::nullopt);
    out.field("part", limit->kind == rig::LimitKind::coupling).field("minimum", rig::is_minimum(limit->kind));
    out.end_object();
  }
  out.end_array();
}

/// What earlier sessions know, each thing as the latest of them has it.
class Known {
 public:
  void look_at(const rig::Session& session, const std::string& today) {
    const json sheet = json::parse(sheet::write(session));
    const json units = sheet.value("units", json::object());
    const std::string title = rig_title(session.rig);
    const std::string rig_key = key(session.rig.tow_vehicle.uid, title) + '\n' +
                                (session.rig.trailer ? key(session.rig.trailer->uid, "") : std::string());
    if (seen_.insert("rig " + rig_key).second)
      rigs_.push_back({{"title", title}, {"weighed_at", session.weighed.at}, {"units", whole_units(units)},
                       {"rig", sheet["rig"]}, {"modifications", sheet.value("modifications", json::array())}});
    if (!session.client.name.empty() && seen_.insert("client " + key(session.client.uid, session.client.name)).second)
      clients_.push_back({{"uid", session.client.uid}, {"name", session.client.name}, {"reference", ""}});
    for (const json& scale : sheet.value("scales", json::array())) look_at_scale(scale, units, today);
    add(technicians_, "technician ", session.weighed.technician);
    add(places_, "place ", session.weighed.place);
  }

  void write(JsonText& out) const {
    for (const auto& [name, list] : {std::pair{"clients", &clients_}, std::pair{"rigs", &rigs_},
                                     std::pair{"scales", &scales_}, std::pair{"technicians", &technicians_},
                                     std::pair{"places", &places_}}) {
      std::string text;
      text = list->dump(-1, ' ', false, json::error_handler_t::replace);
      out.key(name).raw(text);
    }
  }

 private:
  static std::string key(const std::string& uid, const std::string& otherwise) {
    return uid.empty() ? "named " + otherwise : "uid " + uid;
  }

  static json whole_units(const json& units) {
    return {{"load", units.value("load", "kg")}, {"length", units.value("length", "mm")}};
  }

  void look_at_scale(json scale, const json& units, const std::string& today) {
    const std::string id = scale.value("id", ""), uid = scale.value("uid", ""), serial = scale.value("serial", "");
    if (!seen_.insert("scale " + key(uid, id + ' ' + serial)).second) return;
    for (const char* of_the_day : {"zero_before", "zero_after", "check_weights"}) scale.erase(of_the_day);
    const std::string due = scale.value("due", "");
    scales_.push_back({{"title", serial.empty() || serial == id ? id : id + " (serial " + serial + ")"},
                       {"units", whole_units(units)}, {"scale", scale}, {"due_passed", !due.empty() && due < today}});
  }

  void add(json& list, const char* kind, const std::string& text) {
    if (!text.empty() && seen_.insert(kind + text).second) list.push_back(text);
  }

  std::set<std::string> seen_;
  json clients_ = json::array(), rigs_ = json::array(), scales_ = json::array(), technicians_ = json::array(),
       places_ = json::array();
};

void write_sessions(JsonText& out, const std::vector<store::Summary>& newest_first) {
  out.key("sessions").begin_array();
  for (std::size_t i = 0; i < newest_first.size() && i < most_sessions_listed; ++i) {
    const store::Summary& one = newest_first[i];
    out.begin_object().field("id", one.id);
    out.field("title", rig_title(one.tow_vehicle, one.has_trailer ? std::optional(one.trailer) : std::nullopt));
    out.field("client", one.client).field("weighed_at", one.weighed_at).field("place", one.place);
    out.field("readings", one.readings).field("sealed", one.sealed).end_object();
  }
  out.end_array().field("sessions_in_all", static_cast<std::int64_t>(newest_first.size()));
}

}  // namespace

std::string desk_json(const store::Store& store, const DeskFacts& facts) {
  std::vector<store::Summary> sessions = store.list();
  std::reverse(sessions.begin(), sessions.end());
  const reports::Wording wording(facts.words);
  JsonText out;
  out.begin_object().field("engine", facts.engine).field("store", facts.store_name).field("now", facts.now);
  out.key("cautions").begin_array();
  for (const std::string& caution : cautions_before_weighing(wording)) out.value(caution);
  out.end_array().key("regions").begin_array();
  for (const reports::Region region : reports::all_regions)
    out.begin_object()
        .field("code", reports::region_code(region))
        .field("title", reports::region_title(region))
        .end_object();
  out.end_array().field("words", reports::region_code(facts.usual_words)).key("line");
  if (facts.line)
    out.begin_object().field("name", "scale on line").end_object();
  else
    out.null();
  write_limit_kinds(out, wording);
  write_sessions(out, sessions);
  Known known;
  const std::string today = facts.now.substr(0, 10);
  for (std::size_t i = 0; i < sessions.size() && i < most_sessions_read; ++i)
    known.look_at(store.load(sessions[i].id), today);
  known.write(out);
  return out.end_object().text();
}

}  // namespace steelyard::field
