// The sheet Advice: guidance, and what the trade would look at; opinion, apart from everything measured.
//
// Each statement says what stands behind it: statics, or common practice without a published source.
#include <algorithm>
#include <set>

#include "reports/client/content.hpp"

namespace steelyard::reports::client {
namespace {

using assess::Row;
using rig::LimitKind;

constexpr const char* unloading =
    "Only taking load off changes this mass. Moving load about, or weight distribution, does not (statics).";

/// What the trade would look at where that rating is outside or close.
std::string opinion(LimitKind kind, bool trailer) {
  switch (kind) {
    case LimitKind::tow_gross:
      if (!trailer) return unloading;
      return "Take load off the tow vehicle, or off the coupling, which the tow vehicle carries: load moved "
             "rearward in "
             "the trailer, as far as the least coupling load allows (statics).";
    case LimitKind::tow_rear:
    case LimitKind::tow_axle:
      if (!trailer)
        return "Load behind the rear axle weighs on it by more than its own mass. Move load away from the "
               "axle, or take it "
               "off (statics).";
      return "Load behind the rear axle weighs on it by more than its own mass; so does the coupling load. "
             "Move load "
             "forward, or take load off the coupling (statics).";
    case LimitKind::tow_front:
      return "Move load rearward; where weight distribution is used, a weaker setting puts less on the front "
             "axle "
             "(statics).";
    case LimitKind::tow_front_minimum_share:
      return "The coupling load lifts the front axle. Take load off the coupling or from behind the rear "
             "axle, or have "
             "weight distribution set by its maker’s instructions (statics).";
    case LimitKind::combination:
    case LimitKind::trailer_gross:
    case LimitKind::towed_mass:
    case LimitKind::towed_mass_unbraked:
    case LimitKind::mass_ratio:
    case LimitKind::d_value:
    case LimitKind::dc_value:
      return unloading;
    case LimitKind::trailer_axles:
      return "Take load off the trailer; load moved forward in it rests on the coupling instead, as far as "
             "the coupling’s "
             "and the tow vehicle’s ratings allow (statics).";
    case LimitKind::trailer_axle:
      return "How a group’s axles share their load depends on the height of the coupling: have it weighed "
             "again at the "
             "height that the trailer’s maker names (statics); else take load off.";
    case LimitKind::coupling:
    case LimitKind::coupling_share_maximum:
      return "Move load rearward in the trailer, not below the least coupling load. Weight distribution does "
             "not relieve "
             "the coupling (statics).";
    case LimitKind::coupling_minimum:
    case LimitKind::coupling_share_minimum:
      return "Move load forward in the trailer, within the ratings of the coupling and of the rear axle "
             "(statics). A "
             "trailer that is light in the nose can sway (common practice).";
    case LimitKind::wheel:
    case LimitKind::side_difference:
      return "Move load across to the lighter side, and see that the ground was level and the tyres hold "
             "their pressure "
             "(common practice).";
    case LimitKind::front_axle_restoration_minimum:
    case LimitKind::front_axle_restoration_maximum:
      return "Have weight distribution set as the tow vehicle’s handbook says, never to more than the front "
             "axle lost "
             "(guidance of a standards committee, SAE J2807).";
  }
  return {};
}

bool calls_for_advice(const Row& row) {
  return row.travels &&
         (row.outcome == assess::Outcome::fail || row.outcome == assess::Outcome::conditional_fail ||
          row.outcome == assess::Outcome::conditional_pass);
}

void add_opinions(const Source& source, std::vector<Block>& blocks) {
  Table table{
      .title = "Opinion: what the trade would look at",
      .columns = {{"Rating or guidance", 2}, {"Outcome", 2}, {"Opinion", 6}},
      .when_empty = "No rating and no guidance is outside or close to it: there is nothing to advise."};
  std::set<std::string> said;
  for (const bool guidance : {false, true})
    for (const Row& row : source.assessment.rows) {
      if (row.advice != guidance || !calls_for_advice(row)) continue;
      if (!said.insert(row_words(source, row)).second) continue;
      Cell outcome = text(outcome_words(row.outcome, row.minimum));
      outcome.tone = tone_of(row.outcome);
      const auto& rig = source.session.rig;
      table.rows.push_back({{text(row_words(source, row)), outcome,
                             text(source.wording(opinion(rig.limits.at(row.limit).kind, rig.trailer.has_value())))}});
    }
  blocks.emplace_back(std::move(table));
}

}  // namespace

SheetContent advice(const Source& source) {
  SheetContent sheet{.name = "Advice",
                     .title = "Advice: opinion, nothing here was measured",
                     .landscape = true,
                     .grid = {30, 13, 10, 11, 9, 11, 10, 21, 25, 25}};
  sheet.blocks.emplace_back(
      Paragraph{"This sheet is opinion, apart from the measurements. Guidance is no rating and no part of "
                "the outcome. What "
                "to change on a rig is for its owner to decide, with its makers.",
                Paragraph::Kind::note});
  sheet.blocks.emplace_back(limit_table(source, true));
  add_opinions(source, sheet.blocks);
  sheet.blocks.emplace_back(Heading{"In every case"});
  std::vector<std::string> always{
      "Whatever is changed, weigh again before relying on it: a new state, beside this one (common "
      "practice).",
      "A rating changes only by the vehicle’s maker, a licensed engineer or the approved certifier of the "
      "place."};
  if (source.session.rig.trailer)
    always.emplace_back(
        "Weight distribution cures neither the trailer’s mass nor the combination’s nor the coupling’s: it "
        "moves load between axles (statics).");
  for (std::string& one : always)
    sheet.blocks.emplace_back(Paragraph{source.wording(one), Paragraph::Kind::bullet});
  return sheet;
}

}  // namespace steelyard::reports::client
