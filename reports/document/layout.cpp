#include "reports/document/layout.hpp"

#include <algorithm>
#include <numeric>

#include "reports/document/number_text.hpp"
#include "reports/document/styles.hpp"
#include "reports/document/text_size.hpp"

namespace steelyard::reports::document {
namespace {

constexpr double line_height = 1.24;  // of the text's size, in every program tried

double height_of(std::string_view text, const Style& style, double room) {
  const double indent = 9.0 * style.indent;
  return wrapped_lines(text, style.size, style.bold, room - indent) * style.size * line_height;
}

constexpr int title_height = 22;  // pixels, above a chart or picture in the same row
constexpr double gap_above_title = 5;

double titled_height(int pixels) {
  return (pixels + title_height) * 0.75 + 2 + gap_above_title;
}

/// A text beside a column of figures keeps away from it.
bool follows_figures(const std::vector<Column>& columns, std::size_t column) {
  return column > 0 && columns[column - 1].right && !columns[column].right;
}

/// The same beside a coloured column.
bool stands_apart(const Table& table, std::size_t column) {
  if (column == 0 || table.columns[column].right) return false;
  return follows_figures(table.columns, column) ||
         std::any_of(table.rows.begin(), table.rows.end(), [column](const TableRow& row) {
           return column - 1 < row.cells.size() && row.cells[column - 1].tone != Tone::none;
         });
}

}  // namespace

Layout::Layout(Sheet sheet, Sheet points, const SheetContent& content, const Report& report)
    : sheet_(sheet), points_(points), content_(content), report_(report), grid_(content.grid) {}

double Layout::width(int first, int last) const {
  return std::accumulate(grid_.begin() + first, grid_.begin() + last + 1, 0.0);
}

double Layout::width_in_pixels() const {
  return columns_in_pixels(width(0, last_column()), static_cast<int>(grid_.size()));
}

void Layout::across(int first, int last, std::string_view text, const Style& style) {
  sheet_.merged(row_, first, last, text, style);
  height_ = std::max(height_, height_of(text, style, room_for_text(width(first, last), last - first + 1)));
}

void Layout::next_row(double least_height, double above) {
  const double height = std::min(std::max(least_height, height_ + above), 409.0);
  keep_together(height);
  sheet_.row_height(row_, height);
  used_ += height;
  ++row_;
  height_ = 0;
}

void Layout::gap(double points) {
  next_row(points, 0);
}

/// Every page's end is set here, so that pages end alike in every program.
void Layout::keep_together(double points) {
  if (used_ == 0 || used_ + points <= room_on_page_) return;
  if (page_.breaks.empty() || page_.breaks.back() != row_) page_.breaks.push_back(row_);
  used_ = repeated_;
}

void Layout::measure_page(Paper paper) {
  constexpr double a4_short = 595.3, a4_long = 841.9, letter_short = 612, letter_long = 792;  // points
  const bool a4 = paper == Paper::A4;
  double across = a4 ? a4_short : letter_short, down = a4 ? a4_long : letter_long;
  if (content_.landscape) std::swap(across, down);
  const double scale = std::min(1.0, (across - 2 * side_margin * 72) / (width_in_pixels() * 0.75));
  room_on_page_ = (down - (top_margin + bottom_margin) * 72) / scale - 4;
}

/// Columns become wide enough for every figure: one that does not fit is shown as ###.
void Layout::fit_grid() {
  for (const Block& block : content_.blocks) {
    const auto* table = std::get_if<Table>(&block);
    if (!table) continue;
    for (const TableRow& row : table->rows) {
      std::size_t at = 0;
      for (std::size_t i = 0; i < row.cells.size();
           at += static_cast<std::size_t>(table->columns[i].span), ++i) {
        const auto* number = std::get_if<Number>(&row.cells[i].value);
        if (!number || table->columns[i].span > 1) continue;
        // Seven pixels a character; one and a half more characters for the cell's own margins.
        const double needed = text_width(shown_text(*number), 9, true) / 0.75 / 7 + 1.5;
        grid_[at] = std::min(255.0, std::max(grid_[at], needed));
      }
    }
  }
  for (int column = 0; column <= last_column(); ++column)
    sheet_.column_width(column, grid_[static_cast<std::size_t>(column)]);
}

void Layout::head() {
  across_all(content_.title, look::title());
  next_row(26);
  across_all(content_.subtitle, look::subtitle());
  next_row(content_.subtitle.empty() ? 3 : 14, content_.subtitle.empty() ? -9 : 3);
  gap(4);
}

void Layout::put(const Heading& heading) {
  keep_together(70);  // a heading never stands last on a page
  across_all(heading.text, look::heading());
  next_row(0, 8);
}

void Layout::put(const Paragraph& paragraph) {
  switch (paragraph.kind) {
    case Paragraph::Kind::bullet:
      across_all("•  " + paragraph.text, look::bullet());
      return next_row(0, 2);
    case Paragraph::Kind::note:
      across_all(paragraph.text, look::note());
      break;
    case Paragraph::Kind::warning:
      across_all("▲  " + paragraph.text, look::warning());
      return next_row(0, 7);
    case Paragraph::Kind::body:
      across_all(paragraph.text, look::body());
      break;
  }
  next_row();
}

void Layout::one_fact(const Fact& fact, int label_first, int text_first, int last) {
  across(label_first, text_first - 1, fact.label, look::label());
  across(text_first, last, fact.text, look::body());
}

void Layout::put(const Facts& facts) {
  const auto reach = [this](int first, double characters) {
    int column = first;
    for (double sum = 0; column < last_column() && sum < characters; ++column)
      sum += grid_[static_cast<std::size_t>(column)];
    return column;
  };
  if (!facts.two_columns) {
    const int text_first = reach(0, 22);
    for (const Fact& fact : facts.facts) {
      one_fact(fact, 0, text_first, last_column());
      next_row();
    }
    return gap(4);
  }
  const int half = reach(0, width(0, last_column()) * 0.46);
  for (std::size_t i = 0; i < facts.facts.size(); i += 2) {
    one_fact(facts.facts[i], 0, reach(0, 10), half - 1);
    if (i + 1 < facts.facts.size()) one_fact(facts.facts[i + 1], half, reach(half, 10), last_column());
    next_row();
  }
  gap(6);
}

void Layout::put(const Banner& banner) {
  across_all(std::string(sign_of(banner.tone)) + "   " + banner.headline, look::banner_headline(banner.tone));
  next_row(34, 8);
  for (const std::string& line : banner.lines) {
    across_all(line, look::banner_line(banner.tone));
    next_row(15, 2);
  }
  across_all("", look::banner_line(banner.tone));
  height_ = 0;
  gap(5);
  gap(5);
}

void Layout::place_columns(const std::vector<Column>& columns) {
  table_columns_.clear();
  int column = 0;
  for (const Column& one : columns) {
    table_columns_.push_back(column);
    column += one.span;
  }
}

void Layout::put_row(const Table& table, const TableRow& row) {
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    const int first = table_columns_[i], last = first + table.columns[i].span - 1;
    const Cell empty;
    const Cell& cell = i < row.cells.size() ? row.cells[i] : empty;
    const Style style = look::table_cell(cell, table.columns[i].right, stands_apart(table, i));
    if (const auto* number = std::get_if<Number>(&cell.value)) {
      sheet_.number(row_, first, number->value, style);
      height_ = std::max(height_, style.size * line_height);
    } else {
      const auto* text = std::get_if<std::string>(&cell.value);
      across(first, last, text ? *text : std::string(), style);
    }
  }
  next_row(0, 4);
}

void Layout::put(const Table& table) {
  keep_together(90);
  put(Heading{table.title});
  place_columns(table.columns);
  if (table.rows.empty()) {
    across_all(table.when_empty, look::body());
    return next_row();
  }
  if (table.repeat_head) {
    page_.repeat = {row_, row_};
    if (row_ <= 8) page_.freeze_rows = row_ + 1;
  }
  for (std::size_t i = 0; i < table.columns.size(); ++i)
    across(table_columns_[i], table_columns_[i] + table.columns[i].span - 1, table.columns[i].title,
           look::table_head(table.columns[i].right, stands_apart(table, i)));
  const double head = height_ + 3;
  next_row();
  if (table.repeat_head) repeated_ = head;
  table_first_row_ = row_;
  for (const TableRow& row : table.rows) put_row(table, row);
}

/// Programs break its pages themselves: a manual break a page would be too many for them.
void Layout::put(const LongTable& table) {
  place_columns(table.columns);
  if (table.rows == 0) {
    across_all(table.when_empty, look::body());
    return next_row();
  }
  for (std::size_t i = 0; i < table.columns.size(); ++i)
    across(table_columns_[i], table_columns_[i] + table.columns[i].span - 1, table.columns[i].title,
           look::table_head(table.columns[i].right, follows_figures(table.columns, i)));
  page_.repeat = {row_, row_};
  page_.freeze_rows = row_ + 1;
  filter_ = {.first_row = row_, .last_row = row_ + static_cast<int>(table.rows), .last_column = last_column()};
  next_row();
  for (std::size_t i = 0; i < table.rows; ++i) put_long_row(table, table.row(i));
}

void Layout::put_long_row(const LongTable& table, const TableRow& row) {
  for (std::size_t i = 0; i < table.columns.size() && i < row.cells.size(); ++i) {
    const Cell& cell = row.cells[i];
    Style style = look::table_cell(cell, table.columns[i].right, follows_figures(table.columns, i));
    style.wrap = false;
    if (const auto* number = std::get_if<Number>(&cell.value))
      sheet_.number(row_, table_columns_[i], number->value, style);
    else if (const auto* text = std::get_if<std::string>(&cell.value))
      sheet_.text(row_, table_columns_[i], *text, style);
  }
  ++row_;
}

void Layout::put(const Columns& columns) {
  ColumnChart chart{.first_row = table_first_row_ + columns.first_row,
                    .last_row = table_first_row_ + columns.first_row + columns.rows - 1,
                    .category_column = table_columns_[static_cast<std::size_t>(columns.category_column)],
                    .value_column = table_columns_[static_cast<std::size_t>(columns.value_column)],
                    .shares = columns.shares,
                    .colours = {},
                    .description = columns.description};
  for (int i = 0; i < columns.rows; ++i)
    chart.colours.push_back(columns.tones.empty() ? ink : solid_colour(columns.tones[static_cast<std::size_t>(i)]));
  titled_space(columns.title, 200, [&](const Box& box) { sheet_.chart(chart, box); });
}

void Layout::put(const Bars& bars) {
  BarChart chart{.first_row = table_first_row_,
                 .last_row = table_first_row_ + bars.rows - 1,
                 .category_column = table_columns_[static_cast<std::size_t>(bars.category_column)],
                 .value_column = table_columns_[static_cast<std::size_t>(bars.value_column)],
                 .colours = {},
                 .axis_maximum = bars.maximum,
                 .figures_inside = bars.minimum > 0.12,
                 .description = bars.description};
  for (const Tone tone : bars.tones) chart.colours.push_back(solid_colour(tone));
  const int height = 34 + (bars.long_names ? 21 : 18) * std::max(bars.rows, 2);
  titled_space(bars.title, height, [&](const Box& box) { sheet_.chart(chart, box); });
}

void Layout::put(const Picture& picture) {
  const Drawing& drawing = picture.drawing;
  const double height =
      width_in_pixels() * (drawing.high.y - drawing.low.y) / (drawing.high.x - drawing.low.x);
  const Style note = look::note();
  const double beneath =
      height_of(picture.note, note, room_for_text(width(0, last_column()), last_column() + 1)) + 3;
  const double full = std::clamp(height, 120.0, 480.0);
  // A picture that is a little too high for the page is drawn smaller rather than on the next one; not
  // smaller than its lines of text can stand.
  constexpr double least = 0.84;
  const double room = (room_on_page_ - used_ - beneath - titled_height(0)) / 0.75;
  const double share = room >= least * full ? std::min(1.0, room / full) : 1.0;
  const auto pixels = static_cast<int>(share * full);
  keep_together(titled_height(pixels) + beneath);
  titled_space(picture.title, pixels, [&](Box box) {
    box.x_offset = static_cast<int>((1 - share) / 2 * box.width);
    box.width = static_cast<int>(share * box.width);
    sheet_.drawing(drawing, box, points_);
  });
  put(Paragraph{picture.note, Paragraph::Kind::note});
}

void Layout::titled_space(std::string_view title, int height, const std::function<void(const Box&)>& draw) {
  Style style = look::heading();
  style.upright = Upright::top;
  const double row_height = titled_height(height) - gap_above_title;
  keep_together(titled_height(height));
  gap(gap_above_title);
  across_all(title, style);
  if (sheet_.growth() == Growth::row_by_row) return space_of_rows(height, draw);
  draw({.row = row_,
        .column = 0,
        .y_offset = title_height,
        .width = static_cast<int>(width_in_pixels()),
        .height = height});
  height_ = 0;
  next_row(row_height);
}

/// The same where the library knows standard rows alone: the title's row, and as many of them as the picture is high.
void Layout::space_of_rows(int height, const std::function<void(const Box&)>& draw) {
  next_row(title_height * 0.75);
  const int rows = (height + standard_row - 1) / standard_row;
  draw({.row = row_, .column = 0, .y_offset = 0, .width = static_cast<int>(width_in_pixels()), .height = height});
  for (int i = 0; i < rows; ++i) {
    sheet_.row_height(row_, standard_row * 0.75);
    used_ += standard_row * 0.75;
    ++row_;
  }
  height_ = 0;
}

void Layout::put(const Signature& signature) {
  keep_together(74);
  gap(8);
  // Three lines side by side: a sheet that is signed has six columns or more.
  const int columns = last_column();
  const auto three = [&](std::string_view name, std::string_view sign, std::string_view date,
                         const Style& style) {
    across(0, 0, name, style);
    across(2, columns - 2, sign, style);
    across(columns, columns, date, style);
  };
  three(signature.name, "", "", look::signature_line());
  next_row(30);
  three("Weighed and authorised by", "Signature", "Date", look::note());
  next_row();
}

void Layout::write(Paper paper, bool last_sheet) {
  fit_grid();
  measure_page(paper);
  head();
  for (const Block& block : content_.blocks) std::visit([this](const auto& one) { put(one); }, block);
  if (last_sheet) {
    gap(6);
    across_all("— End of report " + report_.number + " —", look::end_mark());
    next_row();
  }
  page_.paper = paper;
  page_.landscape = content_.landscape;
  page_.header_left = report_.title + ": " + content_.name;
  if (!report_.number.empty())
    page_.header_right = "Report " + report_.number + (report_.standing.empty() ? "" : " · " + report_.standing);
  page_.footer_left = "Steelyard " + report_.engine;
  if (!report_.issued.empty()) page_.footer_centre = "Issued " + report_.issued;
  page_.last_row = row_ - 1;
  page_.last_column = last_column();
  if (filter_) sheet_.filter(*filter_);
  sheet_.page(page_);
}

}  // namespace steelyard::reports::document
