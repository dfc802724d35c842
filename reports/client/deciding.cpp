#include "reports/client/deciding.hpp"

#include <algorithm>
#include <cmath>

namespace steelyard::reports::client {
namespace {

using assess::Row;

/// Rows that leave room for the picture on the first page.
std::size_t most_rows(const Source& source) {
  return source.options.paper == Paper::A4 ? 8 : 5;
}

int severity(const Row& row) {
  return assess::severity(row.outcome);
}

using assess::used;

bool drawn_as_bar(const Row& row) {
  return !row.minimum && row.value && row.rating && *row.rating > 0 && *row.value >= 0;
}

/// As many of them as the page holds, in the table's order: those that can be drawn, then minima, then those
/// unknown.
std::vector<const Row*> shown_rows(const Source& source, std::vector<const Row*> rows) {
  rows.resize(std::min(rows.size(), most_rows(source)));
  const auto kind = [](const Row& row) { return drawn_as_bar(row) ? 0 : row.value ? 1 : 2; };
  std::stable_sort(rows.begin(), rows.end(), [&kind](const Row* a, const Row* b) {
    if (kind(*a) != kind(*b)) return kind(*a) < kind(*b);
    if (severity(*a) != severity(*b)) return severity(*a) < severity(*b);
    return used(*a) > used(*b);
  });
  return rows;
}

TableRow deciding_row(const Source& source, const Row& row) {
  const auto& shown = source.shown;
  const bool share = row.measure == reconcile::Measure::one;
  const double u = row.u.value_or(0);
  const auto unit = [&](Cell cell) { return with_unit(std::move(cell), row.measure, shown); };
  TableRow out;
  out.cells.resize(7);
  out.cells[0] = text(row_words(source, row));
  out.cells[0].bold = severity(row) < 4;
  if (row.value) {
    out.cells[1] = unit(figure(*row.value, u, row.measure, shown, share));
    out.cells[2] = unit(expanded(u, row.measure, shown, share));
  } else {
    out.cells[1] = text("unknown");
  }
  if (row.rating) out.cells[3] = unit(bare(*row.rating, row.measure, shown, share));
  if (row.margin) {
    out.cells[4] = unit(figure(*row.margin, u, row.measure, shown, share));
    std::get<Number>(out.cells[4].value).show_sign = true;
  }
  if (drawn_as_bar(row))
    out.cells[5] = {
        .value = Number{.value = *row.value / *row.rating, .decimals = 1, .kind = Number::Kind::share}};
  out.cells[6] = text(outcome_words(row.outcome, row.minimum));
  out.cells[6].tone = tone_of(row.outcome);
  return out;
}

}  // namespace

std::vector<const Row*> deciding(const Source& source) {
  return assess::deciding(source.assessment);
}

void add_ratings(const Source& source, const std::vector<const Row*>& all, std::vector<Block>& blocks) {
  Table table{.title = "What decides it: the nearest ratings first",
              .columns = {{"Rating", 2},
                          {"On the rig", 1, true},
                          {"U", 1, true},
                          {"Rated", 1, true},
                          {"Margin", 1, true},
                          {"Used", 1, true},
                          {"Outcome"}},
              .when_empty = "No rating was given that this weighing could be compared with."};
  Bars bars{.title = "Load as a part of its rating", .category_column = 0, .value_column = 5};
  double most = 1, least = 1;
  const auto rows = shown_rows(source, all);
  for (const Row* row : rows) {
    table.rows.push_back(deciding_row(source, *row));
    if (!drawn_as_bar(*row)) continue;
    ++bars.rows;
    bars.tones.push_back(tone_of(row->outcome));
    bars.long_names = bars.long_names || row_words(source, *row).size() > 24;
    most = std::max(most, *row->value / *row->rating);
    least = std::min(least, *row->value / *row->rating);
  }
  blocks.emplace_back(std::move(table));
  if (all.size() > rows.size())
    blocks.emplace_back(Paragraph{std::to_string(all.size() - rows.size()) + " more are on the sheet Limits.",
                                  Paragraph::Kind::note});
  if (bars.rows == 0) return;
  bars.minimum = least;
  bars.maximum = 0.25 * std::ceil((most + 0.12) / 0.25);
  bars.description = "Bars: each load as a part of its rating; the strong line is the rating itself.";
  blocks.emplace_back(std::move(bars));
}

}  // namespace steelyard::reports::client
