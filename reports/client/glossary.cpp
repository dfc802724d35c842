// The sheet Glossary: the words of the region that the report is written in, and what they mean.
#include "reports/words/glossary.hpp"
#include "reports/client/content.hpp"

namespace steelyard::reports::client {

namespace {

std::string units_words(const ShownUnits& shown) {
  return std::string(shown.load == units::LoadUnit::pound ? "Loads are in pounds (lb)"
                                                          : "Loads are in kilograms (kg)") +
         (shown.length == units::LengthUnit::inch ? ", lengths in inches (in)."
                                                  : ", lengths in millimetres (mm).");
}

}  // namespace

SheetContent glossary_sheet(const Source& source) {
  const Region region = source.wording.region;
  SheetContent sheet{.name = "Glossary", .title = "The words of this report", .grid = {20, 25, 44, 20}};
  sheet.blocks.emplace_back(Paragraph{"Words: " + std::string(region_title(region)) + ". " +
                                          units_words(source.shown) +
                                          " The names in the last column are the same whatever the region.",
                                      Paragraph::Kind::note});
  Table table{.title = "Words and their meaning",
              .columns = {{"Word"}, {"Stands for"}, {"Meaning"}, {"Name in the data"}},
              .repeat_head = true};
  for (const GlossaryEntry& entry : glossary(region)) {
    table.rows.push_back(
        {{text(entry.term), text(entry.stands_for), text(entry.meaning), text(entry.canonical)}});
    table.rows.back().cells.front().bold = true;
  }
  sheet.blocks.emplace_back(std::move(table));
  return sheet;
}

}  // namespace steelyard::reports::client
