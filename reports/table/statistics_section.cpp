#include <cmath>

#include "reports/table/sections.hpp"
#include "reports/words/terminal_text.hpp"
#include "reports/words/suspicion.hpp"
#include "units/number.hpp"

namespace steelyard::reports {
namespace {

using reconcile::Measure;
using reconcile::Observation;
using reconcile::ObservationKind;

std::string test_line(const reconcile::Fit& fit) {
  if (!fit.p_value) return "  no degrees of freedom: nothing is tested\n";
  return paragraph("  ", "chi-square " + units::fixed(fit.chi_square, 1) + " on " +
                             std::to_string(fit.degrees_of_freedom) + " degrees of freedom (" +
                             std::to_string(fit.observations) + " observations, " +
                             std::to_string(fit.unknowns) + " unknowns), p " +
                             (*fit.p_value < 0.0001 ? "under 0.0001" : "= " + units::fixed(*fit.p_value, 4)) +
                             "; rejected below 0.025, as is a largest |w| at 0.025 over all of them");
}

std::string explanation_lines(const Subject& subject) {
  std::string out;
  for (const reconcile::SuspectSet& set : subject.findings.suspects)
    for (const reconcile::Explanation& explanation : set.explanations)
      out += paragraph("  if ", printable(explanation_words(subject.findings, explanation, subject.wording)) +
                                    ": chi-square " + units::fixed(explanation.chi_square, 1) + " on " +
                                    std::to_string(explanation.degrees_of_freedom) +
                                    ", p = " + units::fixed(explanation.p_value, 4));
  return out;
}

std::string row(const Subject& subject, const Observation& observation) {
  const Measure measure = measure_of(observation.kind);
  const auto figure = [&](double value) {
    return pad_left(subject.figures.alone(value, observation.u, measure), 9);
  };
  std::string name = observation.kind == ObservationKind::reading
                         ? observation.id.value_or("?") + ' ' + observation.at.value_or("?")
                         : std::string(to_text(observation.kind));
  if (observation.kind == ObservationKind::gain)
    name += ' ' + (observation.scales.empty() ? std::string("not named") : observation.scales.front());
  if (observation.state) name += " · " + *observation.state;
  std::string out = "  " + pad_right(cut(printable(name), 31), 31) + figure(observation.value) +
                    figure(observation.fitted) + figure(observation.u) +
                    pad_left(units::fixed(observation.redundancy, 2), 6);
  if (!observation.normalised_residual || !observation.smallest_detectable) return out + "  unchecked\n";
  return out + pad_left(units::fixed(*observation.normalised_residual, 1), 6) +
         pad_left(subject.figures.alone(*observation.smallest_detectable, observation.u, measure), 8) + '\n';
}

}  // namespace

std::string statistics_section(const Subject& subject) {
  std::string out = "The tests in figures\n" + test_line(subject.findings.fit) + explanation_lines(subject);
  out += "\n  " + pad_right("observation", 31) + pad_left("value", 9) + pad_left("fitted", 9) +
         pad_left("u", 9) + pad_left("r", 6) + pad_left("w", 6) + pad_left("shows", 8) + '\n';
  for (const Observation& observation : subject.findings.observations) out += row(subject, observation);
  return out + paragraph("  ", "r: how far others check it, 0 to 1; w: residual over its own deviation; shows: "
                               "smallest error noticed four times in five. Loads and what heights are worth in " +
                                   subject.figures.unit(Measure::kilogram) + ", lengths and levels in " +
                                   subject.figures.unit(Measure::millimetre) + ".");
}

}  // namespace steelyard::reports
