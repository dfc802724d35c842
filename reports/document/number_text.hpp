// How a figure is shown: the same digits, sign and unit in every form of a report.
//
// The workbook's cell holds the whole figure and a format; page and text hold the digits themselves. Rounding
// is a spreadsheet's: half away from zero, of the figure's fifteen decimal digits. What rounds to zero
// carries no sign. A figure from 1e9 on is written with an exponent. Nothing here throws for finite figures.
#pragma once

#include <string>

#include "reports/document/document.hpp"

namespace steelyard::reports {

/// The format of the workbook's cell (ECMA-376 part 1, 18.8.31); empty for a figure that is shown as entered.
std::string number_format(const Number& number);

/// What the cell shows by that format: "+395.9 kg", "± 3.9 kg", "−20.3", "105.8 %", "< 0.01 %".
std::string shown_text(const Number& number);

}  // namespace steelyard::reports
