// A session's report for the client, as `report` writes it and as the field page hands it over.
// Errors: reconcile::NotSolved; those of the store, the workbook and the disk.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include "cli/report_options.hpp"
#include "cli/session_source.hpp"
#include "cli/settings.hpp"
#include "reports/document/document.hpp"

namespace steelyard::cli {

/// `issued`: the date of issue.
reports::Report client_report_of(const RecordedSession& source, const StoredSettings& settings, const reports::Reader& reader,
                                 reports::Paper paper, const std::string& issued);

/// The file that a report of that form is: "xlsx", "html" or "txt".
std::string report_bytes(const reports::Report& report, reports::Paper paper, std::string_view form);

}  // namespace steelyard::cli
