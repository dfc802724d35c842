// The workbook to fill in: a sheet for each kind of CSV file, empty but for its header row, and instructions.
//
// Columns, meanings, units and words are those of sheet/csv_columns.hpp, which the reader goes by too. Cells of texts
// are of the format for texts, so that a date, a serial number 0417 or a line beginning "=" stays as it was typed.
// Errors: WorkbookRefused (reports/workbook/workbook.hpp).
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "reports/document/document.hpp"
#include "reports/workbook/workbook.hpp"
#include "sheet/csv_columns.hpp"

namespace steelyard::reports {

void write_template(const std::filesystem::path& to, Paper paper, const std::string& engine);

/// The empty CSV file of a kind: byte order mark, header row.
std::string empty_csv(sheet::CsvKind kind);

// Its parts.
/// Rows filled in with a rig of the invented Tallow Creek Water Board.
struct TemplateExample {
  std::vector<std::string> columns;
  std::vector<std::vector<std::string>> rows;
};
TemplateExample template_example(sheet::CsvKind kind);
/// "Readings", as the sheet is called.
std::string sheet_name(sheet::CsvKind kind);
SheetContent template_instructions();

}  // namespace steelyard::reports
