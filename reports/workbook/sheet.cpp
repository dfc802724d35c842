#include <algorithm>
#include <cmath>

#include "reports/workbook/state.hpp"
#include "reports/workbook/text.hpp"

namespace steelyard::reports {
namespace {

lxw_row_t row_of(int row) {
  if (row < 0 || row >= LXW_ROW_MAX) throw std::invalid_argument("a sheet has no row " + std::to_string(row));
  return static_cast<lxw_row_t>(row);
}

lxw_col_t column_of(int column) {
  if (column < 0 || column >= LXW_COL_MAX)
    throw std::invalid_argument("a sheet has no column " + std::to_string(column));
  return static_cast<lxw_col_t>(column);
}

/// A part of a header or footer: "&" begins a command there and is doubled to stand for itself.
std::string margin_text(std::string_view text) {
  std::string out;
  for (const char c : presentable(text, 60)) {
    if (c == '&') out += '&';
    out += c == '\n' ? ' ' : c;
  }
  // A digit after the font size would be read as part of it, hence the blank that the callers put before a
  // text.
  return out;
}

}  // namespace

const std::string& Sheet::name() const {
  return state_->name;
}

Growth Sheet::growth() const {
  return state_->book->growth;
}

void Sheet::column_width(int column, double characters) {
  const auto at = column_of(column);
  state_->book->check(worksheet_set_column(state_->sheet, at, at, characters, nullptr),
                      "setting a column's width");
}

void Sheet::column(int column, double characters, const Style& style) {
  const auto at = column_of(column);
  state_->book->check(
      worksheet_set_column(state_->sheet, at, at, characters, state_->book->format(style)),
      "setting a column's look");
}

void Sheet::row_height(int row, double points) {
  // 409.5 points is the most that a row may have.
  const double height = std::min(points, 409.5);
  state_->book->check(worksheet_set_row(state_->sheet, row_of(row), height, nullptr),
                      "setting a row's height");
  state_->took_row(row);
}

void Sheet::text(int row, int column, std::string_view text, const Style& style) {
  const std::string content = escape_hex_form(presentable(text));
  if (content.empty()) return blank(row, column, style);
  state_->book->check(worksheet_write_string(state_->sheet, row_of(row), column_of(column), content.c_str(),
                                             state_->book->format(style)),
                      "writing a text");
  state_->took(row, column);
}

void Sheet::number(int row, int column, double value, const Style& style) {
  if (!std::isfinite(value)) throw std::invalid_argument("a figure for a workbook is not finite");
  state_->book->check(worksheet_write_number(state_->sheet, row_of(row), column_of(column),
                                             value == 0 ? 0 : value, state_->book->format(style)),
                      "writing a figure");
  state_->took(row, column);
}

void Sheet::blank(int row, int column, const Style& style) {
  state_->book->check(
      worksheet_write_blank(state_->sheet, row_of(row), column_of(column), state_->book->format(style)),
      "writing an empty cell");
  state_->took(row, column);
}

void Sheet::merged(int row, int first, int last, std::string_view text, const Style& style, int last_row) {
  const int bottom = std::max(row, last_row);
  if (first == last && row == bottom) return this->text(row, first, text, style);
  state_->book->check(worksheet_merge_range(state_->sheet, row_of(row), column_of(first), row_of(bottom),
                                            column_of(last), nullptr, state_->book->format(style)),
                      "joining cells");
  for (int r = row; r <= bottom; ++r)
    for (int c = first; c <= last; ++c) state_->took(r, c);
  // Written apart: the library's own writing of a joined cell would cut the checks above short.
  if (!text.empty()) this->text(row, first, text, style);
}

void Sheet::page(const Page& page) {
  lxw_worksheet* sheet = state_->sheet;
  const auto check = [this](lxw_error error) { state_->book->check(error, "setting the page"); };
  worksheet_set_paper(sheet, page.paper == Paper::A4 ? 9 : 1);  // ECMA-376 part 1, 18.3.1.63
  if (page.landscape) worksheet_set_landscape(sheet);
  worksheet_set_margins(sheet, side_margin, side_margin, top_margin, bottom_margin);
  worksheet_fit_to_pages(sheet, 1, 0);
  worksheet_center_horizontally(sheet);
  if (!page.gridlines) worksheet_gridlines(sheet, LXW_HIDE_ALL_GRIDLINES);
  const std::string header =
      "&L&8 " + margin_text(page.header_left) + "&R&8 " + margin_text(page.header_right);
  const std::string footer = "&L&8 " + margin_text(page.footer_left) + "&C&8 " +
                             margin_text(page.footer_centre) + "&R&8 Page &P of &N";
  lxw_header_footer_options margin{};
  margin.margin = 0.35;
  check(worksheet_set_header_opt(sheet, header.c_str(), &margin));
  check(worksheet_set_footer_opt(sheet, footer.c_str(), &margin));
  if (page.repeat)
    check(worksheet_repeat_rows(sheet, row_of(page.repeat->first), row_of(page.repeat->second)));
  if (page.last_row >= 0)
    check(worksheet_print_area(sheet, 0, 0, row_of(page.last_row), column_of(page.last_column)));
  if (page.freeze_rows > 0) worksheet_freeze_panes(sheet, row_of(page.freeze_rows), 0);
  if (page.breaks.empty()) return;
  std::vector<lxw_row_t> breaks;
  for (const int row : page.breaks) breaks.push_back(row_of(row));
  breaks.push_back(0);  // ends the list
  check(worksheet_set_h_pagebreaks(sheet, breaks.data()));
}

void Sheet::filter(const Filter& filter) {
  state_->book->check(worksheet_autofilter(state_->sheet, row_of(filter.first_row), 0, row_of(filter.last_row),
                                           column_of(filter.last_column)),
                      "setting a filter");
}

void Sheet::hide() {
  worksheet_hide(state_->sheet);
}

}  // namespace steelyard::reports
