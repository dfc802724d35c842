// A report's values as plain text: UTF-8, no line wider than 80 columns, nothing that a terminal acts on.
//
// Figures are those of the workbook, digit for digit. A table that does not fit is written row by row, each
// figure behind its column's name. Units: those of the values. Nothing here throws for finite figures.
#pragma once

#include <string>

#include "reports/document/document.hpp"

namespace steelyard::reports {

/// The whole file, UTF-8.
std::string text_page(const Report& report);

namespace document {
/// One table without its title, `width` columns wide at most.
std::string text_table(const Table& table, std::size_t width);
/// A cell's text in one line, harmless for a terminal.
std::string line_of(const Cell& cell);
std::string one_line(std::string_view text);
}  // namespace document

}  // namespace steelyard::reports
