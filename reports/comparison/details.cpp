// Every quantity, every limit, and what was not the same at both weighings.
#include "reports/comparison/content.hpp"
#include "units/number.hpp"

namespace steelyard::reports::comparison {
namespace {

using compare::LimitCompared;
using compare::LimitSide;
using reconcile::Measure;

std::string rating_words(const Source& source, const LimitCompared& row, const std::optional<LimitSide>& side) {
  if (!side) return "none";
  if (!side->rating) return "not given";
  if (row.measure == Measure::one) return in_percent(*side->rating, std::nullopt);
  return in_figures(*side->rating, std::nullopt, row.measure, source.wording.shown);
}

std::string value_words(const Source& source, const LimitCompared& row, const std::optional<LimitSide>& side) {
  if (!side || !side->value) return "";
  if (row.measure == Measure::one) return in_percent(*side->value, side->u);
  return in_figures(*side->value, side->u, row.measure, source.wording.shown);
}

Cell outcome_cell(const LimitCompared& row, const std::optional<LimitSide>& side) {
  if (!side) return {};
  Cell cell = text(outcome_words(side->outcome, row.minimum));
  cell.tone = tone_of(side->outcome);
  return cell;
}

std::string change_words(const LimitCompared& row) {
  if (row.added()) return "added";
  if (row.removed()) return "removed";
  std::string words = row.rating_changed() ? "other rating" : "";
  if (row.outcome_changed()) words += words.empty() ? "other outcome" : ", other outcome";
  if (words.empty() && row.source_changed()) words = "other source";
  return words;
}

TableRow limit_row(const Source& source, const LimitCompared& row) {
  const auto& rig = row.removed() ? source.before.rig : source.after.rig;
  std::string name = clipped(limit_words(row.limit, rig, source.wording), 120);
  if (row.advice) name += " (advice)";
  const auto& state = row.state_after ? row.state_after : row.state_before;
  TableRow out;
  out.cells = {text(std::move(name)),
               text(state ? clipped(*state, 40) : ""),
               text(rating_words(source, row, row.before)),
               text(value_words(source, row, row.before)),
               outcome_cell(row, row.before),
               text(rating_words(source, row, row.after)),
               text(value_words(source, row, row.after)),
               outcome_cell(row, row.after),
               text(change_words(row))};
  out.cells.back().bold = row.changed();
  return out;
}

std::string said(const std::optional<std::string>& words) {
  return words ? clipped(*words, 200) : "not given";
}

std::string worth_words(const Source& source, const compare::Unlike& row) {
  if (!row.size) return source.wording(clipped(row.worth, 200));
  std::string size = row.size->value == 0 ? "± " + in_figures(2 * row.size->u, std::nullopt, Measure::kilogram, source.wording.shown)
                                          : in_figures(row.size->value, row.size->u, Measure::kilogram, source.wording.shown);
  return size + " " + source.wording(clipped(row.worth, 200));
}

void add_fitted(const Source& source, std::vector<Block>& blocks) {
  const compare::Fitted& fitted = source.all.fitted;
  Table table{.title = "Fitted and taken off, as declared",
              .columns = {{"What", 2}, {"", 1}, {"Mass", 1, true}, {"Behind the first axle", 1, true}, {"Certificate"}},
              .when_empty = "Neither session says that anything was fitted or taken off."};
  const auto add = [&](const rig::Modification& one, const char* sign) {
    TableRow row;
    row.cells = {text(clipped(one.what, 120)), text(sign)};
    row.cells.push_back(one.mass ? with_unit(bare(one.mass->kg().value(), Measure::kilogram, source.wording.shown),
                                             Measure::kilogram, source.wording.shown)
                                 : text("not declared"));
    row.cells.push_back(one.at ? with_unit(bare(one.at->mm().value(), Measure::millimetre, source.wording.shown),
                                           Measure::millimetre, source.wording.shown)
                               : text("not given"));
    row.cells.push_back(text(clipped(one.certificate, 60)));
    table.rows.push_back(std::move(row));
  };
  for (const auto& one : fitted.added) add(one, "+ fitted");
  for (const auto& one : fitted.removed) add(one, "− taken off");
  blocks.emplace_back(std::move(table));
  if (fitted.checks.empty()) return;
  Table checks{.title = "Declared against what the axles show",
               .columns = {{"Figure", 2}, {"Declared", 1, true}, {"Found", 1, true}, {"Beyond", 1, true}, {"Verdict"}}};
  const auto load = [&](double kg, double u) {
    return with_unit(figure(kg, u, Measure::kilogram, source.wording.shown), Measure::kilogram, source.wording.shown);
  };
  for (const compare::Fitted::Check& check : fitted.checks) {
    const auto differs = check.beyond.significant();
    TableRow row;
    row.cells = {text(quantity_words(check.name, source.wording)), load(check.declared, check.beyond.u),
                 load(check.found.value, check.found.u), load(check.beyond.value, check.beyond.u),
                 text(!differs ? "" : *differs ? "≠ differs" : "≈ fits")};
    std::get<Number>(row.cells[3].value).show_sign = true;
    checks.rows.push_back(std::move(row));
  }
  blocks.emplace_back(std::move(checks));
  blocks.emplace_back(Paragraph{
      "Declared masses are the client’s and count as exact. Fuel, people and load that differ are in what was found.",
      Paragraph::Kind::note});
}

void add_one_sided(const Source& source, std::vector<Block>& blocks) {
  Table table{.title = "Known on one side only", .columns = {{"Figure", 2}, {"Known"}, {"Why not on the other side", 3}},
              .when_empty = "Nothing."};
  for (const compare::Compared& row : source.all.quantities) {
    if (row.before.has_value() == row.after.has_value()) continue;
    const auto& reason = row.before ? row.reason_after : row.reason_before;
    table.rows.push_back({{text(compared_words(source, row, true)), text(row.before ? "before only" : "after only"),
                           text(clipped(reason.value_or("not compared"), 300))}});
  }
  blocks.emplace_back(std::move(table));
}

}  // namespace

SheetContent quantities(const Source& source) {
  SheetContent sheet{.name = "Quantities", .title = "Every figure, before and after", .grid = {52, 12, 12, 12, 10, 9, 14}};
  const auto add = [&](std::string title, const auto& belongs) {
    Table table{.title = std::move(title), .columns = compared_columns("Figure"), .when_empty = "Nothing is known at both weighings."};
    for (const compare::Compared& row : source.all.quantities)
      if (row.difference && belongs(row)) table.rows.push_back(compared_row(source, row, false));
    sheet.blocks.emplace_back(std::move(table));
  };
  add("The rig", [](const compare::Compared& row) { return !row.state_after; });
  for (const compare::MatchedState& match : source.all.states) {
    const rig::State& state = source.after.states.at(match.after);
    const std::string& was = source.before.states.at(match.before).name;
    std::string title = "State “" + clipped(state.name, 60) + "”, " + state_words(state, source.wording);
    if (was != state.name) title += "; before: “" + clipped(was, 60) + "”";
    if (!match.alike) title += "; not arranged alike";
    add(std::move(title), [&state](const compare::Compared& row) { return row.state_after == state.name; });
  }
  sheet.blocks.emplace_back(Paragraph{
      "≠ changed: the difference is more than its uncertainty, |Eₙ| ≥ 1. ≈ not sure: it is not, and may be none.",
      Paragraph::Kind::note});
  return sheet;
}

SheetContent limits(const Source& source) {
  SheetContent sheet{.name = "Limits",
                     .title = "Limits, before and after",
                     .landscape = true,
                     .grid = {34, 16, 12, 18, 26, 12, 18, 26, 16}};
  const std::vector<Column> columns{{"Limit"}, {"State"}, {"Rated before"}, {"On the rig before"}, {"Before"},
                                    {"Rated after"}, {"On the rig after"}, {"After"}, {"Change"}};
  Table changed{.title = "What changed", .columns = columns,
                .when_empty = "No limit was added, removed or rated otherwise, and none comes out otherwise."};
  Table alike{.title = "What did not", .columns = columns, .when_empty = "Nothing."};
  for (const LimitCompared& row : source.all.limits)
    (row.changed() ? changed : alike).rows.push_back(limit_row(source, row));
  sheet.blocks.emplace_back(std::move(changed));
  sheet.blocks.emplace_back(std::move(alike));
  return sheet;
}

SheetContent conditions(const Source& source) {
  SheetContent sheet{.name = "Conditions", .title = "What was fitted, and what was not comparable", .grid = {24, 20, 18, 16, 20, 26}};
  add_fitted(source, sheet.blocks);
  Table unlike{.title = "Not comparable, or not known to be",
               .columns = {{"What"}, {"Before", 2}, {"After", 2}, {"What it may make"}},
               .when_empty = "Nothing: as far as the sheets say both weighings were alike."};
  for (const compare::Unlike& row : source.all.unlike)
    unlike.rows.push_back({{text(source.wording.around_names(clipped(row.what, 120), source.after)), text(said(row.before)),
                            text(said(row.after)), text(worth_words(source, row))}});
  sheet.blocks.emplace_back(std::move(unlike));
  add_one_sided(source, sheet.blocks);
  return sheet;
}

}  // namespace steelyard::reports::comparison
