// The first page: how many are outside a rating, which are worst, and what to do.
#include <algorithm>
#include <array>

#include "reports/fleet/content.hpp"
#include "reports/words/terms.hpp"

namespace steelyard::reports::fleet {
namespace {

using assess::RigOutcome;

constexpr std::array outcomes{RigOutcome::pass,       RigOutcome::conditional_pass, RigOutcome::conditional_fail,
                              RigOutcome::fail,       RigOutcome::incomplete,       RigOutcome::not_assessed};

std::string period_words(const audit::Totals& totals) {
  if (totals.first_day.empty()) return "no dates given";
  if (totals.first_day == totals.last_day) return std::string(totals.first_day);
  return std::string(totals.first_day) + " to " + std::string(totals.last_day);
}

Facts identity(const Source& source) {
  const audit::Totals& totals = source.totals;
  const rig::Provider& provider = source.options.provider;
  Facts facts{.facts = {{"Audit", source.options.number},
                        {"Issued", given(source.options.issued)},
                        {"Weighed", period_words(totals)},
                        {"Weighings", std::to_string(totals.rate.weighed) + " of " + counted(totals.rigs, "rig", "rigs") +
                                          ", " + counted(totals.clients, "client", "clients")}},
              .two_columns = true};
  if (!provider.name.empty()) facts.facts.push_back({"Provider", clipped(provider.name, 100)});
  if (!provider.contact.empty()) facts.facts.push_back({"Contact", clipped(provider.contact, 100)});
  for (const Fact& one : source.subject.filter) facts.facts.push_back({one.label, clipped(one.text, 100)});
  if (source.subject.filter.empty()) facts.facts.push_back({"Covers", "every session of the store"});
  return facts;
}

Banner banner(const Source& source) {
  const audit::Totals& totals = source.totals;
  const audit::Rate& rate = totals.rate;
  if (rate.assessed == 0) return {Tone::unknown, "NO RATING COULD BE CHECKED", {"No session has a rating that could be assessed."}};
  Banner banner{.tone = rate.outside > 0 ? Tone::over : Tone::within,
                .headline = rate.outside == 0 ? "NONE OF " + std::to_string(rate.assessed) + " WEIGHINGS OUTSIDE A RATING"
                                              : std::to_string(rate.outside) + " OF " + std::to_string(rate.assessed) +
                                                    (rate.outside == 1 ? " WEIGHINGS IS OUTSIDE A RATING"
                                                                       : " WEIGHINGS ARE OUTSIDE A RATING")};
  banner.lines.push_back("That is " + rate_words(rate) +
                         (rate.too_close > 0 ? ", " + std::to_string(rate.too_close) + " of them by less than the uncertainty."
                                             : "."));
  if (!source.breaches().empty()) {
    const audit::Breach& worst = source.breaches().front();
    const audit::Entry& entry = source.entry(worst.entry);
    const audit::Rated& rated = entry.ratings[worst.rating];
    banner.lines.push_back("Worst: " + rig_words(entry) + ", " + std::string(entry.day) + ": " +
                           rated_words(rated.of, rated.part, source.options.words) +
                           (rated.used < 1e9 ? " at " + percent(rated.used) + " of its rating." : " beyond its rating."));
  }
  const std::size_t unsure = totals.incomplete + totals.without_rating;
  if (unsure > 0)
    banner.lines.push_back(counted(unsure, "weighing has", "weighings have") +
                           " ratings that could not be checked: see the sheet Not assessed.");
  return banner;
}

void add_outcomes(const Source& source, std::vector<Block>& blocks) {
  std::array<std::size_t, outcomes.size()> counts{};
  for (const audit::Entry& entry : source.entries())
    for (std::size_t i = 0; i < outcomes.size(); ++i)
      if (entry.outcome == outcomes[i]) ++counts[i];
  Table table{.title = "What came out", .columns = {{"Outcome", 2}, {"Weighings", 1, true}, {"Share", 1, true}}};
  Columns columns{.title = "Weighings by outcome", .category_column = 0, .value_column = 2};
  const auto all = static_cast<double>(std::max<std::size_t>(source.entries().size(), 1));
  for (std::size_t i = 0; i < outcomes.size(); ++i) {
    TableRow row;
    row.cells = {text(outcome_in_words(outcomes[i])), count(counts[i]), share_cell(static_cast<double>(counts[i]) / all)};
    row.cells.front().tone = tone_of(outcomes[i]);
    table.rows.push_back(std::move(row));
    columns.tones.push_back(tone_of(outcomes[i]));
    columns.description += std::string(assess::in_words(outcomes[i])) + ": " + std::to_string(counts[i]) + ". ";
  }
  columns.rows = static_cast<int>(outcomes.size());
  columns.value_column = 1;
  blocks.emplace_back(std::move(table));
  blocks.emplace_back(std::move(columns));
}

void add_worst(const Source& source, std::vector<Block>& blocks) {
  constexpr std::size_t most = 10;
  Table table{.title = "The worst first",
              .columns = {{"Rig", 2}, {"Weighed"}, {"Rating", 2}, {"On the rig", 1, true}, {"Rated", 1, true}, {"Used", 1, true}},
              .when_empty = "Nothing is outside a rating."};
  for (const audit::Breach& breach : source.breaches()) {
    if (table.rows.size() == most) break;
    const audit::Entry& entry = source.entry(breach.entry);
    const audit::Rated& rated = entry.ratings[breach.rating];
    std::string words = rated_words(rated.of, rated.part, source.options.words);
    if (breach.band) words += " · " + clipped(breach.band->name, 40);
    TableRow row;
    row.cells = {text(rig_words(entry)), text(std::string(entry.day)), text(std::move(words)),
                 value_cell(source, rated), rating_cell(source, rated), used_cell(rated)};
    table.rows.push_back(std::move(row));
  }
  blocks.emplace_back(std::move(table));
  if (source.breaches().size() > most)
    blocks.emplace_back(Paragraph{std::to_string(source.breaches().size() - most) + " more are on the sheet Breaches.",
                                  Paragraph::Kind::note});
}

void add_doubts(const Source& source, std::vector<Block>& blocks) {
  const audit::Totals& totals = source.totals;
  std::vector<std::string> all;
  if (totals.suspect > 0)
    all.push_back(counted(totals.suspect, "session has", "sessions have") + " readings that do not fit: see Doubts.");
  const std::size_t scales = audit::scales_out_of_date_of(source.entries()).size();
  if (scales > 0)
    all.push_back(counted(scales, "scale was", "scales were") + " used after they were due: see Doubts.");
  if (totals.not_solved > 0) all.push_back(counted(totals.not_solved, "session has", "sessions have") + " no solution.");
  const auto offenders = audit::offenders_of(source.entries()).size();
  if (offenders > 0)
    all.push_back(counted(offenders, "rig was", "rigs were") + " outside a rating more than once: see Again.");
  if (!source.subject.not_weighed.empty())
    all.push_back(counted(source.subject.not_weighed.size(), "vehicle", "vehicles") +
                  " of this store were not weighed in this audit: see Not assessed.");
  if (all.empty()) return;
  blocks.emplace_back(Heading{"What else to know"});
  for (std::string& one : all) blocks.emplace_back(Paragraph{std::move(one), Paragraph::Kind::bullet});
}

}  // namespace

SheetContent summary(const Source& source) {
  SheetContent sheet{.name = "Summary", .title = "Fleet audit", .grid = {20, 18, 11, 13, 15, 11, 11, 9}};
  sheet.blocks.emplace_back(identity(source));
  sheet.blocks.emplace_back(banner(source));
  sheet.blocks.emplace_back(Paragraph{
      "Each figure holds only for the rig as it was weighed. Rigs outside a rating are not to be towed until they are "
      "corrected and weighed again. No trade or enforcement weighing. Ratings are as read, not certified here; local law, "
      "insurers and makers come first.",
      Paragraph::Kind::note});
  add_outcomes(source, sheet.blocks);
  add_worst(source, sheet.blocks);
  add_doubts(source, sheet.blocks);
  return sheet;
}

}  // namespace steelyard::reports::fleet
