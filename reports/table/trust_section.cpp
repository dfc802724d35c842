#include <algorithm>
#include <cmath>
#include <map>
#include <vector>

#include "reports/table/limit_words.hpp"
#include "reports/table/sections.hpp"
#include "reports/words/checking.hpp"
#include "reports/words/terminal_text.hpp"
#include "reports/words/suspicion.hpp"

namespace steelyard::reports {
namespace {

using reconcile::Observation;
using reconcile::ObservationKind;

using reconcile::SuspectSet;

std::string line(std::string_view first, const std::string& text) {
  return paragraph(first, printable(text));
}

/// "Without it the coupling load is 165.8 ± 3.5 kg."
std::string without(const Subject& subject, const reconcile::SuspectMember& member) {
  if (!member.main_figure_without) return {};
  const auto& [value, u] = *member.main_figure_without;
  const auto* coupled = subject.findings.find("coupling_load");
  const auto* with = coupled ? coupled : subject.findings.find("tow_unhitched_total");
  if (with && with->determinable && std::abs(value - with->value) < u / 2) return {};  // it hangs on others
  return std::string(". Without it the ") +
         (coupled ? subject.wording("coupling load") : "tow vehicle's total") + " is " +
         subject.figures.with_u(value, u, reconcile::Measure::kilogram) + ' ' +
         subject.figures.unit(reconcile::Measure::kilogram);
}

std::string members(const Subject& subject, const SuspectSet& set, bool first) {
  std::string out;
  if (set.members.size() == 1)
    out += first ? "  This does not fit:\n" : "  Nor does this, with the likeliest of those above set aside:\n";
  else
    out += paragraph("  ", first ? "One of these does not fit; the readings cannot say which:"
                                 : "One of these does not fit either, with the likeliest of those above set "
                                   "aside:");
  for (const reconcile::SuspectMember& member : set.members) {
    const Observation& observation = subject.findings.observations.at(member.observation);
    out += line("    - ", suspect_name(observation, subject.wording) +
                              suspect_size(observation, member.estimated_error, subject.wording.shown) +
                              without(subject, member));
  }
  return out;
}

/// Those that fit as well as the best come first and are said to.
std::string explanations(const Subject& subject, const SuspectSet& set) {
  if (set.explanations.empty())
    return paragraph("  ", "No single blunder of the usual kinds explains it; it may be none of them, or more "
                           "than one.");
  const auto best = std::count_if(set.explanations.begin(), set.explanations.end(),
                                  [](const reconcile::Explanation& e) { return e.tied; });
  std::string out = best > 1 ? "  What may have happened, these fitting equally well:\n" : "  What may have happened:\n";
  bool said = false;
  for (const reconcile::Explanation& explanation : set.explanations) {
    if (!explanation.tied && !said) {
      out += "  Fitting less well:\n";
      said = true;
    }
    out += line("    - ", explanation_words(subject.findings, explanation, subject.wording));
  }
  return out;
}

std::string consistency(const Subject& subject) {
  const reconcile::Fit& fit = subject.findings.fit;
  if (!fit.consistent || !fit.p_value)
    return paragraph("  ", "They cannot be tested: no reading checks another. A wrong one would not be noticed; "
                           "weigh more than the least.");
  return *fit.consistent ? "  They agree with each other and with statics.\n"
                         : "  They do NOT agree with each other; see above.\n";
}

/// Most places were read no more than once in their state.
bool mostly_once(const rig::Session& session) {
  std::size_t once = 0, more = 0;
  for (const rig::State& state : session.states) {
    std::map<rig::Position, int> times;
    for (const rig::Reading& reading : state.readings)
      if (!reading.struck) ++times[reading.at];
    for (const auto& [at, count] : times) ++(count > 1 ? more : once);
  }
  return once > more;
}

/// What an error would have to be to show, and which readings nothing checks.
std::string reach(const Subject& subject) {
  const auto [noticed, ids] = reach_of(subject.findings);
  std::string unchecked;
  for (const std::string& id : ids) unchecked += (unchecked.empty() ? "" : ", ") + id;
  std::string out;
  if (!noticed.empty()) {
    const auto kilograms = [&](double value) { return subject.figures.whole(value, reconcile::Measure::kilogram); };
    out += paragraph("  ", "An error in one reading shows, four times in five, from " + kilograms(noticed.front()) +
                               " to " + kilograms(noticed.back()) + ' ' +
                               subject.figures.unit(reconcile::Measure::kilogram) + " on, half of them from " +
                               kilograms(noticed[noticed.size() / 2]) + " on" +
                               (mostly_once(subject.session) ? "; every position read twice brings that down."
                                                             : "."));
  }
  if (!noticed.empty() && !unchecked.empty())
    out += line("  ", "Nothing checks these readings, an error there would not show: " + unchecked);
  return out;
}

std::string set_aside(const rig::Session& session, const Wording& wording) {
  std::string out;
  for (const rig::State& state : session.states)
    for (const rig::Reading& reading : state.readings)
      if (reading.struck)
        out +=
            paragraph("  set aside: ",
                      "reading " + printable(reading.id) + ", " + wording(rig::in_words(reading.at)) +
                          " in \"" + printable(state.name) + "\" (" + printable(reading.struck->why) + ')');
  return out;
}

}  // namespace

std::string suspicion_section(const Subject& subject) {
  const auto& sets = subject.findings.suspects;
  if (sets.empty()) return {};
  std::string out = "Before the rig leaves: the readings do not agree\n";
  for (std::size_t s = 0; s < sets.size(); ++s) {
    out += members(subject, sets[s], s == 0);
    out += s == 0 || !sets[s].explanations.empty() ? explanations(subject, sets[s]) : std::string();
    if (sets[s].next_reading)
      out += line("  To be sure, weigh: ", next_reading_words(*sets[s].next_reading, subject.wording));
  }
  return out;
}

std::string trust_section(const Subject& subject) {
  std::string out = "Trust in the readings\n" + consistency(subject) + reach(subject);
  if (subject.findings.fit.overhang_held)
    out += paragraph("  ", "the overhang was held at its tape or default: these readings do not settle it");
  return out + set_aside(subject.session, subject.wording);
}

std::string unknown_section(const Subject& subject) {
  const std::vector<Lacking> needs = lacking(subject.findings);
  if (needs.empty()) return {};
  std::string out = "Could not be determined\n";
  for (const Lacking& one : needs) {
    std::vector<std::string> names;
    for (const reconcile::Quantity* quantity : one.quantities) {
      std::string name = quantity->name;
      std::replace(name.begin(), name.end(), '_', ' ');
      name = subject.wording(name);
      if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(std::move(name));
    }
    std::string joined;
    for (const std::string& name : names) joined += (joined.empty() ? "" : ", ") + name;
    out += paragraph("  ", joined) +
           paragraph("      to do: ", printable(subject.wording.around_names(one.needs, subject.session)));
  }
  return out;
}

}  // namespace steelyard::reports
