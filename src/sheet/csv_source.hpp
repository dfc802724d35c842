// One CSV file whose kind is known: which column is which, and a row's cells as values of the sheet.
//
// A cell that cannot be read is a fault and becomes a JSON null, which decoding counts as absent; `Broken` keeps these
// cells, so that what decoding says of the null is not told as well. Columns x-… are kept as texts of the row's object.
#pragma once

#include <deque>
#include <set>

#include "sheet/csv_columns.hpp"
#include "sheet/csv_text.hpp"
#include "sheet/json_text.hpp"

namespace steelyard::sheet {

class CsvSource;

/// A row of a file.
struct CsvRow {
  const CsvSource* source = nullptr;
  const CsvTable::Row* row = nullptr;
  explicit operator bool() const { return row != nullptr; }
  auto operator<=>(const CsvRow&) const = default;
};

/// The faults of an import, and the cells that could not be read.
struct CsvFaults {
  CellFaults& all;
  std::set<CellPlace> broken = {};
  /// A fault of a cell that no further rule shall judge.
  void cell(const CellPlace& at, std::string what) {
    broken.insert(at);
    all.add(at, std::move(what));
  }
};

class CsvSource {
 public:
  /// Nothing where the file or its header is refused; the faults say why.
  static bool open(const CsvFile& file, std::size_t index, CsvFaults& faults, std::deque<CsvSource>& sources);

  [[nodiscard]] CsvKind kind() const { return kind_; }
  [[nodiscard]] std::size_t file() const { return file_; }
  [[nodiscard]] std::span<const CsvTable::Row> rows() const { return table_.rows(); }

  /// The text in the column called `name`, as it stands; empty where it holds blanks alone.
  [[nodiscard]] std::string_view text(const CsvTable::Row& row, std::string_view name) const;
  [[nodiscard]] std::string_view text(const CsvTable::Row& row, std::size_t column) const;
  /// Where that cell is; column 0 where the file has no such column.
  [[nodiscard]] CellPlace place(const CsvTable::Row& row, std::string_view name) const;
  [[nodiscard]] CellPlace place(const CsvTable::Row& row, std::size_t column) const;

  /// The cell's value; what cannot be read is a fault and null.
  [[nodiscard]] json value(const CsvTable::Row& row, std::size_t column, CsvFaults& faults) const;
  /// Puts the values of all columns that belong to `of` into `object`.
  void fill(json& object, const CsvTable::Row& row, CellOf of, CsvFaults& faults) const;
  /// Whether any column that belongs to `of` says something, an x- column included where it is the object's.
  [[nodiscard]] bool says(const CsvTable::Row& row, CellOf of) const;
  /// Faults of cells that belong to `of`, which this row cannot have.
  void refuse(const CsvTable::Row& row, CellOf of, const std::string& why, CsvFaults& faults) const;

  /// The column of `of` whose place in the sheet is `path`, is in it or holds it; nothing where there is none.
  [[nodiscard]] std::optional<std::size_t> column_at(CellOf of, std::string_view path) const;
  /// The header's own word above a column of the file, counted from 1; empty where there is none.
  [[nodiscard]] std::string_view header_name(std::uint32_t column) const {
    return trimmed(table_.cell(table_.header(), column - 1));
  }
  [[nodiscard]] std::string_view column_name(std::size_t column) const { return csv_columns(kind_)[column].name; }

 private:
  CsvSource(CsvTable table, std::size_t file) : table_(std::move(table)), file_(file) {}
  bool read_header(CsvFaults& faults);
  [[nodiscard]] CsvKind likely_kind() const;
  void find_columns(CsvFaults& faults);
  void check_beyond_header(CsvFaults& faults) const;

  CsvTable table_;
  std::size_t file_;
  CsvKind kind_ = CsvKind::readings;
  std::vector<std::optional<std::size_t>> cells_;                 // of each column of the kind: where in the file
  std::vector<std::pair<std::string, std::size_t>> extras_ = {};  // x- columns
  std::vector<bool> named_ = {};                                  // of each column of the file
};

/// Sets the value at "key" or "key.inner" of an object.
void put_at(json& object, std::string_view path, json value);

}  // namespace steelyard::sheet
