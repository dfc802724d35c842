// How the audit counts, by which bands, and what it does not say.
#include "reports/fleet/content.hpp"
#include "reports/words/cautions.hpp"
#include "units/number.hpp"

namespace steelyard::reports::fleet {
namespace {

std::string begins_words(const assess::OverloadBand& band, const ShownUnits& units) {
  std::string words;
  if (band.from_ratio > 1 || band.from_over == 0) words = "from " + units::shortest(100 * band.from_ratio) + " % of the rating";
  if (band.from_over > 0)
    words += std::string(words.empty() ? "from " : ", and at least ") +
             in_figures(band.from_over, std::nullopt, reconcile::Measure::kilogram, units) + " over";
  if (band.from_ratio <= 1 && band.from_over == 0) words = "above the rating";
  return words;
}

void add_bands(const Source& source, std::vector<Block>& blocks) {
  const assess::OverloadBands& bands = source.subject.bands;
  if (bands.bands.empty()) {
    blocks.emplace_back(Heading{"Overload bands"});
    blocks.emplace_back(Paragraph{
        "None are set in this store, and none is built in: what is over is sorted by how much of its rating it uses.",
        Paragraph::Kind::body});
    return;
  }
  Table table{.title = "Overload bands", .columns = {{"Band"}, {"Begins", 2}}};
  for (const assess::OverloadBand& band : bands.bands)
    table.rows.push_back({{text(clipped(band.name, 60)), text(begins_words(band, source.options.units))}});
  blocks.emplace_back(std::move(table));
  std::string words = "Source: " + clipped(bands.source, 200);
  if (!bands.edition.empty()) words += ", " + clipped(bands.edition, 60);
  if (!bands.jurisdiction.empty()) words += ", " + clipped(bands.jurisdiction, 60);
  blocks.emplace_back(Paragraph{words + ". They sort what is over; they allow nothing.", Paragraph::Kind::note});
}

Facts who(const Source& source) {
  Facts facts{.facts = provider_facts(source.options.provider)};
  facts.facts.insert(facts.facts.end(), {{"Audit", source.options.number},
                                         {"Issued", given(source.options.issued)},
                                         {"Computed by", "Steelyard " + source.options.engine}});
  for (const Fact& one : source.subject.filter) facts.facts.push_back({one.label, clipped(one.text, 100)});
  return facts;
}

}  // namespace

SheetContent method(const Source& source) {
  SheetContent sheet{.name = "Method", .title = "Method, rule and signature", .grid = {27, 4, 21, 34, 4, 19}};
  sheet.blocks.emplace_back(Heading{"This audit"});
  sheet.blocks.emplace_back(who(source));
  bullets(sheet.blocks, "How it counts",
          {"Every session that passes the filter is reconciled anew from its readings, as its own report does: all readings of "
           "a rig together, by least squares under the statics of the rig. Nothing is computed from stored results.",
           "What is counted are weighings. A rig that was weighed, corrected and weighed again counts twice.",
           "A rig’s outcome is the worst of its ratings in the state it travels in. Outside a rating: a load reads over it, or "
           "a minimum is not reached, be it by less than the uncertainty. Of several ratings of one kind the lowest counts.",
           "A rate is the share of weighings outside a rating among those with at least one rating assessed. Its interval is "
           "Wilson’s at 95 %. It supposes weighings that have nothing to do with each other; rigs picked because somebody "
           "was worried about them say nothing of those that were not.",
           "Used: the load as a part of its rating. Of a minimum, the rating as a part of the load."});
  bullets(sheet.blocks, "The rule of decision",
          {"u is a standard uncertainty (JCGM 100), U = 2u the expanded one, which covers about 95 %.",
           "Within: the margin is at least U. Within, but too close to be sure: less than U. Over, but too close to be sure: "
           "over by no more than U. Over: by more than U. This is the guard band of ILAC-G8:09/2019."});
  add_bands(source, sheet.blocks);
  bullets(sheet.blocks, "What this audit does not say",
          {"Each figure holds for the rig as it stood on the scales. Any change of fuel, water, people or load changes it.",
           caution::no_trade_weighing,
           "Ratings are those read from the sources named in each session. They are not certified here. Local law, licence "
           "conditions, insurers and the makers’ own instructions come first.",
           caution::who_changes_a_rating,
           caution::over_a_rating,
           "A rig that was not weighed is not known to be within anything."});
  sheet.blocks.emplace_back(Heading{"Standards named"});
  sheet.blocks.emplace_back(Paragraph{
      "JCGM 100:2008 and JCGM 106:2012 (uncertainty; its part in conformity) · ILAC-G8:09/2019 (rules of decision) · Wilson, "
      "J. Am. Stat. Assoc. 22 (1927) 209 (intervals of a share) · ISO/IEC 17025:2017, 7.8 (reports; no accreditation is claimed)",
      Paragraph::Kind::note});
  sheet.blocks.emplace_back(Signature{clipped(source.options.provider.name, 80)});
  return sheet;
}

}  // namespace steelyard::reports::fleet
