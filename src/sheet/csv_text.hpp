// CSV as spreadsheet programs save it: text to cells, every cell with its row and column as the spreadsheet shows them.
//
// Source: RFC 4180, and what programs do beyond it: a byte order mark, the separators ; and tab where the comma is the
// decimal mark, line ends LF, CRLF or CR, empty rows and columns behind the data. The separator is the one that the
// header row has most of. A cell is data: no formula is worked out and no apostrophe taken away. Errors: none thrown;
// faults are collected with their cell and a remedy. Refused: bytes that are not UTF-8, quotes out of place, sizes
// above the bounds.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sheet/sheet.hpp"

namespace steelyard::sheet {

/// One .csv file: its name for messages and its bytes.
struct CsvFile {
  std::string name, text;
};

inline constexpr std::size_t longest_csv = 32u << 20;
inline constexpr std::size_t most_csv_rows = 1'048'576;  // of the common spreadsheet programs
inline constexpr std::size_t most_csv_columns = 100;

/// A place in one of several files; rows and columns count from 1, 0 for none.
struct CellPlace {
  std::size_t file = 0;
  std::uint32_t row = 0, column = 0;
  auto operator<=>(const CellPlace&) const = default;
};

/// The faults of all files of one import; the first `most` are kept, the rest counted.
class CellFaults {
 public:
  static constexpr std::size_t most = 1'000;
  struct One {
    CellPlace at;
    std::string what;
    auto operator<=>(const One&) const = default;
  };

  void add(const CellPlace& at, std::string what);
  [[nodiscard]] bool empty() const { return list_.empty(); }
  /// In the order of files, rows and columns, each once.
  [[nodiscard]] const std::set<One>& list() const { return list_; }
  [[nodiscard]] std::size_t beyond() const { return beyond_; }

 private:
  std::set<One> list_;
  std::size_t beyond_ = 0;
};

class CsvTable {
 public:
  struct Row {
    std::size_t first = 0;
    std::uint32_t count = 0, number = 0;  // number: as the spreadsheet shows it
  };

  /// Nothing where it is refused as a whole. `file` is its place in the list of files.
  static std::optional<CsvTable> parse(const CsvFile& file, std::size_t index, CellFaults& faults);

  [[nodiscard]] char separator() const { return separator_; }
  /// The first row that is not empty; there is one.
  [[nodiscard]] const Row& header() const { return rows_.front(); }
  /// The rows below it that are not empty.
  [[nodiscard]] std::span<const Row> rows() const { return std::span(rows_).subspan(1); }
  /// The cell in `column` (from 0); empty where the row is shorter.
  [[nodiscard]] std::string_view cell(const Row& row, std::size_t column) const {
    return column < row.count ? cells_[row.first + column] : std::string_view();
  }

 private:
  friend class CsvParser;
  std::unique_ptr<std::string> text_;  // what the cells look into; stays in place when the table moves
  std::vector<std::string_view> cells_;
  std::vector<Row> rows_;
  char separator_ = ',';
};

/// "A", "Z", "AA" of column 1, 26, 27.
std::string column_letters(std::size_t column);

/// Without blanks at either end.
std::string_view trimmed(std::string_view text);

/// What a cell means as a number, or why it is none. Where the separator is not the comma, a decimal comma is read too;
/// a mark that may part thousands as well as decimals ("1.790") is refused.
struct CellNumber {
  std::optional<double> value;
  std::string fault;
};
CellNumber cell_number(std::string_view cell, char separator);

}  // namespace steelyard::sheet
