#include "cli/command_audit.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <map>
#include <optional>

#include "audit/fleet.hpp"
#include "cli/new_file.hpp"
#include "cli/progress.hpp"
#include "cli/settings.hpp"
#include "cli/solve.hpp"
#include "cli/solve_fleet.hpp"
#include "digest/digest.hpp"
#include "reports/fleet/audit_table.hpp"
#include "reports/words/terminal_text.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {
namespace {

constexpr std::array endings{std::string_view(".xlsx"), std::string_view(".csv"), std::string_view(".jsonl")};

/// The same sessions in the same revisions under the same filter have the same number.
std::string number_of(const std::vector<audit::Entry>& entries, const std::vector<reports::Fact>& filter,
                      const std::string& issued) {
  std::string text;
  for (const reports::Fact& one : filter) text += one.label + '\n' + one.text + '\n';
  for (const audit::Entry& entry : entries) text += std::string(entry.id) + '@' + std::to_string(entry.revision) + '\n';
  std::string day = issued.substr(0, 10);
  std::erase(day, '-');
  return "A-" + day + "-" + digest::sha256_hex(text).substr(0, 8);
}

/// Vehicles of sessions that pass the filter but for the date, and of the register where nothing but dates is asked for,
/// that no audited session covers.
std::vector<reports::NotWeighed> not_weighed(const store::Store& store, const std::vector<store::Summary>& all,
                                             const AuditFilter& filter) {
  std::map<std::pair<std::string, std::string>, reports::NotWeighed> left;
  std::map<std::pair<std::string, std::string>, bool> weighed;
  const auto see = [&](const store::Summary& one, std::string what, const std::string& uid, const std::string& label) {
    const std::pair key{what, uid.empty() ? label : uid};
    if (key.second.empty()) return;
    if (filter.passes(one)) weighed[key] = true;
    reports::NotWeighed& entry = left[key];
    entry = {std::move(what), uid, label, std::max(entry.last_day, one.weighed_at.substr(0, 10))};
  };
  bool narrowed = false;
  for (const store::Summary& one : all) {
    if (!filter.passes_but_for_date(one)) {
      narrowed = true;
      continue;
    }
    see(one, "tow vehicle", one.tow_uid, one.tow_vehicle);
    if (one.has_trailer) see(one, "trailer", one.trailer_uid, one.trailer);
  }
  if (!narrowed)
    for (const auto& [kind, what] : {std::pair{store::RegisterKind::tow_vehicle, "tow vehicle"},
                                     std::pair{store::RegisterKind::trailer, "trailer"}})
      for (const store::RegisterEntry& one : store.register_of(kind))
        if (one.sessions == 0)
          left[{what, one.uid}] = {what, one.uid, one.label.empty() ? one.registration : one.label, {}};
  std::vector<reports::NotWeighed> out;
  for (auto& [key, one] : left)
    if (!weighed.contains(key)) out.push_back(std::move(one));
  return out;
}

/// Pounds where every sheet was in pounds.
reports::ShownUnits units_of(const std::vector<audit::Entry>& entries) {
  const bool pounds = !entries.empty() && std::all_of(entries.begin(), entries.end(), [](const audit::Entry& entry) {
    return entry.load_unit == units::LoadUnit::pound;
  });
  return pounds ? reports::ShownUnits{units::LoadUnit::pound, units::LengthUnit::inch} : reports::ShownUnits{};
}

}  // namespace

About CommandAudit::about() const {
  return {"audit",
          "[--client TEXT] [--from DATE] [--until DATE] [--place TEXT] [--technician TEXT] [--purpose TEXT] [--vehicle TEXT] "
          "[--to FILE.xlsx|.csv|.jsonl] [--paper a4|letter] [--words au|uk|us|za] [--threads N] [--store FILE] [--json]",
          "a fleet: who is outside a rating, how often, how near the rest are",
          "Reconciles every session that passes the filter and looks at them together: breaches worst first, rates with 95 % "
          "intervals by client, place, kind of rig, technician and purpose, a trend, how much of each rating is used, rigs "
          "outside again and again, what was not assessed or not weighed, readings and scales in doubt.\n"
          "--to writes the auditor's workbook (.xlsx), or the register of sessions for other programs: as CSV (.csv) or as "
          "JSON Lines (.jsonl). Without it a summary is printed; with --json the whole audit but for the register, one line. "
          "What is over is sorted by the store's overload bands, where these are set: see `steelyard help settings`."};
}

void CommandAudit::describe(po::options_description& options) {
  filter_.describe(options);
  options.add_options()("to", po::value(&to_)->value_name("FILE"), "what to write: .xlsx, .csv or .jsonl");
  report_.describe(options);
  options.add_options()("threads", po::value(&threads_)->value_name("N"),
                        "threads to solve on, 1 to 64; else as many as there are cores. The result is the same");
  store_.describe(options);
  json_.describe(options, "the audit in JSON, one line");
}

void CommandAudit::take(const std::vector<std::string>& words) {
  expect(words, 0, 0);
  if (const std::string fault = filter_.fault(); !fault.empty()) throw wrong(fault);
  if (!to_.empty() && std::none_of(endings.begin(), endings.end(), [this](auto end) { return to_.ends_with(end); }))
    throw wrong("--to must end in .xlsx, .csv or .jsonl, is " + to_);
  if (const std::string fault = report_.fault(); !fault.empty()) throw wrong(fault);
  thread_count_ = usual_threads();
  if (threads_.empty()) return;
  const auto [end, error] = std::from_chars(threads_.data(), threads_.data() + threads_.size(), thread_count_);
  if (error != std::errc() || end != threads_.data() + threads_.size() || thread_count_ < 1 || thread_count_ > 64)
    throw wrong("--threads takes a whole number from 1 to 64, not \"" + threads_ + '"');
}

void CommandAudit::write_to_file(const reports::FleetSubject& subject, const reports::FleetOptions& options) const {
  if (to_.ends_with(".xlsx")) return reports::write_fleet_workbook(subject, options, to_);
  NewFile file(to_, NewFile::Existing::replaced);
  const auto write = [&file](std::string_view text) { file.write(text); };
  if (to_.ends_with(".csv"))
    reports::register_csv(subject, write);
  else
    reports::register_json_lines(subject, write);
  file.finish();
}

Exit CommandAudit::run(Streams& streams) {
  const store::Store store = store::Store::open(store_.path(), store::Access::read_only);
  const StoredSettings settings(store.settings());
  const std::vector<store::Summary> all = store.list();
  std::vector<std::string> ids;
  for (const store::Summary& one : all)
    if (filter_.passes(one)) ids.push_back(one.id);
  if (ids.empty() && !all.empty())
    throw Refusal("no session passes the filter; the store has " + std::to_string(all.size()) +
                  ": `steelyard list` shows them");
  audit::Names names;
  std::vector<audit::Entry> entries;
  {
    Progress progress(streams.err, "sessions", ids.size());
    entries = solve_fleet(store_.path(), ids, names, thread_count_, [&](std::size_t done) { progress.reach(done); });
  }
  const assess::OverloadBands bands = settings.bands();
  const reports::FleetSubject subject{entries, bands, filter_.in_words(), not_weighed(store, all, filter_)};
  reports::FleetOptions options;
  options.engine = version();
  options.issued = report_.issued();
  options.number = number_of(entries, subject.filter, options.issued);
  options.provider = settings.provider();
  options.paper = report_.paper(settings, {});
  const reports::Reader reader = report_.reader(settings, {});
  options.words = reader.words;
  options.units = reader.units.value_or(units_of(entries));
  if (!to_.empty()) write_to_file(subject, options);
  if (json_.wanted())
    streams.out.line(reports::audit_json(subject, options));
  else
    streams.out.write(reports::audit_table(subject, options));
  if (!to_.empty() && !json_.wanted()) streams.out.line("\nwrote " + reports::printable(to_));
  return Exit::done;
}

}  // namespace steelyard::cli
