#include <algorithm>

#include "reports/document/layout.hpp"
#include "reports/document/styles.hpp"
#include "reports/template/template.hpp"

namespace steelyard::reports {
namespace {

/// Rows that offer lists; a sheet of more readings is filled in by copying rows, lists and all.
constexpr int last_row = 5000;

Style head_style(const sheet::CsvColumn& column) {
  Style style;
  style.bold = true;
  style.ink = document::white;
  style.fill = column.needed ? document::ink : document::quiet;
  style.number_format = "@";
  return style;
}

Style cell_style(const sheet::CsvColumn& column) {
  Style style;
  if (column.type == sheet::CellType::number)
    style.align = Align::right;
  else
    style.number_format = "@";  // as typed: no date, no number, no formula is made of it
  return style;
}

/// Wide enough for the header and for what is usually written below it.
double width_of(const sheet::CsvColumn& column) {
  const double header = 1.15 * static_cast<double>(column.name.size()) + 2;
  double usual = column.type == sheet::CellType::text && column.words == sheet::CellWords::any ? 16 : 9;
  if (column.name == "session" || column.name.ends_with("_at") || column.name == "axle_places") usual = 26;
  for (const std::string& word : sheet::allowed_words(column.words))
    usual = std::max(usual, static_cast<double>(word.size()) + 2);
  return std::max(header, usual);
}

void lay_out_entry(Sheet& sheet, Sheet& lists, sheet::CsvKind kind, Paper paper, const std::string& engine) {
  const auto columns = sheet::csv_columns(kind);
  for (std::size_t i = 0; i < columns.size(); ++i) {
    const auto column = static_cast<int>(i);
    sheet.column(column, width_of(columns[i]), cell_style(columns[i]));
    sheet.text(0, column, columns[i].name, head_style(columns[i]));
    const auto words = sheet::allowed_words(columns[i].words);
    if (words.empty()) continue;
    const bool others = columns[i].words == sheet::CellWords::position || columns[i].words == sheet::CellWords::limit;
    sheet.choices(column, 1, last_row, {words, others}, lists);
  }
  Page page;
  page.paper = paper;
  page.landscape = true;
  page.gridlines = true;
  page.header_left = sheet.name();
  page.footer_left = "Steelyard " + engine;
  page.repeat = {0, 0};
  page.last_row = -1;
  page.freeze_rows = 1;
  sheet.page(page);
}

}  // namespace

void write_template(const std::filesystem::path& to, Paper paper, const std::string& engine) {
  Workbook book(to, {.title = "Weighings to be imported",
                     .subject = {},
                     .author = "Steelyard " + engine,
                     .comments = {},
                     .created = 0});
  Sheet instructions = book.add_sheet("Instructions");
  std::vector<Sheet> entries;
  for (const sheet::CsvKind kind : sheet::csv_kinds) entries.push_back(book.add_sheet(sheet_name(kind)));
  Sheet lists = book.add_sheet("Lists");  // what the cells' lists are taken from: hidden
  Report report;
  report.title = "Weighings to be imported";
  report.engine = engine;
  report.sheets.push_back(template_instructions());
  document::Layout(instructions, lists, report.sheets.front(), report).write(paper, false);
  for (std::size_t i = 0; i < entries.size(); ++i)
    lay_out_entry(entries[i], lists, sheet::csv_kinds[i], paper, engine);
  lists.hide();
  book.close();
}

std::string empty_csv(sheet::CsvKind kind) {
  std::string text = "\xEF\xBB\xBF";
  for (const sheet::CsvColumn& column : sheet::csv_columns(kind)) {
    if (text.size() > 3) text += ',';
    text += column.name;
  }
  return text + "\r\n";
}

}  // namespace steelyard::reports
