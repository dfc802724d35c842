// The sheet Limits: every rating in every state it applies to; the table of the guidance, which the sheet Advice shows.
#include <algorithm>
#include <cctype>

#include "reports/client/content.hpp"
#include "reports/words/suspicion.hpp"

namespace steelyard::reports::client {
namespace {

using assess::Row;

/// A source that names the owner or client gives their word, not a plate's.
bool is_their_word(const rig::Limit& limit) {
  std::string source = limit.source;
  std::transform(source.begin(), source.end(), source.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return source.find("owner") != source.npos || source.find("client") != source.npos;
}

std::string source_words(const rig::Limit& limit) {
  std::string words = limit.source.empty() ? "source not given" : clipped(limit.source, 200);
  if (is_their_word(limit)) words += " †";
  if (!limit.edition.empty()) words += ", " + clipped(limit.edition, 100);
  if (!limit.jurisdiction.empty()) words += " (" + clipped(limit.jurisdiction, 60) + ")";
  if (!limit.read_by.empty()) words += "; read by " + clipped(limit.read_by, 60);
  return words;
}

std::string remark(const Source& source, const Row& row) {
  const auto& all = source.assessment.rows;
  const bool several = std::count_if(all.begin(), all.end(), [&row](const Row& other) {
                         return other.of == row.of && other.state == row.state && other.advice == row.advice;
                       }) > 1;
  std::string words;
  const auto add = [&words](std::string more) { words += (words.empty() ? "" : "; ") + std::move(more); };
  if (row.reason) add(clipped(source.wording.around_names(*row.reason, source.session), 400));
  if (row.suspect) add("suspect reading: see Fit");
  if (row.next_reading)
    add("surer by weighing " + clipped(next_reading_words(*row.next_reading, source.wording), 200));
  if (several && row.governs) add("governs: the lowest of its kind");
  if (several && !row.governs && row.value) add("a lower one governs");
  if (!row.at.empty()) add("at " + place_words(row.at, source.wording));
  const auto& limit = source.session.rig.limits.at(row.limit);
  if (limit.load_index)
    add("tyre load index " + std::to_string(*limit.load_index) + (limit.tyres == 2 ? ", two tyres" : ""));
  return words;
}

TableRow limit_row(const Source& source, const Row& row) {
  const bool share = row.measure == reconcile::Measure::one;
  const double u = row.u.value_or(0);
  const auto unit = [&](Cell cell) { return with_unit(std::move(cell), row.measure, source.shown); };
  TableRow out;
  out.cells.resize(10);
  out.cells[0] = text(row_words(source, row));
  out.cells[0].bold = row.governs && row.travels && !row.advice;
  out.cells[1] = text(clipped(row.state.value_or("")) + (row.state && row.travels ? " →" : ""));
  if (row.rating) out.cells[2] = unit(bare(*row.rating, row.measure, source.shown, share));
  if (row.value) {
    out.cells[3] = unit(figure(*row.value, u, row.measure, source.shown, share));
    out.cells[4] = unit(expanded(u, row.measure, source.shown, share));
  } else {
    out.cells[3] = text("unknown");
  }
  if (row.margin) {
    out.cells[5] = unit(figure(*row.margin, u, row.measure, source.shown, share));
    std::get<Number>(out.cells[5].value).show_sign = true;
  }
  if (row.p_breach)
    out.cells[6] = {.value = Number{.value = *row.p_breach, .kind = Number::Kind::probability}};
  out.cells[7] = text(outcome_words(row.outcome, row.minimum));
  out.cells[7].tone = tone_of(row.outcome);
  out.cells[8] = text(remark(source, row));
  out.cells[9] = text(source_words(source.session.rig.limits.at(row.limit)));
  return out;
}

}  // namespace

Table limit_table(const Source& source, bool advice) {
  Table table{.title = advice ? "Guidance of good practice, no rating and no part of the outcome"
                              : "Ratings, as read from the sources named",
              .columns = {{"Limit"},
                          {"State"},
                          {"Rated", 1, true},
                          {"On the rig", 1, true},
                          {"U", 1, true},
                          {"Margin", 1, true},
                          {"Chance of breach", 1, true},
                          {"Outcome"},
                          {"Remark"},
                          {"Source"}},
              .when_empty = advice ? "No guidance was asked for." : "No rating was given.",
              .repeat_head = !advice};
  for (const Row& row : source.assessment.rows)
    if (row.advice == advice) table.rows.push_back(limit_row(source, row));
  if (advice) table.columns[2].title = "Advised";
  return table;
}

SheetContent limits(const Source& source) {
  SheetContent sheet{.name = "Limits",
                     .title = "Limits and outcomes",
                     .landscape = true,
                     .grid = {30, 13, 10, 11, 9, 11, 10, 21, 25, 25}};
  const auto& assessment = source.assessment;
  sheet.blocks.emplace_back(
      Facts{.facts = {{"Outcome of the rig", std::string(sign_of(tone_of(assessment.outcome))) + " " +
                                                 std::string(assess::in_words(assessment.outcome))},
                      {"Limits assessed", std::to_string(assessment.assessed) + ", not assessed " +
                                              std::to_string(assessment.not_assessed)}}});
  sheet.blocks.emplace_back(limit_table(source, false));
  sheet.blocks.emplace_back(
      Paragraph{"→ The state that the rig travels in; its ratings in bold decide the outcome. Margin: rating "
                "less value (value less rating for a minimum). Chance of breach: the "
                "probability that the true value is "
                "beyond the rating (JCGM 106). Outcome: within or over where the margin is more than U "
                "either way, else too close to be "
                "sure (ILAC-G8:09/2019). D- and Dc-values are computed from the ratings (UN Regulation 55). "
                "† As the owner or client stated it, not read from a plate or document. Guidance is on the sheet Advice.",
                Paragraph::Kind::note});
  return sheet;
}

}  // namespace steelyard::reports::client
