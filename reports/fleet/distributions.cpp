// How much of each rating is used, and what the couplings carry.
#include <algorithm>
#include <iterator>
#include <span>

#include "reports/fleet/content.hpp"
#include "reports/words/terms.hpp"

namespace steelyard::reports::fleet {
namespace {

using audit::ShareDistribution;
using audit::Utilisation;

std::string utilisation_bin(std::size_t bin) {
  if (bin == 0) return "under 50 %";
  const std::string from = std::to_string(40 + 10 * bin);
  if (bin + 1 == Utilisation::bins) return from + " % and more";
  return from + " to " + std::to_string(50 + 10 * bin) + " %";
}

std::string share_bin(std::size_t bin) {
  if (bin == 0) return "under 0 %";
  if (bin + 1 == ShareDistribution::bins) return std::to_string(bin - 1) + " % and more";
  return std::to_string(bin - 1) + " to " + std::to_string(bin) + " %";
}

Tone bin_tone(std::size_t bin) {
  return bin < 5 ? Tone::within : bin == 5 ? Tone::close_within : Tone::over;
}

void add_overview(const Source& source, const std::vector<Utilisation>& all, std::vector<Block>& blocks) {
  Table table{.title = "How much of each rating is used",
              .columns = {{"Rating"},
                          {"Weighings", 1, true},
                          {"Outside", 1, true},
                          {"Half are under", 1, true},
                          {"Nine in ten under", 1, true},
                          {"Most", 1, true}},
              .when_empty = "No rating could be held against what was found."};
  for (const Utilisation& one : all) {
    TableRow row;
    row.cells = {text(rated_words(one.of, {}, source.options.words)), count(one.count), count(one.outside),
                 share_cell(one.median), share_cell(one.ninetieth), one.most < 1e9 ? share_cell(one.most) : text("beyond all")};
    table.rows.push_back(std::move(row));
  }
  blocks.emplace_back(std::move(table));
  blocks.emplace_back(Paragraph{
      "The load as a part of its rating; of a minimum, the rating as a part of the load, so that above 100 % is outside "
      "everywhere. Of several ratings of one kind the lowest counts.",
      Paragraph::Kind::note});
}

/// Some kinds side by side in one table, and a chart of each beneath: as wide as a page is.
void add_histograms(const Source& source, std::span<const Utilisation> kinds, std::vector<Block>& blocks) {
  Table table{.title = "Weighings by how much is used", .columns = {{"Used"}}};
  for (std::size_t bin = 0; bin < Utilisation::bins; ++bin) table.rows.push_back({{text(utilisation_bin(bin))}});
  std::vector<Columns> charts;
  for (const Utilisation& one : kinds) {
    const std::string name = rated_words(one.of, {}, source.options.words);
    table.columns.push_back({name, 1, true});
    Columns chart{.title = name + ": weighings by how much is used",
                  .rows = static_cast<int>(Utilisation::bins),
                  .category_column = 0,
                  .value_column = static_cast<int>(table.columns.size()) - 1};
    for (std::size_t bin = 0; bin < Utilisation::bins; ++bin) {
      table.rows[bin].cells.push_back(count(one.counts[bin]));
      chart.tones.push_back(bin_tone(bin));
      chart.description += utilisation_bin(bin) + ": " + std::to_string(one.counts[bin]) + ". ";
    }
    charts.push_back(std::move(chart));
  }
  blocks.emplace_back(std::move(table));
  for (Columns& chart : charts) blocks.emplace_back(std::move(chart));
}

void add_shares(const Source& source, std::vector<Block>& blocks) {
  const ShareDistribution shares = audit::coupling_shares_of(source.entries());
  Table table{.title = "Coupling load as a share of the trailer’s mass",
              .columns = {{"Share"}, {"Weighings", 1, true}},
              .when_empty = "The share is known of no rig."};
  Columns columns{.title = "Weighings by coupling share", .category_column = 0, .value_column = 1};
  // Only from the first to the last bin that holds something: an empty tail tells nothing.
  std::size_t first = 0, last = ShareDistribution::bins;
  while (first < last && shares.counts[first] == 0) ++first;
  while (last > first && shares.counts[last - 1] == 0) --last;
  for (std::size_t bin = first; bin < last; ++bin) {
    table.rows.push_back({{text(share_bin(bin)), count(shares.counts[bin])}});
    columns.description += share_bin(bin) + ": " + std::to_string(shares.counts[bin]) + ". ";
  }
  columns.rows = static_cast<int>(table.rows.size());
  blocks.emplace_back(std::move(table));
  if (columns.rows == 0) return;
  blocks.emplace_back(Paragraph{"Of " + counted(shares.count, "weighing", "weighings") + " half are under " +
                                    percent(shares.median) + ", one in ten under " + percent(shares.tenth) +
                                    ", one in ten over " + percent(shares.ninetieth) +
                                    ". What is advised differs from place to place and is no rating.",
                                Paragraph::Kind::note});
  if (columns.rows > 1) blocks.emplace_back(std::move(columns));
}

}  // namespace

SheetContent distributions(const Source& source) {
  SheetContent sheet{.name = "Distributions", .title = "How near to the ratings", .grid = {38, 12, 12, 15, 17, 12}};
  const auto all = audit::utilisation_of(source.entries());
  add_overview(source, all, sheet.blocks);
  constexpr std::size_t side_by_side = 5;
  std::vector<Utilisation> several;
  std::copy_if(all.begin(), all.end(), std::back_inserter(several), [](const Utilisation& one) { return one.count > 1; });
  for (std::size_t first = 0; first < several.size(); first += side_by_side)
    add_histograms(source, std::span(several).subspan(first, std::min(side_by_side, several.size() - first)), sheet.blocks);
  add_shares(source, sheet.blocks);
  return sheet;
}

}  // namespace steelyard::reports::fleet
