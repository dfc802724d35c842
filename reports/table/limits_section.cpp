#include <algorithm>
#include <cmath>
#include <set>
#include <vector>

#include "reports/table/limit_words.hpp"
#include "reports/table/sections.hpp"
#include "reports/words/terminal_text.hpp"
#include "reports/words/suspicion.hpp"

namespace steelyard::reports {
namespace {

using assess::Outcome;
using assess::Row;

constexpr std::size_t name_width = 35, rating_width = 10, found_width = 18, margin_width = 12;

const rig::Limit& limit_of(const Subject& subject, const Row& row) {
  return subject.session.rig.limits.at(row.limit);
}

/// How near: the margin as a part of the rating, so that kilograms, shares and kilonewtons stand in one
/// order.
double nearness(const Row& row) {
  const double margin = row.margin.value_or(0), rating = std::abs(row.rating.value_or(0));
  return rating > 0 ? margin / rating : margin;
}

/// What would make a close outcome surer, and by how much.
std::string surer(const Subject& subject, const Row& row, bool percent) {
  const auto expanded = [&](double u) { return subject.figures.alone(2 * u, u, row.measure, percent); };
  return "; surer by weighing " + printable(next_reading_words(*row.next_reading, subject.wording)) + ": ± " +
         expanded(row.next_reading->after) + " then, ± " + expanded(*row.u) + " now";
}

std::string one_row(const Subject& subject, const Row& row) {
  const rig::Limit& limit = limit_of(subject, row);
  const bool percent = shown_as_percent(limit);
  const Figures& figures = subject.figures;
  std::string unit = figures.unit(row.measure, percent);
  if (unit == figures.unit(reconcile::Measure::kilogram)) unit.clear();  // said in the heading
  // A sign beside the words: a list of twenty "within" must not hide the one that is not.
  std::string out = (row.outcome == Outcome::pass ? "  " : "! ") +
                    pad_right(limit_in_words(limit, row, subject.wording), name_width);
  out += pad_left(row.rating ? figures.rating(*row.rating, row.measure, percent) : "?", rating_width);
  out += pad_left(figures.with_u(*row.value, row.u, row.measure, percent), found_width);
  out += pad_left(figures.alone(*row.margin, row.u, row.measure, percent), margin_width);
  if (!unit.empty()) out += ' ' + unit;
  std::string more(in_words(row.outcome, row.minimum));
  if (row.state) more += "; " + printable(*row.state);
  if (!row.source.empty()) more += "; " + printable(row.source);
  if (row.suspect) more += "; rests on a suspect reading";
  if (row.next_reading) more += surer(subject, row, percent);
  return out + '\n' + paragraph("      ", more);
}

std::string heading(const Subject& subject, std::string_view title) {
  const std::string unit = subject.figures.unit(reconcile::Measure::kilogram);
  return pad_right(std::string(title) + ", " + unit, name_width + 2) + pad_left("rating", rating_width) +
         pad_left("found ± U", found_width) + pad_left("margin", margin_width) + '\n';
}

/// Assessed rows that `wanted` picks, nearest first; equal ones stay in the sheet's order.
template <class Wanted>
std::vector<const Row*> nearest_first(const Subject& subject, Wanted wanted) {
  std::vector<const Row*> rows;
  for (const Row& row : subject.assessment.rows)
    if (row.outcome != Outcome::not_assessed && row.value && row.margin && wanted(row)) rows.push_back(&row);
  std::stable_sort(rows.begin(), rows.end(),
                   [](const Row* a, const Row* b) { return nearness(*a) < nearness(*b); });
  return rows;
}

std::string governing_link(const Subject& subject) {
  for (const Row& row : subject.assessment.rows) {
    const rig::Limit& limit = limit_of(subject, row);
    if (limit.kind != rig::LimitKind::coupling || !row.governs || !row.travels || !row.rating) continue;
    const std::string unit = subject.figures.unit(reconcile::Measure::kilogram);
    std::string text = limit.part.empty() ? std::string("the coupling's own rating") : printable(limit.part);
    text += ", " + subject.figures.rating(*row.rating, row.measure) + ' ' + unit;
    if (!row.source.empty()) text += " (" + printable(row.source) + ')';
    return paragraph("  governing link of the coupling: ", text);
  }
  return {};
}

std::string listed(const Subject& subject, std::string_view title, const std::vector<const Row*>& rows) {
  if (rows.empty()) return {};
  std::string out = heading(subject, title);
  for (const Row* row : rows) out += one_row(subject, *row);
  return out;
}

}  // namespace

std::string limits_section(const Subject& subject) {
  const auto here = nearest_first(subject, [](const Row& row) { return !row.advice && row.travels; });
  // Other states are said only where they are not safely within: an overloaded axle in the yard matters as
  // well.
  const auto elsewhere = nearest_first(
      subject, [](const Row& row) { return !row.advice && !row.travels && row.outcome != Outcome::pass; });
  std::string out = listed(subject, "Ratings, nearest first", here) + governing_link(subject);
  if (!out.empty() && !elsewhere.empty()) out += '\n';
  return out + listed(subject, "In other states", elsewhere);
}

std::string advice_section(const Subject& subject) {
  return listed(subject, "Advice, not ratings",
                nearest_first(subject, [](const Row& row) { return row.advice && row.travels; }));
}

std::string not_assessed_section(const Subject& subject) {
  std::string body;
  std::set<std::string> said;
  for (const Row& row : subject.assessment.rows) {
    if (row.outcome != Outcome::not_assessed) continue;
    // One limit lacks the same reading in most states: its reason is said once.
    const std::string name = limit_in_words(limit_of(subject, row), row, subject.wording);
    const std::string reason =
        row.reason ? printable(subject.wording.around_names(*row.reason, subject.session)) : "no value";
    if (!said.insert(name + '\n' + reason).second) continue;
    body += "  " + cut(name + (row.advice ? " (advice)" : ""), table_width - 2) + '\n' +
            paragraph("      ", reason);
  }
  return body.empty() ? "" : "Not assessed\n" + body;
}

}  // namespace steelyard::reports
