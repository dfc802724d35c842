// What is outside a rating, worst first, and who is again and again.
#include <map>

#include "reports/fleet/content.hpp"
#include "reports/words/terms.hpp"

namespace steelyard::reports::fleet {
namespace {

/// By how much: over, or short of a minimum.
Cell beyond_cell(const Source& source, const audit::Rated& rated) {
  const double u = rated.u.value_or(0);
  const double beyond = rated.minimum ? *rated.rating - *rated.value : *rated.value - *rated.rating;
  const bool share = rated.measure == reconcile::Measure::one;
  Cell cell = with_unit(figure(beyond, u, rated.measure, source.options.units, share), rated.measure, source.options.units);
  if (auto* number = std::get_if<Number>(&cell.value)) number->show_sign = true;
  return cell;
}

TableRow breach_row(const Source& source, std::size_t number) {
  const audit::Breach& breach = source.breaches()[number];
  const audit::Entry& entry = source.entry(breach.entry);
  const audit::Rated& rated = entry.ratings[breach.rating];
  TableRow row;
  row.cells = {text(std::string(entry.day)),
               text(known(entry.client)),
               text(rig_words(entry)),
               text(rated_words(rated.of, rated.part, source.options.words)),
               value_cell(source, rated),
               rating_cell(source, rated),
               beyond_cell(source, rated),
               used_cell(rated),
               text(breach.band ? clipped(breach.band->name, 40) : std::string()),
               text(outcome_words(rated.outcome, rated.minimum)),
               text(rated.suspect ? "a reading behind it does not fit" : ""),
               text(std::string(entry.id))};
  row.cells[9].tone = tone_of(rated.outcome);
  return row;
}

Table bands_table(const Source& source) {
  Table table{.title = "By band", .columns = {{"Band", 3}, {"Breaches", 1, true}, {"Sessions", 1, true}}};
  struct Count {
    std::size_t breaches = 0, sessions = 0;
  };
  std::map<const assess::OverloadBand*, Count> counts;
  std::map<std::pair<const assess::OverloadBand*, std::size_t>, bool> seen;
  for (const audit::Breach& breach : source.breaches()) {
    Count& count = counts[breach.band];
    ++count.breaches;
    if (seen.emplace(std::pair{breach.band, breach.entry}, true).second) ++count.sessions;
  }
  for (const assess::OverloadBand& band : source.subject.bands.bands) {
    const Count& count = counts[&band];
    table.rows.push_back({{text(clipped(band.name, 60)), reports::count(count.breaches), reports::count(count.sessions)}});
  }
  if (const auto other = counts.find(nullptr); other != counts.end())
    table.rows.push_back({{text("in no band: below the first one, or no load with an upper rating"),
                           reports::count(other->second.breaches), reports::count(other->second.sessions)}});
  return table;
}

}  // namespace

std::vector<SheetContent> breaches(const Source& source) {
  SheetContent sheet{.name = "Breaches",
                     .title = "Outside a rating, worst first",
                     .landscape = true,
                     .grid = {10, 22, 34, 30, 11, 11, 10, 8, 13, 26, 24, 22}};
  sheet.blocks.emplace_back(Paragraph{
      "Every rating that a rig is outside of in the state it travels in. A load that reads over by less than its uncertainty "
      "is marked so: treat it as over, and weigh again to be sure.",
      Paragraph::Kind::body});
  if (!source.subject.bands.bands.empty() && !source.breaches().empty()) sheet.blocks.emplace_back(bands_table(source));
  sheet.blocks.emplace_back(Heading{"Each of them"});
  LongTable table{.columns = {{"Weighed"},
                              {"Client"},
                              {"Rig"},
                              {"Rating"},
                              {"On the rig", 1, true},
                              {"Rated", 1, true},
                              {"Beyond", 1, true},
                              {"Used", 1, true},
                              {"Band"},
                              {"Outcome"},
                              {"Doubt"},
                              {"Session"}},
                  .rows = source.breaches().size(),
                  .row = {},
                  .when_empty = "Nothing is outside a rating."};
  table.row = [source](std::size_t i) { return breach_row(source, i); };
  return long_sheets(source, std::move(sheet), std::move(table));
}

SheetContent again(const Source& source) {
  SheetContent sheet{.name = "Again", .title = "Outside again and again", .grid = {44, 11, 11, 12, 34, 10, 12}};
  sheet.blocks.emplace_back(Paragraph{
      "Rigs that were outside a rating in more than one weighing: the same tow vehicle and trailer by their uids, or by their "
      "names where no uid was given. Weighings before a correction and after it both count.",
      Paragraph::Kind::body});
  Table table{.title = "Rigs outside more than once",
              .columns = {{"Rig"},
                          {"Weighed", 1, true},
                          {"Outside", 1, true},
                          {"Last outside"},
                          {"Worst rating"},
                          {"Used", 1, true},
                          {"Worst on"}},
              .when_empty = "No rig was outside a rating more than once.",
              .repeat_head = true};
  constexpr std::size_t most = 500;
  const auto offenders = audit::offenders_of(source.entries());
  for (const audit::Offender& one : offenders) {
    if (table.rows.size() == most) break;
    const audit::Entry& worst = source.entry(one.worst_entry);
    TableRow row;
    row.cells = {text(rig_words(worst)), count(one.weighings), count(one.outside),
                 text(std::string(source.entry(one.last_entry).day))};
    if (worst.nearest) {
      const audit::Rated& rated = worst.ratings[*worst.nearest];
      row.cells.push_back(text(rated_words(rated.of, rated.part, source.options.words)));
      row.cells.push_back(used_cell(rated));
    } else {
      row.cells.resize(6);
    }
    row.cells.push_back(text(std::string(worst.day)));
    table.rows.push_back(std::move(row));
  }
  sheet.blocks.emplace_back(std::move(table));
  if (offenders.size() > most)
    sheet.blocks.emplace_back(Paragraph{std::to_string(offenders.size() - most) + " more; the sheet Register has them all.",
                                        Paragraph::Kind::note});
  return sheet;
}

}  // namespace steelyard::reports::fleet
