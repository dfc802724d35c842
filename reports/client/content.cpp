#include "reports/client/content.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <utility>

#include "reports/words/record.hpp"
#include "reports/words/rows.hpp"
#include "units/number.hpp"

namespace steelyard::reports {
namespace client {

const reconcile::Quantity* Source::known(std::string_view name, std::string_view state) const {
  const auto is_it = [&](const reconcile::Quantity& quantity) {
    return quantity.name == name && quantity.state.value_or("") == state && quantity.determinable;
  };
  const auto found = std::find_if(findings.quantities.begin(), findings.quantities.end(), is_it);
  return found == findings.quantities.end() ? nullptr : &*found;
}

const rig::State* Source::travels() const {
  return rig::travelling_state(session);
}

std::string row_words(const Source& source, const assess::Row& row) {
  return clipped(limit_words(source.session.rig.limits.at(row.limit), source.session.rig, source.wording),
                 120);
}

std::string row_value(const Source& source, const assess::Row& row) {
  return reports::row_value(row, source.shown);
}

std::string row_rating(const Source& source, const assess::Row& row) {
  return reports::row_rating(row, source.shown);
}

std::string row_margin(const Source& source, const assess::Row& row) {
  return reports::row_margin(row, source.shown);
}

std::optional<std::string> transfer_words(const Source& source) {
  const auto* gain = source.known("load_transfer_ratio");
  const auto* loss = source.known("front_relief_ratio");
  if (!gain || !loss) return std::nullopt;
  const std::string unit = ' ' + unit_word(reconcile::Measure::kilogram, source.shown);
  // A coupling ahead of the rear axle loads both axles.
  const std::string front =
      loss->value >= 0 ? " and takes " + units::fixed(100 * loss->value, 0) + unit + " off the front axle"
                       : " and " + units::fixed(-100 * loss->value, 0) + unit + " on the front axle";
  return "each 100" + unit + " on the coupling puts " + units::fixed(100 * gain->value, 0) + unit +
         " on the rear axle" + front;
}

std::string provider_words(const rig::Provider& provider) {
  std::string words;
  for (const auto& [part, most] : {std::pair{&provider.name, 80U}, std::pair{&provider.address, 120U},
                                   std::pair{&provider.contact, 80U}, std::pair{&provider.identity, 60U}}) {
    if (part->empty()) continue;
    std::string line = clipped(*part, most);
    for (auto at = line.find('\n'); at != line.npos; at = line.find('\n', at)) line.replace(at, 1, ", ");
    words += (words.empty() ? "" : " · ") + line;
  }
  return words;
}

std::vector<Fact> record_facts(const Source& source) {
  const auto lines = source.options.record ? record_lines(*source.options.record, time_words)
                                           : amendment_lines(source.session, time_words);
  std::vector<Fact> facts;
  for (const RecordLine& line : lines) {
    std::string label = line.label == "sha256" ? "SHA-256" : line.label;
    label.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(label.front())));
    facts.push_back({std::move(label), (line.warning ? "▲ " : "") + clipped(line.text, 600)});
    if (line.label == "replaces") facts.back().text += "; what was replaced stays on record";
  }
  return facts;
}

}  // namespace client

namespace {

/// Copies of one revision that contradict each other must not share a number: the part of the name that tells them
/// apart, ".1a2b3c4d".
std::string rival_suffix(const std::optional<rig::RecordNote>& record) {
  if (!record || record->rivals.empty()) return {};
  const auto revision = record->name.rfind('@');
  const auto dot = revision == std::string::npos ? revision : record->name.find('.', revision);
  return dot == std::string::npos ? std::string() : clipped(record->name.substr(dot), 17);
}

/// Short enough for every page, and still telling one session from another: a long id of hexadecimal digits
/// by its first eight, any other in full.
std::string report_number(const rig::Session& session, const std::optional<rig::RecordNote>& record) {
  const bool hexadecimal =
      session.id.size() > 16 && std::all_of(session.id.begin(), session.id.end(), [](char c) {
        return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f') || (c >= 'A' && c <= 'F') || c == '-';
      });
  std::string name = hexadecimal ? session.id.substr(0, 8) : clipped(session.id, 40);
  if (name.empty()) name = "without id";
  return name + "-" + std::to_string(session.revision) + rival_suffix(record);
}

}  // namespace

Report client_report(const rig::Session& session, const reconcile::Findings& findings,
                     const assess::Assessment& assessment, const ClientOptions& options) {
  const Wording wording({options.words, options.units}, session, &findings);
  const client::Source source{
      session, findings, assessment, options, wording.shown, report_number(session, options.record), wording};
  Report report;
  report.number = source.number;
  if (options.record) report.standing = record_standing(*options.record);
  report.title = "Weighing report";
  report.client = session.client.name;
  report.issued = options.issued;
  report.engine = options.engine;
  report.sheets = {client::summary(source), client::readings(source), client::results(source),
                   client::fit(source),     client::limits(source),   client::advice(source),
                   client::room(source),    client::method(source)};
  // Method bears the signature and stays the last.
  if (options.words != Region::plain)
    report.sheets.insert(report.sheets.end() - 1, client::glossary_sheet(source));
  const std::string whose =
      "Report " + report.number + (report.client.empty() ? "" : " · " + clipped(report.client, 80));
  for (std::size_t i = 1; i < report.sheets.size(); ++i) report.sheets[i].subtitle = whose;
  return report;
}

}  // namespace steelyard::reports
