#include "reports/document/cells.hpp"
#include "reports/template/template.hpp"

namespace steelyard::reports {
namespace {

constexpr int grid_columns = 14;
constexpr double grid_width = 9;

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : ", ") + word;
  return text;
}

/// What a cell may hold besides what its meaning says.
std::string allowed(const sheet::CsvColumn& column) {
  switch (column.words) {
    case sheet::CellWords::any:
      return {};
    case sheet::CellWords::position:
      return " tow.1.left is a wheel end of axle 1, tow.1 the whole axle, tow the whole vehicle, the same with trailer; "
             "coupling or jockey is what the nose stands on. The cell's list has the usual ones.";
    case sheet::CellWords::limit:
      return " The cell's list has them; axles beyond can be typed.";
    default:
      return " One of: " + joined(sheet::allowed_words(column.words)) + ".";
  }
}

Table columns_table(sheet::CsvKind kind) {
  Table table;
  table.title = "Sheet " + sheet_name(kind);
  table.columns = {{"Column", 3}, {"Meaning", 9}, {"Unit", 2}};
  for (const sheet::CsvColumn& column : sheet::csv_columns(kind)) {
    std::string meaning(column.meaning);
    meaning[0] = static_cast<char>(meaning[0] >= 'a' && meaning[0] <= 'z' ? meaning[0] - 'a' + 'A' : meaning[0]);
    if (!meaning.ends_with("…") && !meaning.ends_with(", or")) meaning += '.';
    Cell name = text(std::string(column.name) + (column.needed ? " *" : ""));
    name.bold = column.needed;
    table.rows.push_back(
        {{std::move(name), text(meaning + allowed(column)), text(std::string(column.unit))}});
  }
  return table;
}

Table example_table(sheet::CsvKind kind) {
  const TemplateExample example = template_example(kind);
  Table table;
  table.title = "Example: " + sheet_name(kind);
  for (const std::string& name : example.columns) table.columns.push_back({name, 2});
  for (const auto& row : example.rows) {
    TableRow cells;
    for (const std::string& one : row) cells.cells.push_back(text(one));
    table.rows.push_back(std::move(cells));
  }
  return table;
}

std::vector<Block> steps() {
  std::vector<Block> blocks;
  blocks.push_back(Heading{"How to fill it in"});
  for (const char* step :
       {"1.  Fill in the sheets from the first row below the header, one thing a row. Columns with * are needed; leave "
        "empty what you do not know, and leave out sheets Scales and Limits where there is nothing to say. Columns may "
        "be moved or removed; their names in the first row must stay. Columns of your own may begin with x-.",
        "2.  Names join the rows: a session's tow_vehicle and trailer are names of sheet Vehicles, a reading's session "
        "is one of sheet Sessions, its scale an id of sheet Scales. Write a name the same way everywhere.",
        "3.  Save each sheet as \"CSV UTF-8\" in a file of its own, under any name. Commas, semicolons or tabs between "
        "the cells are all understood, and decimal commas where the cells are not parted by commas. Write no mark "
        "between thousands.",
        "4.  Import all files in one command, in any order:  steelyard import sessions.csv vehicles.csv scales.csv "
        "limits.csv readings.csv",
        "5.  Every fault is told with its file, row and column, such as \"readings.csv, row 14, column G (load): must be "
        "0 or more, is -12\". While there is one, nothing is stored. Mend them in the spreadsheet, save and import "
        "again. A session that is stored already is recognised and not doubled."})
    blocks.push_back(Paragraph{step});
  blocks.push_back(Heading{"What the sheets hold"});
  for (const sheet::CsvKind kind : sheet::csv_kinds)
    blocks.push_back(Paragraph{sheet_name(kind) + ". " + std::string(sheet::csv_purpose(kind)),
                               Paragraph::Kind::bullet});
  blocks.push_back(Paragraph{
      "u stands for a standard uncertainty: a column ending in _u says how well the figure beside it is known. Units: "
      "\"unit\" is the one in the row's own column unit, \"unit_length\" that of the row or of the session. Dates are "
      "written 2026-10-03, times 2026-10-03T08:40+02:00 with the offset to UTC. No cell is worked out: a formula's text "
      "is kept as text. What a file cannot carry: modifications, check weights, revisions; the JSON sheet does.",
      Paragraph::Kind::note});
  return blocks;
}

}  // namespace

std::string sheet_name(sheet::CsvKind kind) {
  std::string name(sheet::csv_name(kind));
  name[0] = static_cast<char>(name[0] - 'a' + 'A');
  return name;
}

SheetContent template_instructions() {
  SheetContent content;
  content.name = "Instructions";
  content.title = "Weighings to be imported";
  content.subtitle = "Sessions, vehicles, scales, limits and readings in a spreadsheet";
  content.grid.assign(grid_columns, grid_width);
  content.blocks = steps();
  for (const sheet::CsvKind kind : sheet::csv_kinds) content.blocks.push_back(example_table(kind));
  for (const sheet::CsvKind kind : sheet::csv_kinds) content.blocks.push_back(columns_table(kind));
  return content;
}

}  // namespace steelyard::reports
