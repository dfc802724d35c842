// The audit of a fleet: its workbook, its JSON summary, and its register as CSV or JSON Lines.
//
// Units: the reader's in the workbook, kg and mm in JSON and CSV. What is shown is what audit/fleet.hpp finds; nothing else
// is computed here. The same entries and options give the same bytes. Errors: WorkbookRefused.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "assess/overload_bands.hpp"
#include "audit/entry.hpp"
#include "reports/document/document.hpp"
#include "reports/words/figures.hpp"
#include "reports/workbook/workbook.hpp"
#include "rig/provider.hpp"

namespace steelyard::reports {

/// A vehicle that the store knows and that no weighing of this audit covers.
struct NotWeighed {
  std::string what, uid, label;  // what: "tow vehicle", "trailer"
  std::string last_day;          // of its last weighing; empty: never
};

/// What is audited. All outlive the report.
struct FleetSubject {
  const std::vector<audit::Entry>& entries;  // in order of weighing
  const assess::OverloadBands& bands;
  std::vector<Fact> filter = {};  // what was asked for, in words; none: the whole store
  std::vector<NotWeighed> not_weighed = {};
};

struct FleetOptions {
  std::string engine;
  std::string issued;  // YYYY-MM-DD, also the file's creation date
  std::string number;  // of the report
  rig::Provider provider = {};
  Paper paper = Paper::A4;
  Region words = Region::plain;
  ShownUnits units = {};
  std::size_t most_rows = 1'000'000;  // of a sheet's table; the file format ends at 1,048,576 (ECMA-376 part 1, 18.3.1.73)
};

/// What the audit says, before any layout; refers to the subject.
Report fleet_report(const FleetSubject& subject, const FleetOptions& options);

void write_fleet_workbook(const FleetSubject& subject, const FleetOptions& options, const std::filesystem::path& to);

/// steelyard-audit/1, one line.
std::string audit_json(const FleetSubject& subject, const FleetOptions& options);

/// The register for other programs, line by line: CSV (RFC 4180) whose texts no spreadsheet program takes for a formula,
/// and JSON Lines, an entry a line.
using Write = std::function<void(std::string_view)>;
void register_csv(const FleetSubject& subject, const Write& write);
void register_json_lines(const FleetSubject& subject, const Write& write);

}  // namespace steelyard::reports
