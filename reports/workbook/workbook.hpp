// Workbooks (.xlsx): the one place that knows libxlsxwriter.
//
// The library accepts what spreadsheet programs refuse and reports success on a full disk (see readback.hpp).
// Here every figure is checked to be finite, every text made presentable (text.hpp) and kept a text, so that
// "=1+1" in a name is never a formula; every return code is looked at. close() writes under a temporary name
// beside the output, with the library's own temporary files there too, reads the file back, has the disk keep
// it (fsync) and then renames it: at every moment the output is the old file, none, or the whole new one. The
// creation time is the caller's, so the same input gives the same bytes. Units: column widths in characters
// of the standard font, row heights and text sizes in points, places in pixels (1/96 in), colours 0xRRGGBB.
// Rows and columns count from 0. The library writes figures to 16 significant digits, so a cell may differ
// from its double in the last bit; spreadsheet programs themselves show 15. Errors: WorkbookRefused, whose
// message names the file and says what to do. std::invalid_argument for a figure that is not finite: a fault
// of the caller.
#pragma once

#include <compare>
#include <cstdint>
#include <ctime>
#include <filesystem>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "reports/words/drawing.hpp"

namespace steelyard::reports {

class WorkbookRefused : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

enum class Paper { A4, Letter };
enum class Align { left, right, centre };
enum class Upright { top, middle, bottom };
enum class Rule { none, hair, thin, medium };

/// How a cell looks. Cells of equal style share one format of the file.
struct Style {
  double size = 10;
  bool bold = false, italic = false, struck = false, wrap = false;
  Align align = Align::left;
  Upright upright = Upright::top;
  int indent = 0;
  std::uint32_t ink = 0x000000;
  std::optional<std::uint32_t> fill;
  Rule above = Rule::none, below = Rule::none;
  std::uint32_t rule_colour = 0x808080;
  std::string number_format;  // of the file format (ECMA-376 part 1, 18.8.30); empty: general

  auto operator<=>(const Style&) const = default;
};

inline constexpr double side_margin = 0.6, top_margin = 0.7, bottom_margin = 0.65;  // of every page, inches

struct Page {
  Paper paper = Paper::A4;
  bool landscape = false;
  std::string header_left, header_right, footer_left, footer_centre;  // the footer's right is "Page n of N"
  std::optional<std::pair<int, int>> repeat;  // rows printed at the head of every page
  std::vector<int> breaks;                    // a page ends before each of these rows
  int last_row = 0, last_column = 0;          // the print area begins at 0, 0; last_row -1: all there is
  bool gridlines = false;                     // for a sheet to be filled in
  int freeze_rows = 0;                        // rows that stay in sight when scrolling
};

/// Where a chart or a picture stands: the corner's cell, offsets within it, size in pixels.
struct Box {
  int row = 0, column = 0;
  int x_offset = 0, y_offset = 0;
  int width = 480, height = 288;
};

/// Horizontal bars, first row on top, from cells of the same sheet; ratios, 1 is where the strong line
/// stands.
struct BarChart {
  int first_row = 0, last_row = 0, category_column = 0, value_column = 0;
  std::vector<std::uint32_t> colours;  // of each bar
  double axis_maximum = 1.25;
  bool figures_inside = true;  // white at the bars' ends, where the strong line cannot cross them
  std::string description;
};

/// Upright columns, the first row leftmost, from cells of the same sheet; their figures above them.
struct ColumnChart {
  int first_row = 0, last_row = 0, category_column = 0, value_column = 0;
  bool shares = false;  // shown in per cent
  std::vector<std::uint32_t> colours;  // of each column
  std::string description;
};

/// Rows that a reader can sort out by their columns' words; the first is the head.
struct Filter {
  int first_row = 0, last_row = 0, last_column = 0;
};

/// The words that a list in a cell offers.
struct Choices {
  std::vector<std::string> words;
  bool others = false;  // another word is asked about and may stay; otherwise it is refused
};

/// How a workbook is written: kept whole until close(), or each sheet's rows put on the disk as soon as the next row begins,
/// for workbooks of millions of cells. Then a row can be written to only until the next one begins; cells that are
/// written earlier are lost, which close() notices. Charts must stand over rows of the standard height (standard_row
/// pixels), as the library does not remember any other height.
enum class Growth { whole, row_by_row };
inline constexpr int standard_row = 20;

class Workbook;

/// A sheet of an open workbook; valid until close().
class Sheet {
 public:
  [[nodiscard]] const std::string& name() const;
  [[nodiscard]] Growth growth() const;
  void column_width(int column, double characters);
  /// Empty cells of the column look like `style`, and keep it when they are filled in.
  void column(int column, double characters, const Style& style);
  void row_height(int row, double points);
  void text(int row, int column, std::string_view text, const Style& style);
  void number(int row, int column, double value, const Style& style);
  void blank(int row, int column, const Style& style);
  /// One text over columns first to last of a row (and of the rows down to `last_row`, where given).
  void merged(int row, int first, int last, std::string_view text, const Style& style, int last_row = -1);
  void page(const Page& page);
  void chart(const BarChart& chart, const Box& box);
  void chart(const ColumnChart& chart, const Box& box);
  void filter(const Filter& filter);
  /// Cells of a column that offer a list. One too long for the file format stands on `lists`, a sheet that holds nothing
  /// else; it takes a column there.
  void choices(int column, int first_row, int last_row, const Choices& choices, Sheet& lists);
  /// The drawing as a chart of lines, sharp at any size; its points go to `points`, a sheet that holds
  /// nothing else.
  void drawing(const Drawing& drawing, const Box& box, Sheet& points);
  void hide();

  struct State;

 private:
  friend class Workbook;
  explicit Sheet(State* state) : state_(state) {}
  State* state_;
};

struct Properties {
  std::string title, subject, author, comments;
  std::time_t created = 0;  // 0 is the epoch of the file format's calendar here, 1 January 2000
};

class Workbook {
 public:
  /// Refuses a folder that is not there or cannot be written.
  Workbook(std::filesystem::path to, const Properties& properties, Growth growth = Growth::whole);
  Workbook(const Workbook&) = delete;
  Workbook& operator=(const Workbook&) = delete;
  ~Workbook();  // without close(): nothing is left behind

  /// `name`: 1 to 31 characters, unlike any other (std::invalid_argument otherwise).
  Sheet add_sheet(std::string_view name);
  /// Writes, reads back, renames. A file of that name is replaced.
  void close();

  struct State;

 private:
  std::unique_ptr<State> state_;
};

/// Seconds since 1970 of midnight UTC of a date YYYY-MM-DD (longer texts: their first ten characters);
/// nothing where it is none.
std::optional<std::time_t> midnight_of(std::string_view date);

}  // namespace steelyard::reports
