// Lays one sheet of the report out in a workbook's sheet, block under block, and sets its pages.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "reports/document/document.hpp"
#include "reports/workbook/workbook.hpp"

namespace steelyard::reports::document {

class Layout {
 public:
  /// `points` takes what the pictures are drawn from.
  Layout(Sheet sheet, Sheet points, const SheetContent& content, const Report& report);
  void write(Paper paper, bool last_sheet);

 private:
  void head();
  void put(const Heading& heading);
  void put(const Paragraph& paragraph);
  void put(const Facts& facts);
  void put(const Banner& banner);
  void put(const Table& table);
  void put(const LongTable& table);
  void put(const Columns& columns);
  void put(const Bars& bars);
  void put(const Picture& picture);
  void put(const Signature& signature);
  void place_columns(const std::vector<Column>& columns);
  void put_row(const Table& table, const TableRow& row);
  void put_long_row(const LongTable& table, const TableRow& row);
  void one_fact(const Fact& fact, int label_first, int text_first, int last);

  /// One text over columns first to last of row_; the row becomes as high as it needs.
  void across(int first, int last, std::string_view text, const Style& style);
  void across_all(std::string_view text, const Style& style) { across(0, last_column(), text, style); }
  void next_row(double least_height = 0, double above = 3);
  /// Begins a new page unless `points` more fit on this one.
  void keep_together(double points);
  void measure_page(Paper paper);
  /// One row with a title and what `draw` puts under it, so that no page ends between or within them.
  void titled_space(std::string_view title, int height, const std::function<void(const Box&)>& draw);
  void space_of_rows(int height, const std::function<void(const Box&)>& draw);
  void gap(double points);
  void fit_grid();
  [[nodiscard]] double width(int first, int last) const;  // characters
  [[nodiscard]] int last_column() const { return static_cast<int>(grid_.size()) - 1; }
  [[nodiscard]] double width_in_pixels() const;

  Sheet sheet_, points_;
  const SheetContent& content_;
  const Report& report_;
  std::vector<double> grid_;
  int row_ = 0;
  double height_ = 0;  // that row_ needs so far
  double room_on_page_ = 0, used_ = 0,
         repeated_ = 0;             // points; repeated_: of the head that every page begins with
  int table_first_row_ = 0;         // of the last table's rows
  std::vector<int> table_columns_;  // where its columns begin
  std::optional<Filter> filter_;    // of a long table
  Page page_;
};

}  // namespace steelyard::reports::document
