// What the readings mean so far.
#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <utility>
#include <vector>

#include "assess/deciding.hpp"
#include "field/view.hpp"
#include "reports/words/cautions.hpp"
#include "reports/words/checking.hpp"
#include "reports/words/rows.hpp"
#include "reports/words/suspicion.hpp"
#include "reports/words/terms.hpp"
#include "rig/position.hpp"

namespace steelyard::field {
namespace {

using assess::Outcome;
using assess::Row;
using reports::JsonText;
using reports::Tone;
using reports::Wording;

std::string_view tone_word(Tone tone) {
  switch (tone) {
    case Tone::within:
      return "within";
    case Tone::close_within:
      return "close_within";
    case Tone::close_over:
      return "close_over";
    case Tone::over:
      return "over";
    case Tone::unknown:
      return "unknown";
    case Tone::none:
      break;
  }
  return "none";
}

void write_tone(JsonText& out, Tone tone) {
  out.field("tone", tone_word(tone)).field("sign", reports::sign_of(tone));
}

void write_said(JsonText& out, std::string_view key, Tone tone, const std::string& words,
                const std::vector<std::string>& lines) {
  out.key(key).begin_object();
  write_tone(out, tone);
  out.field("words", words).key("lines").begin_array();
  for (const std::string& line : lines) out.value(line);
  out.end_array().end_object();
}

/// The parts of the found that need the session, its solution and the reader.
class Found {
 public:
  Found(JsonText& out, const issued::Solved& solved, const Wording& wording)
      : out_(out), solved_(solved), findings_(solved.findings), wording_(wording) {}

  void verdict() {
    const auto& assessment = solved_.assessment;
    std::vector<std::string> lines;
    if (solved_.session.rig.limits.empty())
      lines.emplace_back("The rig has no ratings yet: add those on its plates, each with where it was read.");
    else
      lines.push_back(reports::verdict_meaning(assessment.outcome));
    const auto rows = assess::deciding(assessment);
    if (const Row* row = assess::nearest(rows))
      lines.push_back((row->outcome == Outcome::pass ? "Nearest: " : "What decides it: ") + name(*row) + ", " +
                      reports::row_value(*row, wording_.shown) + " of " + reports::row_rating(*row, wording_.shown) +
                      ": " + reports::row_margin(*row, wording_.shown) + ".");
    if (std::any_of(rows.begin(), rows.end(), [](const Row* row) { return row->suspect; }))
      lines.emplace_back("A reading behind this does not fit the others: weigh it again before you rely on it.");
    std::string words = reports::verdict_headline(assessment.outcome);
    Tone tone = reports::tone_of(assessment.outcome);
    // Nobody may take a rig for sound by readings that contradict each other; one that is over stays over.
    if (findings_.fit.consistent && !*findings_.fit.consistent && (tone == Tone::within || tone == Tone::close_within)) {
      words += ", as read: not to be relied on";
      tone = Tone::unknown;
    }
    write_said(out_, "verdict", tone, words, lines);
  }

  void trust() {
    const reconcile::Fit& fit = findings_.fit;
    if (!fit.consistent) {
      write_said(out_, "trust", Tone::unknown, "They cannot be tested yet",
                 {"No reading checks another: a wrong one would not be noticed. Weigh more than the least."});
      return;
    }
    std::vector<std::string> lines;
    if (std::string reach_words = reach(); !reach_words.empty()) lines.push_back(std::move(reach_words));
    if (fit.overhang_held)
      lines.emplace_back("The overhang was held as given: these readings do not settle it.");
    if (*fit.consistent)
      write_said(out_, "trust", Tone::within, "The readings agree", lines);
    else
      write_said(out_, "trust", Tone::over, "Something does not fit",
                 {"The readings do not agree with each other and with statics. Settle it before the rig leaves."});
  }

  void suspects() {
    out_.key("suspects").begin_array();
    for (const reconcile::SuspectSet& set : findings_.suspects) {
      out_.begin_object().key("members").begin_array();
      for (const reconcile::SuspectMember& one : set.members) member(one);
      out_.end_array().key("explanations").begin_array();
      const auto best = std::count_if(set.explanations.begin(), set.explanations.end(),
                                      [](const reconcile::Explanation& e) { return e.tied; });
      for (const reconcile::Explanation& explanation : set.explanations)
        out_.begin_object()
            .field("words", reports::explanation_words(findings_, explanation, wording_))
            .field("fits", !explanation.tied ? "less well" : best > 1 ? "as well as any" : "best")
            .end_object();
      out_.end_array().key("next");
      next(set.next_reading);
      out_.end_object();
    }
    out_.end_array();
  }

  void loads() {
    struct Named {
      std::string_view name;
      bool by_state = false;
    };
    constexpr std::array names{Named{"coupling_load"},          Named{"coupling_share"},
                               Named{"tow_unhitched_total"},    Named{"trailer_mass"},
                               Named{"combination_mass"},       Named{"load_transfer_ratio"},
                               Named{"overhang"},               Named{"inferred_overhang"},
                               Named{"front_axle_restoration", true}};
    out_.key("loads").begin_array();
    for (const Named& named : names) {
      if (!named.by_state) load(named.name, nullptr);
      if (named.by_state)
        for (const rig::State& state : solved_.session.states) load(named.name, &state);
    }
    out_.end_array();
  }

  void margins() {
    std::vector<const Row*> rows;
    std::set<std::string> said;
    for (const Row& row : solved_.assessment.rows) {
      // Elsewhere than on the road only what is not safely within matters, and what is not known lacks the same reading
      // in most states.
      if (!row.travels && (row.advice || row.outcome == Outcome::pass || row.outcome == Outcome::not_assessed)) continue;
      if (row.outcome == Outcome::not_assessed && !said.insert(name(row) + '\n' + row.reason.value_or("")).second)
        continue;
      rows.push_back(&row);
    }
    std::stable_sort(rows.begin(), rows.end(), [](const Row* a, const Row* b) {
      if (a->advice != b->advice) return b->advice;
      if (a->outcome == Outcome::not_assessed || b->outcome == Outcome::not_assessed)
        return a->outcome != Outcome::not_assessed && b->outcome == Outcome::not_assessed;
      const int first = assess::severity(a->outcome), second = assess::severity(b->outcome);
      return first != second ? first < second : assess::used(*a) > assess::used(*b);
    });
    out_.key("margins").begin_array();
    for (const Row* row : rows) margin(*row);
    out_.end_array();
  }

  /// What the figures do not say; the same as in every report.
  void cautions() {
    out_.key("cautions").begin_array();
    out_.value(
        "These figures hold for the rig as it stands here: any change of load changes them. The ratings are as read from "
        "the sources named, not certified here; local law, licence, insurer and makers come first.");
    out_.value(reports::caution::no_trade_weighing).value(reports::caution::over_a_rating).end_array();
  }

  void open() {
    out_.key("open").begin_array();
    for (const reports::Lacking& one : reports::lacking(findings_)) {
      std::vector<std::string> names;
      for (const reconcile::Quantity* quantity : one.quantities) {
        if (quantity->name == "wheel_load" || quantity->name == "side_difference") continue;  // the keys show them
        std::string words = reports::quantity_words(quantity->name, wording_);
        if (std::find(names.begin(), names.end(), words) == names.end()) names.push_back(std::move(words));
      }
      if (names.empty()) continue;
      std::string joined;
      for (const std::string& name : names) joined += (joined.empty() ? "" : "; ") + name;
      out_.begin_object().field("words", joined);
      out_.field("needs", wording_.around_names(one.needs, solved_.session)).end_object();
    }
    out_.end_array();
  }

 private:
  [[nodiscard]] std::string name(const Row& row) const {
    return reports::limit_words(solved_.session.rig.limits.at(row.limit), solved_.session.rig, wording_);
  }

  /// From what error on a wrong reading would show.
  [[nodiscard]] std::string reach() const {
    const auto [noticed, unchecked] = reports::reach_of(findings_);
    if (noticed.empty()) return {};
    const double most = noticed.back();
    const double shown = std::ceil(reports::convert(most, reconcile::Measure::kilogram, wording_.shown));
    return "A single reading off by " + std::to_string(static_cast<long>(shown)) + ' ' +
           reports::unit_word(reconcile::Measure::kilogram, wording_.shown) +
           " or more would show, four times in five." +
           (!unchecked.empty() ? " Some readings nothing checks: an error there would not show." : "");
  }

  void member(const reconcile::SuspectMember& one) {
    const auto& observation = findings_.observations.at(one.observation);
    std::string size = reports::suspect_size(observation, one.estimated_error, wording_.shown);
    if (size.starts_with(", ")) size.erase(0, 2);
    out_.begin_object().field("reading", observation.id).field("state", observation.state);
    out_.field("at", observation.at).field("words", reports::suspect_name(observation, wording_));
    out_.field("size", size).end_object();
  }

  void next(const std::optional<reconcile::NextReading>& reading) {
    if (!reading) {
      out_.null();
      return;
    }
    const bool place = reading->at && !reading->new_state;
    out_.begin_object().field("state", place ? std::optional(reading->state) : std::nullopt);
    out_.field("at", place ? std::optional(rig::to_text(*reading->at)) : std::nullopt);
    out_.field("words", reports::next_reading_words(*reading, wording_)).end_object();
  }

  void load(std::string_view quantity_name, const rig::State* state) {
    const auto* quantity = findings_.find(quantity_name, state ? std::string_view(state->name) : std::string_view());
    if (!quantity || !quantity->determinable) return;
    out_.begin_object().field("name", quantity_name).field("words", reports::quantity_words(quantity_name, wording_));
    out_.field("state", state ? std::optional(state->name) : std::nullopt);
    out_.field("text", reports::is_share(quantity_name)
                           ? reports::in_percent(quantity->value, quantity->u)
                           : reports::in_figures(quantity->value, quantity->u, quantity->measure, wording_.shown));
    out_.end_object();
  }

  void margin(const Row& row) {
    const bool assessed = row.outcome != Outcome::not_assessed;
    out_.begin_object().field("of", row.of).field("words", name(row)).field("state", row.state);
    out_.field("value", row.value ? std::optional(reports::row_value(row, wording_.shown)) : std::nullopt);
    out_.field("rated", reports::row_rating(row, wording_.shown));
    out_.field("margin", row.margin ? std::optional(reports::row_margin(row, wording_.shown)) : std::nullopt);
    out_.field("used", assessed && !row.minimum ? std::optional(assess::used(row)) : std::nullopt);
    write_tone(out_, reports::tone_of(row.outcome));
    out_.field("outcome", assess::in_words(row.outcome, row.minimum)).field("advice", row.advice);
    out_.field("source", row.source).field("travels", row.travels);
    out_.field("reason", row.reason ? std::optional(wording_.around_names(*row.reason, solved_.session)) : std::nullopt);
    out_.field("suspect", row.suspect).end_object();
  }

  JsonText& out_;
  const issued::Solved& solved_;
  const reconcile::Findings& findings_;
  const Wording& wording_;
};

}  // namespace

void write_found(JsonText& out, const Seen& seen, const Wording& wording) {
  if (!seen.solved && seen.why_not.empty()) {
    out.null();
    return;
  }
  out.begin_object().field("solved", seen.solved != nullptr);
  out.field("why_not", seen.solved ? std::nullopt : std::optional(seen.why_not));
  if (seen.solved) {
    Found found(out, *seen.solved, wording);
    found.verdict();
    found.trust();
    found.suspects();
    found.loads();
    found.margins();
    found.open();
    found.cautions();
  }
  out.end_object();
}

}  // namespace steelyard::field
