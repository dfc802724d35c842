// What the audit cannot answer for: ratings not assessed, rigs not weighed, readings that do not fit, scales out of date.
#include <algorithm>

#include "reports/fleet/content.hpp"
#include "reports/words/suspicion.hpp"

namespace steelyard::reports::fleet {
namespace {

constexpr std::size_t most_doubts = 500;

void say_more(std::size_t left_out, std::string_view what, std::vector<Block>& blocks) {
  if (left_out == 0) return;
  blocks.emplace_back(Paragraph{std::to_string(left_out) + " more " + std::string(what) + ".", Paragraph::Kind::note});
}

std::string suspect_words(const audit::Suspect& suspect, const FleetOptions& options) {
  Wording wording(options.words);
  wording.shown = options.units;
  reconcile::Observation observation;
  observation.kind = suspect.kind;
  if (!suspect.id.empty()) observation.id = std::string(suspect.id);
  if (!suspect.state.empty()) observation.state = std::string(suspect.state);
  if (!suspect.at.empty()) observation.at = std::string(suspect.at);
  if (!suspect.scale.empty()) observation.scales = {std::string(suspect.scale)};
  std::string words = clipped(suspect_name(observation, wording), 120) + suspect_size(observation, suspect.error, options.units);
  if (suspect.others > 0) words += ", or " + counted(suspect.others, "other", "others");
  return words;
}

std::string blunder_words(const std::optional<reconcile::Blunder>& blunder) {
  if (!blunder) return {};
  std::string words(reconcile::to_text(*blunder));
  std::replace(words.begin(), words.end(), '_', ' ');
  return words;
}

void add_suspects(const Source& source, std::vector<Block>& blocks) {
  Table table{.title = "Sessions whose readings do not fit",
              .columns = {{"Weighed"}, {"Rig"}, {"Likeliest"}, {"May be explained by"}, {"Technician"}, {"Session"}},
              .when_empty = "None: in every session that can be tested the readings agree within their uncertainties.",
              .repeat_head = true};
  std::size_t left_out = 0;
  for (const audit::Entry& entry : source.entries()) {
    if (!entry.suspect) continue;
    if (table.rows.size() == most_doubts) {
      ++left_out;
      continue;
    }
    table.rows.push_back({{text(std::string(entry.day)), text(rig_words(entry)),
                           text(suspect_words(*entry.suspect, source.options)),
                           text(blunder_words(entry.suspect->blunder)), text(known(entry.technician)),
                           text(std::string(entry.id))}});
  }
  blocks.emplace_back(std::move(table));
  say_more(left_out, "are marked on the sheet Register", blocks);
  if (source.totals.suspect > 0)
    blocks.emplace_back(Paragraph{
        "Five in a hundred sound sessions are found here by chance. Ratings that rest on such a reading are marked on the "
        "sheet Breaches.",
        Paragraph::Kind::note});
  if (source.totals.untested > 0)
    blocks.emplace_back(Paragraph{counted(source.totals.untested, "session has", "sessions have") +
                                      " no reading more than needed: nothing checks them, and a wrong one would not be "
                                      "noticed.",
                                  Paragraph::Kind::note});
}

void add_scales(const Source& source, std::vector<Block>& blocks) {
  Table table{.title = "Scales used after they were due",
              .columns = {{"Due"}, {"Scale"}, {"First used after"}, {"Last used after"}, {"Sessions", 1, true}, {"uid"}},
              .when_empty = "None, as far as the sheets say when their scales are due."};
  const auto scales = audit::scales_out_of_date_of(source.entries());
  for (const audit::ScaleUse& one : scales) {
    if (table.rows.size() == most_doubts) break;
    table.rows.push_back({{text(known(one.due)), text(known(one.name)), text(std::string(one.first_day)),
                           text(std::string(one.last_day)), count(one.sessions), text(clipped(one.uid, 40))}});
  }
  const std::size_t left_out = scales.size() - table.rows.size();
  blocks.emplace_back(std::move(table));
  say_more(left_out, "are not listed", blocks);
}

void add_not_solved(const Source& source, std::vector<Block>& blocks) {
  if (source.totals.not_solved == 0) return;
  Table table{.title = "Sessions without a solution", .columns = {{"Weighed"}, {"Rig"}, {"Why", 3}, {"Session"}}};
  for (const audit::Entry& entry : source.entries())
    if (!entry.not_solved.empty() && table.rows.size() < most_doubts)
      table.rows.push_back({{text(std::string(entry.day)), text(rig_words(entry)), text(clipped(entry.not_solved, 300)),
                             text(std::string(entry.id))}});
  blocks.emplace_back(std::move(table));
}

}  // namespace

SheetContent not_assessed(const Source& source) {
  SheetContent sheet{.name = "Not assessed", .title = "What was not assessed, and what was not weighed", .grid = {34, 64, 12}};
  Table table{.title = "Ratings not assessed, and why",
              .columns = {{"Rating"}, {"Why, and what to weigh for it"}, {"Sessions", 1, true}},
              .when_empty = "None: every rating given was held against what was found.",
              .repeat_head = true};
  const auto all = audit::not_assessed_of(source.entries());
  for (const audit::NotAssessed& one : all) {
    if (table.rows.size() == most_doubts) break;
    table.rows.push_back({{text(rated_words(one.of, {}, source.options.words)),
                           text(one.reason.empty() ? "no reason given" : clipped(one.reason, 300)), count(one.sessions)}});
  }
  const std::size_t left_out = all.size() - table.rows.size();
  sheet.blocks.emplace_back(std::move(table));
  say_more(left_out, "reasons are not listed", sheet.blocks);
  if (source.totals.without_rating > 0)
    sheet.blocks.emplace_back(Paragraph{counted(source.totals.without_rating, "session has", "sessions have") +
                                            " no rating that could be assessed; they count in no rate.",
                                        Paragraph::Kind::note});
  Table rigs{.title = "Known to this store, and not weighed in this audit",
             .columns = {{"Vehicle"}, {"What and which"}, {"Last weighed"}},
             .when_empty = "None: every vehicle that the store knows is in this audit."};
  for (const NotWeighed& one : source.subject.not_weighed) {
    if (rigs.rows.size() == most_doubts) break;
    rigs.rows.push_back({{text(one.label.empty() ? clipped(one.uid, 60) : clipped(one.label, 60)),
                          text(one.what + (one.uid.empty() ? "" : ", " + clipped(one.uid, 60))),
                          text(one.last_day.empty() ? "never" : one.last_day)}});
  }
  const std::size_t more = source.subject.not_weighed.size() - rigs.rows.size();
  sheet.blocks.emplace_back(std::move(rigs));
  say_more(more, "are not listed", sheet.blocks);
  return sheet;
}

SheetContent doubts(const Source& source) {
  SheetContent sheet{
      .name = "Doubts", .title = "Readings and scales in doubt", .landscape = true, .grid = {13, 40, 56, 24, 20, 38}};
  add_suspects(source, sheet.blocks);
  add_scales(source, sheet.blocks);
  add_not_solved(source, sheet.blocks);
  return sheet;
}

}  // namespace steelyard::reports::fleet
