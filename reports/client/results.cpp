// The sheets Results (every quantity) and Fit (how each observation agrees with the rest).
#include <cmath>
#include <set>

#include "reports/client/content.hpp"
#include "reports/words/suspicion.hpp"
#include "units/number.hpp"

namespace steelyard::reports::client {
namespace {

using reconcile::Measure;

TableRow quantity_row(const Source& source, const reconcile::Quantity& quantity) {
  const bool share = is_share(quantity.name);
  TableRow row;
  row.cells.resize(10);
  row.cells[0] = text(quantity_words(quantity.name, source.wording));
  row.cells[1] = text(clipped(quantity.state.value_or("")));
  row.cells[2] = text(quantity.at ? place_words(*quantity.at, source.wording) : std::string());
  row.cells[8] = text(share ? std::string() : unit_word(quantity.measure, source.shown));
  if (!quantity.determinable) {
    row.cells[3] = text("unknown");
    row.cells[9] =
        text(quantity.needs ? clipped(source.wording.around_names(quantity.needs->text, source.session), 400)
                            : "not determinable");
    return row;
  }
  row.cells[3] = figure(quantity.value, quantity.u, quantity.measure, source.shown, share);
  row.cells[3].bold = true;
  row.cells[4] = figure(quantity.u, quantity.u, quantity.measure, source.shown, share);
  row.cells[5] = expanded(quantity.u, quantity.measure, source.shown, share);
  if (quantity.interval) {
    row.cells[6] = figure(quantity.interval->first, quantity.u, quantity.measure, source.shown, share);
    row.cells[7] = figure(quantity.interval->second, quantity.u, quantity.measure, source.shown, share);
  }
  return row;
}

std::string units_note(const Source& source) {
  if (as_stored(source.shown)) return "Loads are in kg, the mass that a scale shows; lengths in mm.";
  // "Lengths in in" reads badly.
  if (!source.wording.plain() && source.shown == ShownUnits{units::LoadUnit::pound, units::LengthUnit::inch})
    return "Loads are in pounds (lb), lengths in inches (in), converted exactly (1 lb = 0.45359237 kg, 1 in "
           "= 25.4 mm) "
           "from the result in kg and mm.";
  return "Loads are in " + std::string(units::symbol(source.shown.load)) + ", lengths in " +
         std::string(units::symbol(source.shown.length)) +
         ", converted exactly (1 lb = 0.45359237 kg, 1 in = 25.4 mm) from the result in kg and mm.";
}

std::string fit_words(const reconcile::Fit& fit) {
  if (fit.degrees_of_freedom == 0) return "cannot be tested: there are no more observations than unknowns";
  if (!fit.consistent) return "cannot be tested";
  return *fit.consistent ? "✓ the readings agree within their uncertainties"
                         : "✕ the readings do not agree within their uncertainties";
}

Facts fit_facts(const reconcile::Fit& fit) {
  Facts facts;
  const auto add = [&](std::string label, std::string words) {
    facts.facts.push_back({std::move(label), std::move(words)});
  };
  add("Agreement", fit_words(fit));
  add("Observations, unknowns, degrees of freedom", std::to_string(fit.observations) + ", " +
                                                        std::to_string(fit.unknowns) + ", " +
                                                        std::to_string(fit.degrees_of_freedom));
  if (fit.p_value)
    add("Chi-square, p", units::fixed(fit.chi_square, 2) + ", p = " +
                             (*fit.p_value < 0.0001 ? "below 0.0001" : units::fixed(*fit.p_value, 4)));
  if (fit.overhang_held)
    add("Overhang", "held at the tape or at common practice: the readings alone did not settle it");
  return facts;
}

/// Whose observation it is: the place of a reading, the scale of a gain, the kind of the rest.
std::string observation_name(const Source& source, const reconcile::Observation& observation) {
  std::string name = observation.at ? place_words(*observation.at, source.wording)
                                    : observation_words(observation.kind, source.wording);
  if (observation.id) name += " [" + clipped(*observation.id, 40) + "]";
  return name;
}

TableRow observation_row(const Source& source, const reconcile::Observation& observation, bool suspect) {
  const Measure measure = measure_of(observation.kind);
  const auto cell = [&](double value, double u) { return figure(value, u, measure, source.shown); };
  TableRow row;
  row.cells.resize(12);
  std::string scales;
  for (const auto& scale : observation.scales) scales += (scales.empty() ? "" : " + ") + clipped(scale, 40);
  row.cells[0] = text(observation_name(source, observation));
  row.cells[1] = text(clipped(observation.state.value_or("")));
  row.cells[2] = text(scales);
  row.cells[3] = cell(observation.value, observation.u);
  row.cells[4] = cell(observation.u, observation.u);
  row.cells[5] = cell(observation.fitted, observation.u);
  row.cells[6] = cell(observation.residual, observation.u);
  std::get<Number>(row.cells[6].value).show_sign = true;
  row.cells[7] = text(unit_word(measure, source.shown));
  row.cells[8] = {.value = Number{.value = observation.redundancy, .decimals = 3}};
  if (!observation.normalised_residual || !observation.smallest_detectable) {
    row.cells[11] = text("unchecked");
    return row;
  }
  row.cells[9] = {.value =
                      Number{.value = *observation.normalised_residual, .decimals = 2, .show_sign = true}};
  row.cells[10] = cell(*observation.smallest_detectable, observation.u);
  row.cells[11] = text(suspect ? "✕ does not fit" : "checked");
  row.cells[11].tone = suspect ? Tone::over : Tone::none;
  return row;
}

/// "May have happened: …; or, fitting as well: …" Those that fit less well are left to the weigher's table.
std::string explained(const Source& source, const reconcile::SuspectSet& set) {
  std::string words;
  for (const auto& explanation : set.explanations) {
    if (!explanation.tied) break;
    words += (words.empty() ? "May have happened: " : "; or, fitting as well: ") +
             explanation_words(source.findings, explanation, source.wording);
  }
  return words;
}

void add_suspects(const Source& source, std::vector<Block>& blocks) {
  const auto& findings = source.findings;
  if (findings.suspects.empty()) return;
  blocks.emplace_back(Heading{"What does not fit"});
  for (const auto& set : findings.suspects) {
    std::string words =
        set.members.size() > 1 ? "One of these is off; the readings cannot tell which: " : "This is off: ";
    bool first = true;
    for (const auto& member : set.members) {
      const auto& observation = findings.observations.at(member.observation);
      words += (first ? "" : "; ") + suspect_name(observation, source.wording) +
               suspect_size(observation, member.estimated_error, source.shown);
      first = false;
    }
    blocks.emplace_back(Paragraph{clipped(words, 900) + ".", Paragraph::Kind::warning});
    const std::string why = explained(source, set);
    if (!why.empty()) blocks.emplace_back(Paragraph{clipped(why, 900) + ".", Paragraph::Kind::note});
    if (set.next_reading)
      blocks.emplace_back(Paragraph{
          clipped("To be sure, weigh: " + next_reading_words(*set.next_reading, source.wording), 300) + ".",
          Paragraph::Kind::note});
  }
  blocks.emplace_back(Paragraph{"These are proposals: no reading was altered.", Paragraph::Kind::note});
}

}  // namespace

SheetContent results(const Source& source) {
  SheetContent sheet{.name = "Results",
                     .title = "Results",
                     .landscape = true,
                     .grid = {40, 15, 21, 11, 9, 10, 10, 10, 8, 30}};
  sheet.blocks.emplace_back(Paragraph{units_note(source) +
                                          " u is the standard uncertainty, U = 2u the expanded one (about 95 "
                                          "%). Cells hold the whole figure; "
                                          "what is shown is rounded to the uncertainty.",
                                      Paragraph::Kind::note});
  Table table{.title = "Every quantity",
              .columns = {{"Quantity"},
                          {"State"},
                          {"Where"},
                          {"Value", 1, true},
                          {"u", 1, true},
                          {"U", 1, true},
                          {"95 % from", 1, true},
                          {"to", 1, true},
                          {"Unit"},
                          {"To determine it"}},
              .when_empty = "There are no results.",
              .repeat_head = true};
  for (const auto& quantity : source.findings.quantities)
    table.rows.push_back(quantity_row(source, quantity));
  sheet.blocks.emplace_back(std::move(table));
  return sheet;
}

SheetContent fit(const Source& source) {
  SheetContent sheet{.name = "Fit",
                     .title = "How the readings fit together",
                     .landscape = true,
                     .grid = {34, 15, 11, 11, 9, 11, 11, 8, 11, 11, 12, 22}};
  sheet.blocks.emplace_back(fit_facts(source.findings.fit));
  add_suspects(source, sheet.blocks);
  sheet.blocks.emplace_back(
      Paragraph{"Residual: what was read less what fits all readings together. Redundancy: 0, nothing checks "
                "it; 1, fully checked. "
                "Normalised residual: beyond about 3 an error is likely. Unchecked: nothing checks it, an "
                "error there would not be noticed. Noticed from: the smallest error "
                "that would be noticed four "
                "times in five.",
                Paragraph::Kind::note});
  std::set<std::size_t> suspects;
  for (const auto& set : source.findings.suspects)
    for (const auto& member : set.members) suspects.insert(member.observation);
  Table table{.title = "Every observation",
              .columns = {{"Observation"},
                          {"State"},
                          {"Scale"},
                          {"Value", 1, true},
                          {"u", 1, true},
                          {"Fitted", 1, true},
                          {"Residual", 1, true},
                          {"Unit"},
                          {"Redundancy", 1, true},
                          {"Normalised", 1, true},
                          {"Noticed from", 1, true},
                          {"Remark"}},
              .when_empty = "There are no observations.",
              .repeat_head = true};
  const auto& observations = source.findings.observations;
  for (std::size_t i = 0; i < observations.size(); ++i)
    table.rows.push_back(observation_row(source, observations[i], suspects.contains(i)));
  sheet.blocks.emplace_back(std::move(table));
  return sheet;
}

}  // namespace steelyard::reports::client
