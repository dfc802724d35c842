// The first page: what is different for certain, and what came of the ratings.
#include <algorithm>
#include <array>
#include <cmath>

#include "reports/comparison/content.hpp"
#include "reports/document/row_pictures.hpp"
#include "reports/document/styles.hpp"
#include "units/number.hpp"

namespace steelyard::reports::comparison {
namespace {

using assess::RigOutcome;
using compare::Compared;

constexpr std::array<std::string_view, 11> of_the_rig{
    "tow_unhitched_front", "tow_unhitched_rear", "tow_unhitched_total", "trailer_mass", "combination_mass", "coupling_load",
    "coupling_share",      "load_transfer_ratio", "overhang",           "inferred_overhang", "height_sensitivity"};

std::string weighing_words(const rig::Session& session) {
  std::string words = time_words(session.weighed.at);
  if (!session.weighed.place.empty()) words += ", " + clipped(session.weighed.place, 60);
  return words;
}

std::string trailer_words(const rig::Rig& rig) {
  return rig.trailer ? vehicle_words(rig.trailer->label, rig.trailer->registration) : "none";
}

Facts identity(const Source& source) {
  const auto& tow = source.after.rig.tow_vehicle;
  const rig::Provider& provider = source.options.provider;
  std::string trailer = trailer_words(source.after.rig);
  if (source.all.trailer == compare::Same::no) trailer += "; before: " + trailer_words(source.before.rig);
  Facts facts{.facts = {{"Comparison", source.options.number},
                        {"Issued", given(source.options.issued)},
                        {"Client", given(source.after.client.name)},
                        {"Provider", given(provider.name)},
                        {"Tow vehicle", vehicle_words(tow.label, tow.registration)},
                        {"Trailer", trailer},
                        {"Before", weighing_words(source.before)},
                        {"After", weighing_words(source.after)}},
              .two_columns = true};
  if (!provider.contact.empty()) facts.facts.push_back({"Contact", clipped(provider.contact, 100)});
  return facts;
}

/// Of the things that a reader asks about, the one whose difference is largest against its uncertainty.
const Compared* most_changed(const Source& source) {
  const Compared* most = nullptr;
  for (const Compared& row : source.all.quantities) {
    if (!row.difference || !row.difference->significant().value_or(false) || row.at) continue;
    if (row.measure != reconcile::Measure::kilogram) continue;
    if (!most || std::abs(*row.difference->en) > std::abs(*most->difference->en)) most = &row;
  }
  return most;
}

std::string difference_words(const Source& source, const Compared& row) {
  std::string words = in_figures(row.difference->value, row.difference->u, row.measure, source.wording.shown);
  if (row.difference->value > 0) words.insert(0, 1, '+');
  return words;
}

Banner banner(const Source& source) {
  const auto& all = source.all;
  std::size_t changed = 0, compared = 0;
  for (const Compared& row : all.quantities) {
    if (!row.difference || !row.difference->en) continue;
    ++compared;
    if (row.difference->significant().value_or(false)) ++changed;
  }
  Banner banner{.tone = tone_of(all.outcome_after), .headline = {}};
  std::string now(assess::in_words(all.outcome_after));
  std::transform(now.begin(), now.end(), now.begin(), [](unsigned char c) { return static_cast<char>(c < 128 ? std::toupper(c) : c); });
  banner.headline = "AFTER: " + now;
  banner.lines.push_back("Outcome " + outcome_change(all) + ".");
  banner.lines.push_back(std::to_string(changed) + " of " + std::to_string(compared) +
                         " figures differ by more than their uncertainty.");
  if (const Compared* most = most_changed(source))
    banner.lines.push_back("Clearest: " + compared_words(source, *most, true) + ", " + difference_words(source, *most) + ".");
  return banner;
}

/// Differences with their U about a line of none. Plane: pixels.
std::optional<Picture> differences_picture(const Source& source, const std::vector<const Compared*>& rows) {
  if (rows.empty()) return std::nullopt;
  constexpr double names_end = 230, width = 700, row_height = 22, head = 22, middle = 455, half = 205;
  double most = 0;
  const auto in_units = [&](double kg) { return convert(kg, reconcile::Measure::kilogram, source.wording.shown); };
  for (const Compared* row : rows)
    most = std::max(most, std::abs(in_units(row->difference->value)) + 2 * in_units(row->difference->u));
  if (most <= 0) return std::nullopt;
  Picture picture{.title = "What changed, in " + unit_word(reconcile::Measure::kilogram, source.wording.shown),
                  .note = "The dot is the difference, the line reaches as far as its U = 2u. A line that does not touch the "
                          "strong one in the middle: changed for certain."};
  Drawing& drawing = picture.drawing;
  const double bottom = -head - row_height * static_cast<double>(rows.size());
  const auto at = [&](double value) { return middle + half * value / most; };
  drawing.strokes.push_back({{{middle, -head}, {middle, bottom}}, 2, document::ink});
  drawing.labels.push_back({{middle, -head / 2}, "no change", 8, document::quiet});
  drawing.labels.push_back({{middle - half, -head / 2}, "−" + units::fixed(most, 0), 8, document::quiet});
  drawing.labels.push_back({{middle + half, -head / 2}, "+" + units::fixed(most, 0), 8, document::quiet});
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const compare::Difference& difference = *rows[i]->difference;
    const double y = -head - row_height * (static_cast<double>(i) + 0.5);
    const double value = in_units(difference.value), reach = 2 * in_units(difference.u);
    const std::uint32_t colour = difference.significant().value_or(false) ? document::brass : document::quiet;
    const std::string name = compared_words(source, *rows[i], false);
    document::put_left(drawing, {2, y}, name, 8, document::ink, names_end - 10);
    document::put_interval(drawing, {at(value - reach), at(value), at(value + reach)}, y, colour);
    drawing.description += name + ": " + difference_words(source, *rows[i]) + ". ";
  }
  drawing.low = {0, bottom - 4};
  drawing.high = {width, 0};
  return picture;
}

/// The loads of the state that the rig travels in, where both weighings have one like it.
void add_travelling(const Source& source, std::vector<const Compared*>& pictured, std::vector<Block>& blocks) {
  const rig::State* state = rig::travelling_state(source.after);
  if (!state || !state->hitched) return;
  Table table{.title = "As it travels: “" + clipped(state->name, 60) + "”", .columns = compared_columns("Load", 2)};
  for (const std::string_view name : {"tow_hitched_front", "tow_hitched_rear", "trailer_axles_hitched", "coupling_load_net"})
    if (const Compared* row = source.all.find(name, state->name); row && row->difference) {
      table.rows.push_back(compared_row(source, *row, false));
      pictured.push_back(row);
    }
  if (!table.rows.empty()) blocks.emplace_back(std::move(table));
}

}  // namespace

SheetContent summary(const Source& source) {
  SheetContent sheet{.name = "Summary", .title = "Before and after", .grid = {24, 16, 12, 12, 12, 10, 9, 14}};
  sheet.blocks.emplace_back(identity(source));
  sheet.blocks.emplace_back(banner(source));
  if (source.all.trailer == compare::Same::no)
    sheet.blocks.emplace_back(Paragraph{"Two trailers are compared: what is marked * is not a change of one thing.",
                                        Paragraph::Kind::warning});
  if (const compare::Unlike* doubt = source.all.in_doubt())
    sheet.blocks.emplace_back(Paragraph{"Readings before: " + doubt->before.value_or("") + "; after: " +
                                            doubt->after.value_or("") + ". No difference is to be trusted before the suspect "
                                            "reading is settled: weigh again, or see that session’s own report.",
                                        Paragraph::Kind::warning});
  sheet.blocks.emplace_back(Paragraph{
      "Holds only for the rig as it was weighed each time. What was not the same at both weighings stands on the sheet "
      "Conditions. No trade or enforcement weighing. Ratings are as read, not certified here; local law, insurer and makers "
      "come first.",
      Paragraph::Kind::note});
  Table table{.title = "The rig", .columns = compared_columns("Figure", 2), .when_empty = "Nothing is known at both weighings."};
  std::vector<const Compared*> pictured;
  for (const std::string_view name : of_the_rig)
    if (const Compared* row = source.all.find(name); row && row->difference) {
      table.rows.push_back(compared_row(source, *row, false));
      if (row->measure == reconcile::Measure::kilogram) pictured.push_back(row);
    }
  sheet.blocks.emplace_back(std::move(table));
  add_travelling(source, pictured, sheet.blocks);
  if (auto picture = differences_picture(source, pictured)) sheet.blocks.emplace_back(std::move(*picture));
  return sheet;
}

}  // namespace steelyard::reports::comparison
