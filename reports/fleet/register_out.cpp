// The register for other programs.
//
// CSV: RFC 4180 with a header line; canonical names, kg, plain ratios, shortest round-trip figures with a point. A text
// that a spreadsheet program would take for a formula (it begins with = + - @, a tab or a line end) gets an apostrophe
// before it, as the Open Worldwide Application Security Project advises against CSV injection.
#include "reports/fleet/content.hpp"
#include "reports/result/json_text.hpp"
#include "units/number.hpp"

namespace steelyard::reports {
namespace {

using audit::Entry;

void put_text(std::string& line, std::string_view text) {
  if (!line.empty()) line += ',';
  std::string safe;
  if (!text.empty() && std::string_view("=+-@\t\r\n").find(text.front()) != std::string_view::npos) safe = '\'';
  safe += text;
  if (safe.find_first_of(",\"\r\n") == std::string::npos) {
    line += safe;
    return;
  }
  line += '"';
  for (const char c : safe) {
    if (c == '"') line += '"';
    line += c;
  }
  line += '"';
}

void put_figure(std::string& line, const std::optional<double>& value) {
  line += ',';
  if (value) line += units::shortest(*value);
}

void put_figure(std::string& line, const std::optional<audit::Figure>& found) {
  put_figure(line, found ? std::optional(found->value) : std::nullopt);
  put_figure(line, found ? std::optional(found->u) : std::nullopt);
}

std::string scales_words(const Entry& entry) {
  std::string words;
  for (const audit::ScaleOutOfDate& scale : entry.scales_out_of_date) {
    if (!words.empty()) words += ' ';
    words += scale.uid.empty() ? scale.name : scale.uid;
  }
  return words;
}

void put_nearest(JsonText& out, const Entry& entry) {
  out.key("nearest");
  if (!entry.nearest) {
    out.null();
    return;
  }
  const audit::Rated& rated = entry.ratings[*entry.nearest];
  out.begin_object().field("of", rated.of).key("part");
  rated.part.empty() ? out.null() : out.value(rated.part);
  out.field("limit", rated.rating).field("value", rated.value).field("u", rated.u);
  out.field("unit", reconcile::symbol(rated.measure)).field("outcome", assess::to_text(rated.outcome));
  out.field("used", rated.used < 1e9 ? std::optional(rated.used) : std::nullopt).end_object();
}

void put_text_field(JsonText& out, std::string_view name, std::string_view text) {
  out.key(name);
  text.empty() ? out.null() : out.value(text);
}

void put_figure_field(JsonText& out, std::string_view name, const std::optional<audit::Figure>& found) {
  out.key(name);
  if (found)
    out.begin_object().field("value", found->value).field("u", found->u).end_object();
  else
    out.null();
}

std::string json_line(const Entry& entry) {
  JsonText out;
  out.begin_object().field("session", entry.id).field("revision", entry.revision);
  put_text_field(out, "weighed_at", entry.time);
  put_text_field(out, "client_uid", entry.client_uid);
  put_text_field(out, "client", entry.client);
  put_text_field(out, "place", entry.place);
  put_text_field(out, "technician", entry.technician);
  put_text_field(out, "purpose", entry.purpose);
  put_text_field(out, "tow_vehicle_uid", entry.tow_uid);
  put_text_field(out, "tow_vehicle", entry.tow);
  put_text_field(out, "trailer_uid", entry.trailer_uid);
  put_text_field(out, "trailer", entry.trailer);
  out.field("kind_of_rig", entry.rig_kind).field("outcome", assess::to_text(entry.outcome));
  put_nearest(out, entry);
  put_figure_field(out, "coupling_load", entry.coupling_load);
  put_figure_field(out, "coupling_share", entry.coupling_share);
  put_figure_field(out, "tow_unhitched_total", entry.tow_mass);
  put_figure_field(out, "trailer_mass", entry.trailer_mass);
  put_figure_field(out, "combination_mass", entry.combination_mass);
  out.field("consistent", entry.consistent).field("suspect", entry.suspect.has_value());
  out.key("scales_out_of_date").begin_array();
  for (const audit::ScaleOutOfDate& scale : entry.scales_out_of_date) out.value(scale.uid.empty() ? scale.name : scale.uid);
  out.end_array();
  put_text_field(out, "not_solved", entry.not_solved);
  out.end_object();
  return out.text() + '\n';
}

}  // namespace

void register_csv(const FleetSubject& subject, const Write& write) {
  write("session,revision,weighed_at,client_uid,client,place,technician,purpose,tow_vehicle_uid,tow_vehicle,trailer_uid,"
        "trailer,kind_of_rig,outcome,nearest,part,limit,value,u,unit,used,coupling_load,coupling_load_u,coupling_share,"
        "coupling_share_u,tow_unhitched_total,tow_unhitched_total_u,trailer_mass,trailer_mass_u,combination_mass,"
        "combination_mass_u,consistent,suspect,scales_out_of_date\r\n");
  for (const Entry& entry : subject.entries) {
    std::string line;
    put_text(line, entry.id);
    line += ',' + std::to_string(entry.revision);
    for (const std::string_view text :
         {entry.time, entry.client_uid, entry.client, entry.place, entry.technician, entry.purpose, entry.tow_uid, entry.tow,
          entry.trailer_uid, entry.trailer, entry.rig_kind, assess::to_text(entry.outcome)})
      put_text(line, text);
    const audit::Rated none{};
    const audit::Rated& rated = entry.nearest ? entry.ratings[*entry.nearest] : none;
    put_text(line, rated.of);
    put_text(line, rated.part);
    put_figure(line, rated.rating);
    put_figure(line, rated.value);
    put_figure(line, rated.u);
    put_text(line, entry.nearest ? reconcile::symbol(rated.measure) : std::string_view());
    put_figure(line, entry.nearest && rated.used < 1e9 ? std::optional(rated.used) : std::nullopt);
    for (const auto* found : {&entry.coupling_load, &entry.coupling_share, &entry.tow_mass, &entry.trailer_mass,
                              &entry.combination_mass})
      put_figure(line, *found);
    put_text(line, !entry.consistent ? "" : *entry.consistent ? "yes" : "no");
    put_text(line, entry.suspect ? "yes" : "no");
    put_text(line, scales_words(entry));
    write(line + "\r\n");
  }
}

void register_json_lines(const FleetSubject& subject, const Write& write) {
  for (const Entry& entry : subject.entries) write(json_line(entry));
}

}  // namespace steelyard::reports
