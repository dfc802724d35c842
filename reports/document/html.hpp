// A report's values as one page of HTML, for an e-mail or a browser: nothing outside the file is asked for.
//
// The page is also well-formed XML. Figures are those of the workbook, digit for digit: <data value="…">
// holds the whole figure, its content what the workbook's cell shows. Every text is escaped; an outcome has
// its sign and its word beside its colour; the colours are set for light, for dark and for paper. Units:
// those of the values. Nothing here throws for finite figures.
#pragma once

#include <string>

#include "reports/document/document.hpp"

namespace steelyard::reports {

/// The whole file, UTF-8.
std::string html_page(const Report& report);

namespace document {
/// The page's style sheet; `number` of the report stands at the head of each printed page.
std::string page_style(const Report& report);
}  // namespace document

}  // namespace steelyard::reports
