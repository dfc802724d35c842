// Every session, one a row.
#include "reports/fleet/content.hpp"
#include "reports/words/terms.hpp"

namespace steelyard::reports::fleet {
namespace {

using reconcile::Measure;

Cell load_cell(const Source& source, const std::optional<audit::Figure>& figure_found) {
  if (!figure_found) return {};
  return with_unit(figure(figure_found->value, figure_found->u, Measure::kilogram, source.options.units), Measure::kilogram,
                   source.options.units);
}

std::string doubt_words(const audit::Entry& entry) {
  if (!entry.not_solved.empty()) return "no solution";
  std::string words = entry.suspect ? "reading" : "";
  if (!entry.scales_out_of_date.empty()) words += words.empty() ? "scale" : ", scale";
  if (!entry.consistent) words += words.empty() ? "not checked" : ", not checked";
  return words;
}

TableRow register_row(const Source& source, std::size_t number) {
  const audit::Entry& entry = source.entry(number);
  TableRow row;
  row.cells.reserve(16);
  row.cells = {text(std::string(entry.day)), text(known(entry.client)), text(clipped(entry.place, 60)),
               text(clipped(entry.tow, 60)), text(clipped(entry.trailer, 60)), text(outcome_in_words(entry.outcome))};
  row.cells.back().tone = tone_of(entry.outcome);
  if (entry.nearest) {
    const audit::Rated& rated = entry.ratings[*entry.nearest];
    row.cells.push_back(text(rated_words(rated.of, rated.part, source.options.words)));
    row.cells.push_back(value_cell(source, rated));
    row.cells.push_back(rating_cell(source, rated));
    row.cells.push_back(used_cell(rated));
  } else {
    row.cells.resize(10);
  }
  row.cells.push_back(load_cell(source, entry.coupling_load));
  row.cells.push_back(entry.coupling_share ? figure(entry.coupling_share->value, entry.coupling_share->u, Measure::one,
                                                    source.options.units, true)
                                           : Cell{});
  row.cells.push_back(load_cell(source, entry.combination_mass ? entry.combination_mass : entry.tow_mass));
  row.cells.push_back(text(doubt_words(entry)));
  row.cells.push_back(text(clipped(entry.technician, 40)));
  row.cells.push_back(
      text(std::string(entry.id) + (entry.revision > 1 ? "@" + std::to_string(entry.revision) : std::string())));
  return row;
}

}  // namespace

std::vector<SheetContent> register_sheets(const Source& source) {
  SheetContent sheet{.name = "Register",
                     .title = "Every weighing",
                     .landscape = true,
                     .grid = {10, 22, 20, 24, 22, 24, 28, 10, 10, 8, 10, 8, 10, 14, 16, 22}};
  LongTable table{.columns = {{"Weighed"},
                              {"Client"},
                              {"Place"},
                              {"Tow vehicle"},
                              {"Trailer"},
                              {"Outcome"},
                              {"Nearest rating"},
                              {"On the rig", 1, true},
                              {"Rated", 1, true},
                              {"Used", 1, true},
                              {"Coupling", 1, true},
                              {"Share", 1, true},
                              {"Whole rig", 1, true},
                              {"Doubt"},
                              {"Technician"},
                              {"Session"}},
                  .rows = source.entries().size(),
                  .row = [source](std::size_t i) { return register_row(source, i); },
                  .when_empty = "No session passes the filter."};
  return long_sheets(source, std::move(sheet), std::move(table));
}

}  // namespace steelyard::reports::fleet
