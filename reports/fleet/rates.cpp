// How often weighings are outside a rating, by whom, where and when.
#include <algorithm>

#include "reports/fleet/content.hpp"

namespace steelyard::reports::fleet {
namespace {

constexpr std::size_t most_pictured = 15, most_listed = 200;

constexpr const char* how_to_read =
    "Share of the weighings with a rating assessed in which a load reads over its rating. The line is the 95 % interval "
    "(Wilson’s): where two lines overlap much, the difference may be chance. Weighings of one rig again and again are not "
    "independent, and the intervals are then too short.";

TableRow rate_row(std::string name, const audit::Rate& rate) {
  TableRow row;
  row.cells = {text(std::move(name)), count(rate.weighed), count(rate.assessed), count(rate.outside), count(rate.too_close)};
  if (rate.assessed > 0) {
    row.cells.push_back(share_cell(rate.share()));
    row.cells.push_back(share_cell(rate.low));
    row.cells.push_back(share_cell(rate.high));
  }
  return row;
}

std::vector<Column> rate_columns(std::string first) {
  return {{std::move(first)},
          {"Weighed", 1, true},
          {"Assessed", 1, true},
          {"Outside", 1, true},
          {"of these too close", 1, true},
          {"Rate", 1, true},
          {"95 % from", 1, true},
          {"to", 1, true}};
}

void add_division(const Source& source, audit::Division division, std::string_view title, std::string_view column,
                  std::vector<Block>& blocks) {
  auto rates = audit::rates_by(source.entries(), division);
  if (rates.size() == 1 && rates.front().name.empty()) {
    blocks.emplace_back(Heading{std::string(title)});
    blocks.emplace_back(Paragraph{"Not given in any of the sessions.", Paragraph::Kind::body});
    return;
  }
  Table table{.title = std::string(title), .columns = rate_columns(std::string(column))};
  for (const audit::GroupRate& one : rates) {
    if (table.rows.size() == most_listed) break;
    table.rows.push_back(rate_row(known(one.name), one.rate));
  }
  const std::size_t left_out = rates.size() - table.rows.size();
  blocks.emplace_back(std::move(table));
  if (left_out > 0)
    blocks.emplace_back(Paragraph{std::to_string(left_out) + " more with lower rates are not listed.", Paragraph::Kind::note});
  std::erase_if(rates, [](const auto& one) { return one.rate.assessed == 0; });
  if (rates.size() < 2) return;
  const bool cut = rates.size() > most_pictured;
  if (cut) rates.resize(most_pictured);
  blocks.emplace_back(whiskers(std::string(title) + (cut ? ", the highest " + std::to_string(most_pictured) : ""), rates,
                               how_to_read));
}

}  // namespace

SheetContent rates(const Source& source) {
  SheetContent sheet{.name = "Rates", .title = "How often, by whom and where", .grid = {38, 10, 10, 10, 12, 9, 10, 9}};
  add_division(source, audit::Division::client, "By client", "Client", sheet.blocks);
  add_division(source, audit::Division::place, "By depot or place", "Place", sheet.blocks);
  add_division(source, audit::Division::rig_kind, "By kind of rig", "Kind of rig", sheet.blocks);
  add_division(source, audit::Division::technician, "By technician", "Technician", sheet.blocks);
  sheet.blocks.emplace_back(Paragraph{
      "A technician’s rate says which rigs he was sent to at least as much as how he weighs.", Paragraph::Kind::note});
  add_division(source, audit::Division::purpose, "By purpose", "Purpose", sheet.blocks);
  return sheet;
}

SheetContent trend(const Source& source) {
  SheetContent sheet{.name = "Trend", .title = "Over time", .grid = {38, 10, 10, 10, 12, 9, 10, 9}};
  const audit::Trend trend = audit::trend_of(source.entries());
  const char* word = trend.period == audit::Period::month     ? "month"
                     : trend.period == audit::Period::quarter ? "quarter"
                                                              : "year";
  Table table{.title = std::string("By ") + word,
              .columns = rate_columns(word),
              .when_empty = "No session says when the rig was weighed."};
  table.columns.front().title.front() = static_cast<char>(table.columns.front().title.front() - 'a' + 'A');
  std::vector<audit::GroupRate> rates;
  for (const audit::PeriodRate& one : trend.periods) {
    table.rows.push_back(rate_row(one.name, one.rate));
    if (one.rate.assessed > 0) rates.push_back({one.name, one.rate});
  }
  const int rows = static_cast<int>(table.rows.size());
  sheet.blocks.emplace_back(std::move(table));
  if (trend.undated > 0)
    sheet.blocks.emplace_back(
        Paragraph{counted(trend.undated, "session has", "sessions have") + " no date.", Paragraph::Kind::note});
  if (rows < 2) return sheet;
  sheet.blocks.emplace_back(Columns{.title = std::string("Weighings a ") + word,
                                    .rows = rows,
                                    .category_column = 0,
                                    .value_column = 1,
                                    .description = "Columns: how many rigs were weighed in each period."});
  // The picture borrows the names from `trend`, and is made of them before this returns.
  sheet.blocks.emplace_back(whiskers(std::string("Outside a rating, by ") + word, rates, how_to_read));
  return sheet;
}

}  // namespace steelyard::reports::fleet
