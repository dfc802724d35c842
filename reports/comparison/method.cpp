// How differences are judged, and what they do not say.
#include <set>

#include "reports/comparison/content.hpp"
#include "reports/words/cautions.hpp"

namespace steelyard::reports::comparison {
namespace {

std::string common_words(const Source& source) {
  std::set<std::string> names;
  for (const compare::CommonError& error : source.all.common)
    names.insert(error.scale.empty() ? observation_words(error.kind, source.wording) : "scale " + clipped(error.scale, 40));
  if (names.empty()) return "No error is known to be common to both weighings, so both uncertainties count in full.";
  std::string words;
  for (const std::string& name : names) words += (words.empty() ? "" : ", ") + name;
  return "Common to both weighings, and so counted once: " + words + ".";
}

}  // namespace

SheetContent method(const Source& source) {
  SheetContent sheet{.name = "Method", .title = "Method, rule and signature", .grid = {27, 4, 21, 34, 4, 19}};
  sheet.blocks.emplace_back(Heading{"This comparison"});
  Facts facts{.facts = provider_facts(source.options.provider)};
  facts.facts.insert(facts.facts.end(),
                     {{"Before", "session " + clipped(source.before.id, 60) + ", revision " + std::to_string(source.before.revision)},
                      {"After", "session " + clipped(source.after.id, 60) + ", revision " + std::to_string(source.after.revision)},
                      {"Weighed by", given(source.before.weighed.technician) + "; " + given(source.after.weighed.technician)},
                      {"Computed by", "Steelyard " + source.options.engine}});
  sheet.blocks.emplace_back(std::move(facts));
  bullets(sheet.blocks, "How differences are judged",
          {"Each weighing is reconciled by itself, and its figures are those of its own report.",
           "A difference is after less before. Its uncertainty counts once what both weighings have in common: the gain of a "
           "scale that was used in both and not calibrated in between, a length that was measured once and stands in both.",
           common_words(source),
           "U = 2u covers about 95 % (JCGM 100). Eₙ is the difference over its U (ISO 13528). From 1 on it is more than the "
           "weighings can be off: changed. Below 1 it may be none: not sure.",
           "One figure in twenty differs so by chance. Of many figures a few do."});
  bullets(sheet.blocks, "What this comparison does not say",
          {"Each figure holds for the rig as it stood on the scales that day. What was not the same at both weighings is in "
           "the difference too.",
           caution::no_trade_weighing,
           "Ratings are those read from the sources named. They are not certified here, and something that was fitted does not "
           "change one: only the maker, a licensed engineer or the approved certifier of the place can. Local law, insurers and "
           "the makers’ own instructions come first.",
           caution::over_a_rating});
  sheet.blocks.emplace_back(Heading{"Standards named"});
  sheet.blocks.emplace_back(
      Paragraph{"JCGM 100:2008 (uncertainty, correlation: 5.2) · ISO 13528:2022 and ISO/IEC 17043:2023 (Eₙ) · ILAC-G8:09/2019 "
                "(rules of decision) · ISO/IEC 17025:2017, 7.8 (reports; no accreditation is claimed)",
                Paragraph::Kind::note});
  sheet.blocks.emplace_back(Signature{clipped(source.after.weighed.technician, 80)});
  return sheet;
}

}  // namespace steelyard::reports::comparison
