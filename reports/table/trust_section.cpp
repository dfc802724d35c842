#include <algorithm>
#include <cmath>
#include <vector>

#include "reports/table/limit_words.hpp"
#include "reports/table/sections.hpp"
#include "reports/table/terminal_text.hpp"
#include "units/number.hpp"

namespace steelyard::reports {
namespace {

using reconcile::Observation;
using reconcile::ObservationKind;

std::string in_state(const Observation& observation) {
  return observation.state ? " in \"" + printable(*observation.state) + '"' : "";
}

/// What an observation is, for somebody who stands beside the rig.
std::string observation_in_words(const Observation& observation) {
  switch (observation.kind) {
    case ObservationKind::reading:
      return "reading " + printable(observation.id.value_or("?")) + ", " +
             place_in_words(observation.at.value_or("?")) + in_state(observation);
    case ObservationKind::gain:
      return observation.scales.empty() ? "the scales that were not named"
                                        : "the gain of scale " + printable(observation.scales.front());
    case ObservationKind::wheelbase:
      return "the wheelbase as given";
    case ObservationKind::overhang:
      return "the tape on the overhang";
    case ObservationKind::coupling_to_axles:
      return "the length from coupling to trailer axles";
    case ObservationKind::coupling_to_jockey:
      return "the length from coupling to jockey wheel";
    case ObservationKind::height_sensitivity:
      return "how the coupling load follows its height";
    case ObservationKind::coupling_height:
      return "the coupling height" + in_state(observation);
    case ObservationKind::level:
      return "the ground not as level as said" + in_state(observation);
    case ObservationKind::cg_height:
      return "the height of the centre of gravity";
  }
  return {};
}

std::string estimated_error(const Subject& subject, const Observation& observation, double error) {
  if (observation.kind != ObservationKind::reading) return {};
  const std::string size = subject.figures.whole(std::abs(error), reconcile::Measure::kilogram);
  return ": about " + size + ' ' + subject.figures.unit(reconcile::Measure::kilogram) +
         (error < 0 ? " too low" : " too high");
}

std::string suspects(const Subject& subject) {
  std::string out;
  for (const reconcile::SuspectSet& suspect : subject.findings.suspects) {
    out += suspect.members.size() == 1 ? "  suspect:\n"
                                       : "  one of these is off; the readings cannot say which:\n";
    for (const reconcile::SuspectMember& member : suspect.members) {
      const Observation& observation = subject.findings.observations.at(member.observation);
      out += paragraph("    - ", observation_in_words(observation) +
                                     estimated_error(subject, observation, member.estimated_error));
    }
  }
  return out;
}

std::string consistency(const Subject& subject) {
  const reconcile::Fit& fit = subject.findings.fit;
  if (!fit.consistent || !fit.p_value)
    return "  cannot be tested: no reading checks another (no degrees of freedom)\n";
  const std::string test = "chi-square " + units::fixed(fit.chi_square, 1) + " on " +
                           std::to_string(fit.degrees_of_freedom) + " degrees of freedom, p " +
                           (*fit.p_value < 0.0001 ? "under 0.0001" : "= " + units::fixed(*fit.p_value, 4));
  return paragraph("  ", (*fit.consistent ? "the readings agree with each other and with statics: "
                                          : "the readings do NOT agree with each other: ") +
                             test);
}

std::string set_aside(const rig::Session& session) {
  std::string out;
  for (const rig::State& state : session.states)
    for (const rig::Reading& reading : state.readings)
      if (reading.struck)
        out += paragraph("  set aside: ", "reading " + printable(reading.id) + ", " +
                                              rig::in_words(reading.at) + " in \"" + printable(state.name) +
                                              "\" (" + printable(reading.struck->why) + ')');
  return out;
}

}  // namespace

std::string trust_section(const Subject& subject) {
  std::string out = "Trust in the readings\n" + consistency(subject) + suspects(subject);
  if (subject.findings.fit.overhang_held)
    out += paragraph("  ", "the overhang was held at its tape or default: these readings do not settle it");
  return out + set_aside(subject.session);
}

std::string unknown_section(const Subject& subject) {
  // Quantities that lack the same weighing stand together, in the order in which they came.
  std::vector<std::pair<std::string, std::vector<std::string>>> needs;
  for (const reconcile::Quantity& quantity : subject.findings.quantities) {
    if (quantity.determinable || !quantity.needs) continue;
    const std::string text = printable(quantity.needs->text);
    auto found =
        std::find_if(needs.begin(), needs.end(), [&](const auto& need) { return need.first == text; });
    if (found == needs.end()) found = needs.insert(needs.end(), {text, {}});
    std::string name = quantity.name;
    std::replace(name.begin(), name.end(), '_', ' ');
    if (std::find(found->second.begin(), found->second.end(), name) == found->second.end())
      found->second.push_back(name);
  }
  if (needs.empty()) return {};
  std::string out = "Could not be determined\n";
  for (const auto& [text, names] : needs) {
    std::string joined;
    for (const std::string& name : names) joined += (joined.empty() ? "" : ", ") + name;
    out += paragraph("  ", joined) + paragraph("      to do: ", text);
  }
  return out;
}

}  // namespace steelyard::reports
