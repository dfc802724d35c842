// The workbook layer's inside: what workbook.cpp, sheet.cpp and charts.cpp share. No other part includes
// this.
#pragma once

#include <xlsxwriter.h>

#include <deque>
#include <filesystem>
#include <map>
#include <set>
#include <string>
#include <utility>

#include "reports/workbook/workbook.hpp"

namespace steelyard::reports {

struct Sheet::State {
  Workbook::State* book = nullptr;
  lxw_worksheet* sheet = nullptr;
  std::string name;
  std::set<std::pair<int, int>> cells;
  std::set<int> rows;   // those with a cell or a height of their own
  int points_used = 0;  // rows that drawings have taken on a sheet of points

  void took(int row, int column) {
    cells.emplace(row, column);
    rows.insert(row);
  }
};

struct Workbook::State {
  std::filesystem::path to, temporary;
  std::string folder;  // the library keeps a pointer to it
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
