#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "reports/workbook/state.hpp"
#include "reports/workbook/text.hpp"

namespace steelyard::reports {
namespace {

lxw_color_t colour_of(std::uint32_t rgb) {
  return rgb == 0 ? static_cast<lxw_color_t>(LXW_COLOR_BLACK) : rgb;
}

lxw_chart_font font_of(double size, std::uint32_t colour, bool bold) {
  static char name[] = "Arial";
  lxw_chart_font font{};
  font.name = name;
  font.size = size;
  // The library draws chart fonts bold unless told otherwise.
  font.bold = bold ? LXW_TRUE : LXW_EXPLICIT_FALSE;
  font.color = colour_of(colour);
  return font;
}

lxw_chart_line line_of(double width, std::uint32_t colour, bool dashed = false) {
  lxw_chart_line line{};
  line.color = colour_of(colour);
  line.width = static_cast<float>(width);
  line.dash_type = dashed ? LXW_CHART_LINE_DASH_DASH : LXW_CHART_LINE_DASH_SOLID;
  return line;
}

lxw_chart_line no_line() {
  lxw_chart_line line{};
  line.none = LXW_TRUE;
  return line;
}

lxw_chart_fill fill_of(std::uint32_t colour) {
  lxw_chart_fill fill{};
  fill.color = colour_of(colour);
  return fill;
}

void place(Workbook::State& book, lxw_worksheet* sheet, lxw_chart* chart, const Box& box,
           std::string description) {
  lxw_chart_options options{};
  options.x_offset = box.x_offset;
  options.y_offset = box.y_offset;
  options.x_scale = box.width / 480.0;  // the library's standard chart is 480 by 288 pixels
  options.y_scale = box.height / 288.0;
  options.object_position = LXW_OBJECT_MOVE_DONT_SIZE;
  description = presentable(description, 2000);
  options.description = description.data();
  book.check(worksheet_insert_chart_opt(sheet, static_cast<lxw_row_t>(box.row),
                                        static_cast<lxw_col_t>(box.column), chart, &options),
             "placing a chart");
}

/// The series of a drawing, one after another, with their points on a sheet of their own.
class Strokes {
 public:
  Strokes(Workbook::State& book, lxw_chart* chart, Sheet& points, int first_row)
      : book_(book), chart_(chart), points_(points), row_(first_row) {}

  lxw_chart_series* add(const std::vector<Point>& points) {
    lxw_chart_series* series = chart_add_series(chart_, nullptr, nullptr);
    if (!series) book_.refuse("out of memory");
    const Style plain;
    const int first = row_;
    for (const Point& point : points) {
      points_.number(row_, 0, point.x, plain);
      points_.number(row_, 1, point.y, plain);
      ++row_;
    }
    const auto from = static_cast<lxw_row_t>(first), to = static_cast<lxw_row_t>(row_ - 1);
    chart_series_set_categories(series, points_.name().c_str(), from, 0, to, 0);
    chart_series_set_values(series, points_.name().c_str(), from, 1, to, 1);
    chart_series_set_marker_type(series, LXW_CHART_MARKER_NONE);
    return series;
  }

  [[nodiscard]] int next_row() const { return row_; }

 private:
  Workbook::State& book_;
  lxw_chart* chart_;
  Sheet& points_;
  int row_;
};

void add_stroke(Strokes& strokes, const Stroke& stroke) {
  lxw_chart_line line = line_of(stroke.width, stroke.colour, stroke.dashed);
  chart_series_set_line(strokes.add(stroke.points), &line);
}

/// A label is a series of one unseen point with a text of its own in place of its figure.
void add_label(Workbook::State& book, Strokes& strokes, const Label& label) {
  lxw_chart_series* series = strokes.add({label.at});
  lxw_chart_line none = no_line();
  lxw_chart_font font = font_of(label.size, label.colour, label.bold);
  chart_series_set_line(series, &none);
  std::string text = chart_text(label.text);
  lxw_chart_data_label shown{};
  shown.value = text.data();
  shown.font = &font;
  lxw_chart_data_label* list[] = {&shown, nullptr};
  chart_series_set_labels(series);
  book.check(chart_series_set_labels_custom(series, list), "labelling a picture");
  chart_series_set_labels_position(series, LXW_CHART_LABEL_POSITION_CENTER);
  chart_series_set_labels_font(series, &font);
}

void bare(lxw_chart* chart, lxw_chart_axis_type type, double low, double high) {
  lxw_chart_axis* axis = chart_axis_get(chart, type);
  chart_axis_set_min(axis, low);
  chart_axis_set_max(axis, high);
  chart_axis_major_gridlines_set_visible(axis, LXW_FALSE);
  chart_axis_off(axis);
}

void frame_off(lxw_chart* chart) {
  lxw_chart_line none = no_line();
  chart_chartarea_set_line(chart, &none);
  chart_plotarea_set_line(chart, &none);
  chart_title_off(chart);
  chart_legend_set_position(chart, LXW_CHART_LEGEND_NONE);
}

void style_bars(lxw_chart_series* series, const std::vector<std::uint32_t>& colours) {
  std::vector<lxw_chart_fill> fills;
  for (const auto colour : colours) fills.push_back(fill_of(colour));
  std::vector<lxw_chart_point> points(fills.size());
  for (std::size_t i = 0; i < fills.size(); ++i) points[i].fill = &fills[i];
  std::vector<lxw_chart_point*> list;
  for (auto& point : points) list.push_back(&point);
  list.push_back(nullptr);
  chart_series_set_points(series, list.data());
}

/// A chart of one series of bars or columns from the sheet's own cells; `Chart` says which rows and columns.
template <class Chart>
std::pair<lxw_chart*, lxw_chart_series*> bars_of(Workbook::State& book, const std::string& sheet, lxw_chart_type type,
                                                 const Chart& what, int gap) {
  lxw_chart* chart = workbook_add_chart(book.book, static_cast<std::uint8_t>(type));
  lxw_chart_series* series = chart ? chart_add_series(chart, nullptr, nullptr) : nullptr;
  if (!series) book.refuse("out of memory");
  const auto first = static_cast<lxw_row_t>(what.first_row), last = static_cast<lxw_row_t>(what.last_row);
  const auto category = static_cast<lxw_col_t>(what.category_column);
  const auto value = static_cast<lxw_col_t>(what.value_column);
  chart_series_set_categories(series, sheet.c_str(), first, category, last, category);
  chart_series_set_values(series, sheet.c_str(), first, value, last, value);
  chart_set_series_gap(chart, static_cast<std::uint16_t>(gap));
  style_bars(series, what.colours);
  chart_series_set_labels(series);
  frame_off(chart);
  return {chart, series};
}

/// The axis with the names: small, a thin line, no ticks.
void style_names(lxw_chart_axis* axis) {
  lxw_chart_font small = font_of(8, 0x22313A, false);
  lxw_chart_line line = line_of(0.75, 0x9AA5AB);
  chart_axis_set_num_font(axis, &small);
  chart_axis_set_line(axis, &line);
  chart_axis_set_major_tick_mark(axis, LXW_CHART_AXIS_TICK_MARK_NONE);
}

}  // namespace

std::string chart_text(std::string_view text) {
  std::string out = presentable(text, 250);
  if (out.starts_with('=')) out.insert(0, 1, ' ');
  return out;
}

void Sheet::chart(const BarChart& bars, const Box& box) {
  Workbook::State& book = *state_->book;
  const auto [chart, series] = bars_of(book, state_->name, LXW_CHART_BAR, bars, 45);
  lxw_chart_font small = font_of(8, 0x22313A, false), bold = font_of(8, 0x22313A, true),
                 inside = font_of(8, 0xFFFFFF, true);
  chart_series_set_labels_num_format(series, "0.0\"\u00A0\"%");
  chart_series_set_labels_font(series, bars.figures_inside ? &inside : &bold);
  if (bars.figures_inside) chart_series_set_labels_position(series, LXW_CHART_LABEL_POSITION_INSIDE_END);

  // The library swaps a bar chart's axes: its X is the one along the bars.
  lxw_chart_axis* values = chart_axis_get(chart, LXW_CHART_AXIS_TYPE_X);
  lxw_chart_axis* categories = chart_axis_get(chart, LXW_CHART_AXIS_TYPE_Y);
  lxw_chart_line strong = line_of(2, 0x22313A), faint = line_of(0.5, 0xD9DEE1);
  style_names(categories);
  chart_axis_set_reverse(categories);
  chart_axis_set_interval_unit(categories, 1);  // every bar has its name
  chart_axis_set_min(values, 0);
  chart_axis_set_max(values, bars.axis_maximum);
  chart_axis_set_num_format(values, "0%");
  chart_axis_set_num_font(values, &small);
  // The unit is the rating, so the only strong lines are at nothing and at the rating itself.
  chart_axis_set_major_unit(values, 1);
  chart_axis_set_minor_unit(values, 0.25);
  chart_axis_major_gridlines_set_visible(values, LXW_TRUE);
  chart_axis_major_gridlines_set_line(values, &strong);
  chart_axis_minor_gridlines_set_visible(values, LXW_TRUE);
  chart_axis_minor_gridlines_set_line(values, &faint);
  place(book, state_->sheet, chart, box, bars.description);
}

void Sheet::chart(const ColumnChart& columns, const Box& box) {
  Workbook::State& book = *state_->book;
  const auto [chart, series] = bars_of(book, state_->name, LXW_CHART_COLUMN, columns, 35);
  lxw_chart_font small = font_of(8, 0x22313A, false);
  chart_series_set_labels_num_format(series, columns.shares ? "0%;;" : "#,##0;;");  // none over an empty column
  chart_series_set_labels_font(series, &small);
  style_names(chart_axis_get(chart, LXW_CHART_AXIS_TYPE_X));
  lxw_chart_axis* values = chart_axis_get(chart, LXW_CHART_AXIS_TYPE_Y);
  lxw_chart_line faint = line_of(0.5, 0xD9DEE1), none = no_line();
  chart_axis_set_min(values, 0);
  chart_axis_set_num_format(values, columns.shares ? "0%" : "#,##0");
  chart_axis_set_num_font(values, &small);
  chart_axis_set_line(values, &none);
  chart_axis_major_gridlines_set_visible(values, LXW_TRUE);
  chart_axis_major_gridlines_set_line(values, &faint);
  place(book, state_->sheet, chart, box, columns.description);
}

void Sheet::drawing(const Drawing& drawing, const Box& box, Sheet& points) {
  Workbook::State& book = *state_->book;
  lxw_chart* chart = workbook_add_chart(book.book, LXW_CHART_SCATTER_STRAIGHT);
  if (!chart) book.refuse("out of memory");
  Strokes strokes(book, chart, points, points.state_->points_used);
  for (const Stroke& stroke : drawing.strokes) add_stroke(strokes, stroke);
  for (const Label& label : drawing.labels) add_label(book, strokes, label);
  points.state_->points_used = strokes.next_row();
  bare(chart, LXW_CHART_AXIS_TYPE_X, drawing.low.x, drawing.high.x);
  bare(chart, LXW_CHART_AXIS_TYPE_Y, drawing.low.y, drawing.high.y);
  frame_off(chart);
  chart_show_hidden_data(chart);  // the points' sheet is hidden
  place(book, state_->sheet, chart, box, drawing.description);
}

}  // namespace steelyard::reports
