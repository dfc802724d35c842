// A finished workbook read back from the disk: is everything that was written really in it?
//
// The library answers "no error" with its temporary folder full, and the file then has broken XML or no rows.
// So the file is opened again as what it is, a zip archive (APPNOTE 6.3.x: end record, central directory),
// every part is unpacked and its CRC-32 checked, and each sheet's rows and cells are counted. Errors:
// std::runtime_error, whose message says what is missing.
#pragma once

#include <cstddef>
#include <filesystem>
#include <vector>

namespace steelyard::reports {

struct SheetCount {
  std::size_t rows = 0, cells = 0;
};

/// Throws unless `file` holds sheet 1, 2 … with exactly these rows and cells.
void check_workbook(const std::filesystem::path& file, const std::vector<SheetCount>& expected);

}  // namespace steelyard::reports
