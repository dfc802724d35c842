// The client's report of one weighing session: Summary, Readings, Results, Fit, Limits, Advice,
// Room, Method; in a region's words with a Glossary before Method.
//
// Units: the sheet's own, or those asked for; the workbook's cells hold figures in these units to 16
// significant digits (in kg and mm the JSON result's), shown rounded to their uncertainty. Readings stay as
// entered. Pattern: ISO/IEC 17025:2017, 7.8 (no accreditation is claimed). Errors: WorkbookRefused
// (reports/workbook/workbook.hpp). Nothing is computed here that reconcile and assess have not found, but
// sums and shares of what is shown.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "assess/assessment.hpp"
#include "reconcile/findings.hpp"
#include "reports/document/document.hpp"
#include "reports/words/figures.hpp"
#include "reports/workbook/workbook.hpp"
#include "rig/provider.hpp"
#include "rig/record.hpp"
#include "rig/session.hpp"

namespace steelyard::reports {

struct ClientOptions {
  std::string engine;  // version of the program
  std::string issued;  // date of issue, YYYY-MM-DD; also the file's creation date
  Paper paper = Paper::A4;
  std::optional<ShownUnits> units;  // nothing: the sheet's own
  Region words = Region::plain;
  std::optional<rig::RecordNote> record = {};  // nothing: a sheet without a store; nothing is said of a record
  rig::Provider provider = {};                 // who weighs; nothing given: said in Method, nowhere else
};

/// What the report says, before any layout.
Report client_report(const rig::Session& session, const reconcile::Findings& findings,
                     const assess::Assessment& assessment, const ClientOptions& options);

void write_client_workbook(const rig::Session& session, const reconcile::Findings& findings,
                           const assess::Assessment& assessment, const ClientOptions& options,
                           const std::filesystem::path& to);

}  // namespace steelyard::reports
