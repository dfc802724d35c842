// The sheet Method: how it was weighed and computed, what was assumed, by which rule it was decided.
#include <cmath>

#include "reports/client/content.hpp"
#include "reports/words/scales.hpp"
#include "units/number.hpp"

namespace steelyard::reports::client {
namespace {

std::string identity_words(const std::string& label, const std::string& registration, const std::string& vin,
                           const std::string& uid) {
  std::string words = vehicle_words(label, registration);
  if (!vin.empty()) words += ", VIN " + clipped(vin, 40);
  if (!uid.empty()) words += ", identity " + clipped(uid, 60);
  return words;
}

std::string trailer_words(const rig::Trailer& trailer) {
  std::string words = std::to_string(trailer.axles) + (trailer.axles == 1 ? " axle" : " axles");
  if (trailer.self_supporting) return words + ", stands on its own axles";
  switch (trailer.suspension_or_default()) {
    case rig::Suspension::independent:
      return words + ", sprung independently";
    case rig::Suspension::load_sharing:
      return words + ", load-sharing";
    case rig::Suspension::single:
      break;
  }
  return words;
}

Facts items(const Source& source) {
  const auto& session = source.session;
  const auto& tow = session.rig.tow_vehicle;
  Facts facts;
  const auto add = [&](std::string label, std::string words) {
    facts.facts.push_back({std::move(label), std::move(words)});
  };
  add("Report", source.number + ", session " + clipped(session.id, 80) + ", revision " +
                    std::to_string(session.revision));
  if (!source.options.record)
    for (Fact& fact : record_facts(source)) facts.facts.push_back(std::move(fact));
  add("Tow vehicle", identity_words(tow.label, tow.registration, tow.vin, tow.uid) + "; " +
                         std::to_string(tow.axles.size()) + " axles");
  if (const auto& trailer = session.rig.trailer)
    add("Trailer", identity_words(trailer->label, trailer->registration, "", trailer->uid) + "; " +
                       trailer_words(*trailer));
  const std::string provider = provider_words(source.options.provider);
  add("Who weighed", given(session.weighed.technician) + "; " + (provider.empty() ? "provider not given" : provider));
  add("Condition", "as presented; what was aboard is on the sheet Readings");
  add("Weighed", time_words(session.weighed.at) + ", at " + given(session.weighed.place));
  add("Issued", given(source.options.issued) + ", computed with Steelyard " + given(source.options.engine));
  return facts;
}

/// Overleaf from the front page, where there is room for the digits.
void add_record(const Source& source, std::vector<Block>& blocks) {
  if (!source.options.record) return;
  blocks.emplace_back(Heading{"The record"});
  blocks.emplace_back(Facts{.facts = record_facts(source)});
  if (source.options.record->sealed)
    blocks.emplace_back(Paragraph{
        "The digits are SHA-256. The seal is made of this session’s whole content, of the figures issued with it "
        "and of every seal before it. Years later `steelyard verify --head` holds a store against it, and whatever "
        "was changed since shows.",
        Paragraph::Kind::note});
}

std::vector<std::string> how() {
  return {
      "Portable scales stood under the wheels and, where the trailer stood alone, under its nose. Each state "
      "of the rig was "
      "weighed by itself; the sheet Readings names the states and every figure as it was entered.",
      "The rig obeys statics: in every state the loads of a vehicle add up to its mass and balance about its "
      "axles. All "
      "readings together are fitted to these equations by weighted least squares, each with the uncertainty "
      "of its scale, its "
      "placement, the ground and the tape. The equations hold exactly.",
      "So every reading takes part in every figure, and the readings that are more than enough show how well "
      "they agree: the "
      "sheet Fit. A reading that was set aside takes no part and stays on record.",
      "What the readings do not settle is reported as not determined, with what to weigh for it, and is "
      "never guessed."};
}

std::vector<std::string> rule() {
  return {
      "u is a standard uncertainty (JCGM 100, the GUM), U = 2u the expanded one, which covers about 95 %.",
      "Within: the margin is at least U. Within, but too close to be sure: the margin is less than U. Over, "
      "but too close to be "
      "sure: over by no more than U. Over: by more than U. This is the guard band of ILAC-G8:09/2019; for a "
      "minimum, over reads "
      "below.",
      "The chance of a breach is the probability that the true value is beyond the rating (JCGM 106).",
      "The rig’s outcome is the worst one of its ratings in the state it travels in. A rating that could not "
      "be assessed keeps "
      "the outcome from being a pass. Advice takes no part."};
}

/// "0.15 kg/mm", in the units of a reader who has a region's.
std::string per_height(const Source& source, double kg_per_mm) {
  constexpr auto measure = reconcile::Measure::kilogram_per_millimetre;
  if (source.wording.plain()) return units::shortest(kg_per_mm) + ' ' + unit_word(measure, {});
  const double value = convert(kg_per_mm, measure, source.shown);
  const double ten = std::pow(10.0, three_digits(value));
  return units::shortest(std::round(value * ten) / ten) + ' ' + unit_word(measure, source.shown);
}

std::string u_words(double value) {
  return units::shortest(value);
}

/// What was not measured and so stands at the trade's default, and what the sheet set itself.
std::vector<std::string> assumptions(const Source& source) {
  const auto& session = source.session;
  const auto& tow = session.rig.tow_vehicle;
  const Wording& wording = source.wording;
  std::vector<std::string> all{
      "The figures below are common practice of the trade; no published source stands behind them."};
  all.push_back("Setting a wheel down again on a scale repeats within u = " +
                u_words(100 * session.placement_u.value_or(0.002)) + " % of its load" +
                (session.placement_u ? ", as this session states." : "."));
  if (!tow.wheelbase_u) all.push_back(wording("The wheelbase is known within u = 5 mm."));
  if (!tow.overhang) all.emplace_back("The overhang was not taped; it follows from the weights alone.");
  if (tow.overhang && !tow.overhang->u)
    all.push_back(wording("The tape of the overhang is good within u = 10 mm."));
  if (const auto& trailer = session.rig.trailer; trailer && !trailer->self_supporting) {
    if (!trailer->coupling_to_axles)
      all.push_back(wording(
          "The distance from the coupling to the trailer’s axles was not measured: 4000 mm, u = 1500 mm."));
    all.push_back("Where a coupling height was not measured, u = " +
                  (session.assumptions.unmeasured_height_u
                       ? as_entered(*session.assumptions.unmeasured_height_u)
                       : wording("18 mm")) +
                  wording("; measured without a stated uncertainty, 5 mm."));
    const bool single = trailer->suspension_or_default() != rig::Suspension::independent;
    all.push_back(
        wording("The coupling load changes with its height by ") + per_height(source, 0) + ", u = " +
        per_height(source, session.assumptions.height_sensitivity_u.value_or(single ? 0.15 : 1.0)) + ".");
  }
  all.emplace_back("Ground said to be level, or not measured, is level within u = 2 mm per m.");
  all.push_back("A scale of unknown gain: u = 0.3 % of its load; a reading on an unknown scale, u = " +
                u_words(100 * session.assumptions.anonymous_gain_u.value_or(0.003)) +
                " % in common and 0.3 % of its own.");
  return all;
}

std::vector<std::string> limitations() {
  return {"These results are of the items weighed only, as presented, on the day and at the place named.",
          "No accreditation is claimed. The report’s contents follow the pattern of ISO/IEC 17025:2017, 7.8.",
          "Ratings, identities, the client’s reference, the purpose, what was carried and the masses of modifications "
          "(marked † or with their source) were supplied by "
          "the client or read from the sources named; they were not verified.",
          "Loads at single wheels and axles are as the site gave them; loads of the whole vehicle and of its "
          "axle groups are "
          "those on level ground.",
          "The sheet Advice is opinion, apart from the measurements; the sheet Room is computed from them.",
          "The report may be passed on only whole."};
}

}  // namespace

SheetContent method(const Source& source) {
  SheetContent sheet{.name = "Method", .title = "Method, rule and signature", .grid = {27, 4, 21, 34, 4, 19}};
  sheet.blocks.emplace_back(Heading{"The items, and this report"});
  sheet.blocks.emplace_back(items(source));
  add_record(source, sheet.blocks);
  bullets(sheet.blocks, "How it was weighed and computed", how());
  bullets(sheet.blocks, "What departs from the method", departures(source));
  bullets(sheet.blocks, "The rule of decision", rule());
  bullets(sheet.blocks, "What was assumed", assumptions(source));
  bullets(sheet.blocks, "What these results cover", limitations());
  sheet.blocks.emplace_back(Heading{"Standards named"});
  sheet.blocks.emplace_back(
      Paragraph{"JCGM 100:2008 and JCGM 106:2012 (uncertainty; its part in conformity) · ILAC-G8:09/2019 "
                "(rules of decision) · OIML R 76-1 "
                "(scales) · EURAMET cg-18 (uncertainty of scales) · VDI 2048 (reconciliation of measured "
                "data) · ISO/IEC 17025:2017, 7.8 "
                "(reports) · UN Regulation 55 (D-value)",
                Paragraph::Kind::note});
  sheet.blocks.emplace_back(Signature{
      source.session.weighed.technician.empty() ? "" : clipped(source.session.weighed.technician, 80)});
  return sheet;
}

}  // namespace steelyard::reports::client
