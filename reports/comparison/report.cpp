#include "reports/comparison/content.hpp"

namespace steelyard::reports {
namespace comparison {

std::string verdict_words(const compare::Difference& difference) {
  const auto significant = difference.significant();
  return !significant ? "" : *significant ? "≠ changed" : "≈ not sure";
}

std::string compared_words(const Source& source, const compare::Compared& row, bool with_state) {
  std::string words = quantity_words(row.name, source.wording);
  if (row.at) words += ", " + place_words(*row.at, source.wording);
  const auto& state = row.state_after ? row.state_after : row.state_before;
  if (with_state && state) words += ", “" + clipped(*state, 40) + "”";
  return row.another_trailer ? words + " *" : words;
}

std::vector<Column> compared_columns(std::string first, int span) {
  return {{std::move(first), span}, {"Before", 1, true}, {"After", 1, true}, {"Difference", 1, true},
          {"U", 1, true},           {"Eₙ", 1, true},     {"Verdict"}};
}

TableRow compared_row(const Source& source, const compare::Compared& row, bool with_state) {
  const bool share = is_share(row.name);
  const ShownUnits& shown = source.wording.shown;
  const auto unit = [&](Cell cell) { return with_unit(std::move(cell), row.measure, shown); };
  const auto side = [&](const std::optional<compare::Figure>& found) {
    return found ? unit(figure(found->value, found->u, row.measure, shown, share)) : text("unknown");
  };
  TableRow out;
  out.cells = {text(compared_words(source, row, with_state)), side(row.before), side(row.after)};
  out.cells.resize(7);
  if (!row.difference) return out;
  const compare::Difference& difference = *row.difference;
  out.cells[3] = unit(figure(difference.value, difference.u, row.measure, shown, share));
  std::get<Number>(out.cells[3].value).show_sign = true;
  out.cells[4] = unit(expanded(difference.u, row.measure, shown, share));
  if (difference.en) out.cells[5] = {.value = Number{.value = *difference.en, .decimals = 2}};
  out.cells[6] = text(verdict_words(difference));
  out.cells[6].bold = difference.significant().value_or(false);
  return out;
}

std::string outcome_change(const compare::Comparison& all) {
  const std::string then(assess::in_words(all.outcome_before)), now(assess::in_words(all.outcome_after));
  return then == now ? now + ", as before" : "before: " + then + "; after: " + now;
}

}  // namespace comparison

Report comparison_report(const rig::Session& before, const rig::Session& after, const compare::Comparison& all,
                         const ComparisonOptions& options) {
  const comparison::Source source{before, after, all, options, Wording(options.reader, after)};
  Report report{.number = options.number,
                .standing = {},
                .title = "Before and after",
                .client = after.client.name,
                .issued = options.issued,
                .engine = options.engine,
                .sheets = {comparison::summary(source), comparison::quantities(source), comparison::limits(source),
                           comparison::conditions(source), comparison::method(source)}};
  for (std::size_t i = 1; i < report.sheets.size(); ++i)
    report.sheets[i].subtitle =
        "Comparison " + report.number + (report.client.empty() ? "" : " · " + clipped(report.client, 80));
  return report;
}

}  // namespace steelyard::reports
