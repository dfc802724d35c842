// The Summary: what a client has to know, in the order of the questions asked: is it within, by how much,
// what does the coupling do, what is not known, what does this not say.
#include <algorithm>
#include <cctype>
#include <cmath>
#include <set>

#include "reports/client/cautions.hpp"
#include "reports/client/content.hpp"
#include "reports/client/deciding.hpp"
#include "reports/words/record.hpp"
#include "reports/words/rows.hpp"
#include "units/number.hpp"

namespace steelyard::reports::client {
namespace {

using assess::Outcome;
using assess::RigOutcome;
using assess::Row;

// Said where nobody can miss it; the cautions in full follow further down.
constexpr const char* first_page_caution =
    "Holds only for the rig as it was weighed: any change of load changes it. No trade or enforcement "
    "weighing. Ratings are "
    "as read, not certified here; local law, insurer and makers come first. "
    "† As the client stated it. All cautions stand further down.";

Fact fact(std::string label, std::string text) {
  return {std::move(label), std::move(text)};
}

std::string sealed_words(const rig::RecordNote& record) {
  const std::string at = time_words(record.sealed_at);
  return record.sealed_by.empty() ? at : "by " + clipped(record.sealed_by, 40) + ", " + at;
}

/// Nobody may take one of two contradicting copies, or one that was replaced, for the last word.
void add_record_warnings(const Source& source, std::vector<Block>& blocks) {
  if (!source.options.record) return;
  for (const RecordLine& line : record_lines(*source.options.record))
    if (line.warning) {
      std::string words = clipped(line.text, 300) + ".";
      words.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(words.front())));
      blocks.emplace_back(Paragraph{std::move(words), Paragraph::Kind::warning});
    }
}

Facts identity(const Source& source) {
  const rig::Session& session = source.session;
  const auto& tow = session.rig.tow_vehicle;
  std::string number = source.number;
  if (!session.replaces.empty() || session.revised) number += ", an amendment: see Method";
  const auto& trailer = session.rig.trailer;
  std::string client = given(session.client.name);
  if (!session.client.reference.empty()) client += ", " + clipped(session.client.reference, 40) + " †";
  Facts facts{.facts = {fact("Report", number), fact("Issued", given(source.options.issued)),
                    fact("Client", client), fact("Weighed", time_words(session.weighed.at)),
                    fact("Tow vehicle", vehicle_words(tow.label, tow.registration)),
                    fact("Place", given(session.weighed.place)),
                    fact("Trailer", trailer ? vehicle_words(trailer->label, trailer->registration) : "none"),
                    fact("Weighed by", given(session.weighed.technician))},
              .two_columns = true};
  if (const auto& record = source.options.record) {
    facts.facts.push_back(fact("Record", record->sealed ? record_standing(*record) + "; digits on the sheet Method"
                                                        : "not sealed: can still change"));
    if (record->sealed) facts.facts.push_back(fact("Sealed", sealed_words(*record)));
  }
  return facts;
}

/// The outcome as a headline is set: in capitals.
std::string capitals(std::string text) {
  for (char& c : text) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  return text;
}

Banner banner(const Source& source, const std::vector<const Row*>& rows) {
  const RigOutcome outcome = source.assessment.outcome;
  Banner banner{.tone = tone_of(outcome), .headline = capitals(verdict_headline(outcome)), .lines = {verdict_meaning(outcome)}};
  if (const Row* row = nearest(rows))
    banner.lines.push_back((row->outcome == Outcome::pass ? "Nearest: " : "What decides it: ") +
                           row_words(source, *row) + " is " + row_value(source, *row) + " against " +
                           row_rating(source, *row) + ": " + row_margin(source, *row) + ".");
  if (const rig::State* state = source.travels())
    banner.lines.push_back(
        (source.session.rig.trailer ? "As the rig travels: state “" : "As weighed: state “") +
        clipped(state->name, 60) + "”, " + state_words(*state, source.wording) + ".");
  return banner;
}

/// ": tow vehicle axle 2, left, state “together”" for the likeliest suspect, and how many others it may be.
std::string suspect_words(const Source& source) {
  const auto& findings = source.findings;
  if (findings.suspects.empty() || findings.suspects.front().members.empty()) return {};
  const auto& members = findings.suspects.front().members;
  const auto& likeliest = findings.observations.at(members.front().observation);
  std::string words = ": " + (likeliest.at ? place_words(*likeliest.at, source.wording)
                                           : observation_words(likeliest.kind, source.wording));
  if (likeliest.state) words += ", state “" + clipped(*likeliest.state, 30) + "”";
  if (members.size() > 1) words += ", or one of " + std::to_string(members.size() - 1) + " more";
  return words;
}

std::string doubts(const Source& source, const std::vector<const Row*>& rows) {
  const auto& fit = source.findings.fit;
  const bool rests_on_suspect =
      std::any_of(rows.begin(), rows.end(), [](const Row* row) { return row->suspect; });
  if (rests_on_suspect)
    return "A reading behind this outcome does not fit the others" + suspect_words(source) +
           ". Weigh it again first; see the sheet Fit.";
  if (fit.consistent && !*fit.consistent)
    return "The readings do not agree within their uncertainties: weigh again what the sheet Fit names.";
  if (fit.degrees_of_freedom == 0)
    return "No reading is more than needed, so nothing checks them: a wrong one would not be noticed.";
  return {};
}

void add_coupling(const Source& source, std::vector<Block>& blocks) {
  const auto* coupling = source.known("coupling_load");
  Facts facts;
  if (coupling) {
    std::string words = in_figures(coupling->value, coupling->u, coupling->measure, source.shown);
    if (const auto* share = source.known("coupling_share"))
      words += ", which is " + in_percent(share->value, share->u) + " of the trailer’s mass";
    facts.facts.push_back(fact(source.wording("Coupling load"), words));
    if (coupling->value - 2 * coupling->u <= 0)
      facts.facts.push_back(
          fact("Caution",
               source.wording("The coupling load is negative or near nothing: the trailer can sway, and can "
                              "tip when it is unhitched. Move load forward and weigh again.")));
  }
  if (auto words = transfer_words(source)) {
    words->front() = 'E';  // of "each"
    facts.facts.push_back(fact("What it does", *words + "."));
  }
  const rig::State* state = source.travels();
  const auto* restored = state ? source.known("front_axle_restoration", state->name) : nullptr;
  if (restored)
    facts.facts.push_back(fact(source.wording("Weight distribution"),
                               "Brings back " + in_percent(restored->value, restored->u) +
                                   " of what the front axle lost. It changes neither the trailer’s "
                                   "mass nor the combination’s."));
  if (facts.facts.empty()) return;
  blocks.emplace_back(Heading{"What the coupling does"});
  blocks.emplace_back(std::move(facts));
}

void add_unknowns(const Source& source, std::vector<Block>& blocks) {
  Facts facts;
  std::set<std::pair<std::string, std::string>> said;
  const auto say = [&](std::string what, std::string needs) {
    if (said.emplace(what, needs).second) facts.facts.push_back(fact(std::move(what), std::move(needs)));
  };
  for (const Row& row : source.assessment.rows)
    if (row.outcome == Outcome::not_assessed && !row.advice)
      say(row_words(source, row) + (row.state ? ", " + clipped(*row.state, 40) : ""),
          clipped(source.wording.around_names(row.reason.value_or("no reason given"), source.session), 300));
  for (const auto& quantity : source.findings.quantities)
    if (!quantity.determinable && quantity.needs && !quantity.at)
      say(quantity_words(quantity.name, source.wording) +
              (quantity.state ? ", " + clipped(*quantity.state, 40) : ""),
          clipped(source.wording.around_names(quantity.needs->text, source.session), 300));
  blocks.emplace_back(Heading{"What could not be determined, and what to weigh for it"});
  if (facts.facts.empty())
    blocks.emplace_back(Paragraph{"Nothing: every quantity of this report was determined."});
  else
    blocks.emplace_back(std::move(facts));
}

}  // namespace

SheetContent summary(const Source& source) {
  SheetContent sheet{.name = "Summary", .title = "Weighing report", .grid = {13, 15, 11, 9, 11, 11, 9, 24}};
  sheet.subtitle = provider_words(source.options.provider);
  const auto rows = deciding(source);
  sheet.blocks.emplace_back(identity(source));
  sheet.blocks.emplace_back(banner(source, rows));
  if (std::string doubt = doubts(source, rows); !doubt.empty())
    sheet.blocks.emplace_back(Paragraph{std::move(doubt), Paragraph::Kind::warning});
  if (std::string scale = doubtful_scale_words(source.session); !scale.empty())
    sheet.blocks.emplace_back(Paragraph{std::move(scale), Paragraph::Kind::warning});
  add_record_warnings(source, sheet.blocks);
  sheet.blocks.emplace_back(Paragraph{first_page_caution, Paragraph::Kind::note});
  add_ratings(source, rows, sheet.blocks);
  if (auto picture = rig_picture(source)) sheet.blocks.emplace_back(std::move(*picture));
  add_coupling(source, sheet.blocks);
  add_left_and_right(source, sheet.blocks);
  add_unknowns(source, sheet.blocks);
  sheet.blocks.emplace_back(Heading{"What this report does not say"});
  for (const std::string& caution : cautions(source))
    sheet.blocks.emplace_back(Paragraph{caution, Paragraph::Kind::bullet});
  return sheet;
}

}  // namespace steelyard::reports::client
