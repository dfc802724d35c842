// A report's values as a workbook: one sheet a SheetContent, and a hidden one that pictures are drawn from.
//
// `created` is the file's creation date, YYYY-MM-DD, so that the same report gives the same bytes. Errors:
// WorkbookRefused (reports/workbook/workbook.hpp).
#pragma once

#include <filesystem>
#include <string>

#include "reports/document/document.hpp"
#include "reports/workbook/workbook.hpp"

namespace steelyard::reports {

/// Lays the report's sheets out in an open workbook.
void lay_out(const Report& report, Paper paper, Workbook& book);

void write_workbook(const Report& report, Paper paper, const std::filesystem::path& to);

/// What a workbook of this report says of itself.
Properties properties_of(const Report& report);

}  // namespace steelyard::reports
