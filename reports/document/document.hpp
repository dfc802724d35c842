// A report as plain values: sheets of blocks, in the order in which they are read. Nothing here knows
// workbooks; any form of the report (workbook, page, text) is laid out from these values.
//
// Units: a Number's value is what a cell holds, already in the report's units; `unit` and `decimals` say only
// how it is shown. Column widths are in characters and are hints. Texts are as given: the form that shows
// them makes them fit to be shown.
#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <variant>
#include <vector>

#include "reports/words/drawing.hpp"
#include "reports/words/terms.hpp"

namespace steelyard::reports {

struct Number {
  enum class Kind { plain, share, probability };
  double value = 0;
  int decimals = 0;
  std::string unit = {};  // shown after the figure; empty where the column or a cell beside it says it
  Kind kind = Kind::plain;
  bool show_sign = false;      // a plus where it is above nothing: margins, differences
  bool plus_or_minus = false;  // shown as "± 10"
};

struct Cell {
  std::variant<std::monostate, std::string, Number> value;
  Tone tone = Tone::none;
  bool bold = false;
  bool struck = false;  // set aside: shown struck through
};

struct Column {
  std::string title;
  int span = 1;  // columns of the sheet's grid that it takes
  bool right = false;
};

struct TableRow {
  std::vector<Cell> cells = {};
};

struct Heading {
  std::string text;
};

struct Paragraph {
  enum class Kind { body, bullet, note, warning };
  std::string text;
  Kind kind = Kind::body;
};

struct Fact {
  std::string label, text;
};

/// Labels with their texts, in one or two columns.
struct Facts {
  std::vector<Fact> facts = {};
  bool two_columns = false;
};

struct Banner {
  Tone tone = Tone::unknown;
  std::string headline;
  std::vector<std::string> lines = {};
};

struct Table {
  std::string title;
  std::vector<Column> columns = {};
  std::vector<TableRow> rows = {};
  std::string when_empty = {};  // said in place of a table without rows
  bool repeat_head = false;     // its head is printed on every page that it goes on to
};

/// A table whose rows are made as they are written, one line high each, for as many rows as a sheet can have. It stands
/// last on its sheet.
struct LongTable {
  std::vector<Column> columns = {};
  std::size_t rows = 0;
  std::function<TableRow(std::size_t)> row = {};
  std::string when_empty = {};
};

/// Upright columns of counts or shares over rows of the last table before it.
struct Columns {
  std::string title;
  int first_row = 0, rows = 0, category_column = 0, value_column = 0;  // of the table
  bool shares = false;
  std::vector<Tone> tones = {};  // of each column; none: all alike
  std::string description = {};
};

/// Bars of ratios over the first rows of the last table before it.
struct Bars {
  std::string title;
  int rows = 0, category_column = 0, value_column = 0;  // columns of the table
  std::vector<Tone> tones = {};
  double minimum = 0, maximum = 1.25;  // of the ratios, and of the scale
  bool long_names = false;             // names that may need two lines beside their bar
  std::string description = {};
};

struct Picture {
  std::string title;
  Drawing drawing = {};
  std::string note;
};

struct Signature {
  std::string name;
};

using Block = std::variant<Heading, Paragraph, Facts, Banner, Table, LongTable, Columns, Bars, Picture, Signature>;

struct SheetContent {
  std::string name, title;
  std::string subtitle = {};  // empty where the sheet says itself whose report it is
  bool landscape = false;
  std::vector<double> grid;  // column widths
  std::vector<Block> blocks = {};
};

struct Report {
  std::string number;         // on every page
  std::string standing = {};  // beside it: "sealed, seal 3"; empty without a record
  std::string title, client, issued, engine;
  std::vector<SheetContent> sheets;
};

}  // namespace steelyard::reports
