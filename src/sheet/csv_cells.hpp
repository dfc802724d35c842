// One cell's text as a value of the sheet, by what its column holds.
#pragma once

#include "sheet/csv_columns.hpp"
#include "sheet/json_text.hpp"

namespace steelyard::sheet {

struct CellValue {
  json value;         // null where there is a fault
  std::string fault;  // what is wrong, with its remedy
};

/// `text` is not blank; `separator` is the file's, which says whether a decimal comma may stand. Words that the contract
/// knows are left for decoding to judge.
CellValue cell_value(const CsvColumn& column, std::string_view text, char separator);

/// "P1; P2" parted at the semicolons, without blanks.
std::vector<std::string_view> parted(std::string_view text);

}  // namespace steelyard::sheet
