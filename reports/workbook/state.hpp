// The workbook layer's inside: what workbook.cpp, sheet.cpp and charts.cpp share. No other part includes
// this.
#pragma once

#include <xlsxwriter.h>

#include <algorithm>
#include <bit>
#include <cstdint>
#include <deque>
#include <filesystem>
#include <map>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "reports/workbook/readback.hpp"
#include "reports/workbook/workbook.hpp"

namespace steelyard::reports {

struct Sheet::State {
  Workbook::State* book = nullptr;
  lxw_worksheet* sheet = nullptr;
  std::string name;
  // A cell may be written twice (a joined one is), so each is remembered: the first 64 columns of a row as bits.
  std::vector<std::uint64_t> first_columns;
  std::set<std::pair<int, int>> further_cells;
  std::vector<bool> rows;  // those with a cell or a height of their own
  int points_used = 0;     // rows that drawings have taken on a sheet of points
  int lists_used = 0;      // columns that lists have taken on a sheet of lists

  void took_row(int row) {
    const auto at = static_cast<std::size_t>(row);
    if (rows.size() <= at) {
      rows.resize(at + 1);
      first_columns.resize(at + 1);
    }
    rows[at] = true;
  }
  void took(int row, int column) {
    took_row(row);
    if (column < 64)
      first_columns[static_cast<std::size_t>(row)] |= std::uint64_t{1} << column;
    else
      further_cells.emplace(row, column);
  }
  [[nodiscard]] SheetCount count() const {
    SheetCount out{.rows = static_cast<std::size_t>(std::count(rows.begin(), rows.end(), true)),
                   .cells = further_cells.size()};
    for (const std::uint64_t columns : first_columns) out.cells += static_cast<std::size_t>(std::popcount(columns));
    return out;
  }
};

struct Workbook::State {
  std::filesystem::path to, temporary;
  std::string folder;  // the library keeps a pointer to it
  Growth growth = Growth::whole;
  lxw_workbook* book = nullptr;
  std::deque<Sheet::State> sheets;  // a deque: Sheet holds pointers into it
  std::map<Style, lxw_format*> formats;

  State() = default;
  State(const State&) = delete;
  State& operator=(const State&) = delete;
  ~State();

  lxw_format* format(const Style& style);
  /// Throws WorkbookRefused, naming the output, unless the library reported success.
  void check(lxw_error error, std::string_view doing) const;
  [[noreturn]] void refuse(const std::string& why) const;
};

/// `text` for a chart: as presentable(), and never taken for a reference to cells.
std::string chart_text(std::string_view text);

}  // namespace steelyard::reports
