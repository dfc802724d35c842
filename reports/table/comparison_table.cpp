#include "reports/table/comparison_table.hpp"

#include <array>
#include <vector>

#include "reports/table/comparison_sections.hpp"
#include "reports/table/limit_words.hpp"
#include "reports/table/result_table.hpp"
#include "reports/words/terminal_text.hpp"
#include "reports/words/terms.hpp"

namespace steelyard::reports {
namespace {

using compare::Compared;
using Subject = ComparisonSubject;

constexpr std::size_t label_width = 31, figure_width = 10, difference_width = 17;

struct Named {
  std::string_view name, label;
  bool percent = false;
};

constexpr std::array of_the_rig{Named{"tow_unhitched_front", "tow vehicle alone, front"},
                                Named{"tow_unhitched_rear", "tow vehicle alone, rear"},
                                Named{"tow_unhitched_total", "tow vehicle alone"},
                                Named{"trailer_mass", "trailer mass"},
                                Named{"combination_mass", "combination"},
                                Named{"coupling_load", "coupling load"},
                                Named{"coupling_share", "share of the trailer mass", true},
                                Named{"load_transfer_ratio", "load-transfer ratio"},
                                Named{"overhang", "overhang"},
                                Named{"inferred_overhang", "  from the weights alone"},
                                Named{"height_sensitivity", "coupling load per height"}};
constexpr std::array of_a_state{Named{"tow_hitched_total", "tow, all axles"},
                                Named{"trailer_axles_hitched", "trailer, all axles"},
                                Named{"coupling_load_at_height", "coupling load"}};
constexpr std::array of_the_bars{Named{"coupling_load_net", "  net of the bars"},
                                Named{"weight_distribution_moment", "weight-distribution moment"},
                                Named{"front_axle_restoration", "front axle restored", true}};

std::string one_line(const Subject& subject, std::string label, const Compared& row, bool percent) {
  if (!row.difference) return {};
  const Figures& figures = subject.figures;
  const std::string unit = figures.unit(row.measure, percent);
  if (unit != figures.unit(reconcile::Measure::kilogram) && !unit.empty()) label += ", " + unit;
  if (row.another_trailer) label += " *";
  std::string out = "  " + pad_right(cut(label, label_width - 3), label_width - 2);
  out += pad_left(figures.alone(row.before->value, row.before->u, row.measure, percent), figure_width);
  out += pad_left(figures.alone(row.after->value, row.after->u, row.measure, percent), figure_width);
  out += pad_left(signed_difference(figures, *row.difference, row.measure, percent), difference_width);
  const std::string verdict = significance_words(*row.difference);
  return out + (verdict.empty() ? "" : "  " + verdict) + '\n';
}

std::string heading(const Subject& subject, const std::string& title) {
  return pad_right(cut(title + ", " + subject.figures.unit(reconcile::Measure::kilogram), label_width - 1),
                   label_width) +
         pad_left("before", figure_width) + pad_left("after", figure_width) +
         pad_left("difference ± U", difference_width) + '\n';
}

template <class Names>
std::string named_lines(const Subject& subject, const Names& names, const std::string& state) {
  std::string out;
  for (const Named& named : names)
    if (const Compared* row = subject.all.find(named.name, state))
      out += one_line(subject, std::string(named.label), *row, named.percent);
  return out;
}

std::string axle_lines(const Subject& subject, rig::Vehicle vehicle, int axles, const std::string& state) {
  std::string out;
  const std::string words(vehicle == rig::Vehicle::tow ? "tow" : "trailer");
  for (int axle = 1; axle <= axles; ++axle) {
    const std::string at = words + '.' + std::to_string(axle);
    if (const Compared* row = subject.all.find("axle_load", state, at))
      out += one_line(subject, words + " axle " + std::to_string(axle), *row, false);
    for (const char* side : {"left", "right"})
      if (const Compared* row = subject.all.find("wheel_load", state, at + '.' + side))
        out += one_line(subject, std::string("    ") + side, *row, false);
  }
  return out;
}

std::string state_section(const Subject& subject, const compare::MatchedState& match) {
  const rig::State& state = subject.after.states[match.after];
  const rig::Rig& rig = subject.after.rig;
  std::string body = axle_lines(subject, rig::Vehicle::tow, static_cast<int>(rig.tow_vehicle.axles.size()), state.name);
  if (rig.trailer) body += axle_lines(subject, rig::Vehicle::trailer, rig.trailer->axles, state.name);
  body += named_lines(subject, of_a_state, state.name);
  // Net and static coupling load differ only where bars carry a moment.
  if (state.weight_distribution || subject.before.states[match.before].weight_distribution)
    body += named_lines(subject, of_the_bars, state.name);
  if (body.empty()) return {};
  std::string title = "State \"" + printable(state.name) + '"';
  const std::string& was = subject.before.states[match.before].name;
  if (was != state.name) title += " (before: \"" + printable(was) + "\")";
  return heading(subject, title) + (match.alike ? "" : paragraph("  ", "not arranged alike, see below")) + body;
}

std::string weighing_lines(std::string_view label, const rig::Session& session) {
  std::string out;
  for (const std::string* part :
       {&session.weighed.at, &session.weighed.place, &session.weighed.technician, &session.weighed.purpose})
    if (!part->empty()) out += (out.empty() ? "" : ", ") + printable(*part);
  out += (out.empty() ? "session " : "; session ") + printable(session.id) + ", revision " +
         std::to_string(session.revision);
  return paragraph(pad_right(label, 8), out);
}

std::string head(const Subject& subject) {
  const rig::Rig &rig = subject.after.rig, &was = subject.before.rig;
  std::string words = vehicle_in_words(rig.tow_vehicle.label, rig.tow_vehicle.registration);
  if (rig.trailer) words += " with " + vehicle_in_words(rig.trailer->label, rig.trailer->registration);
  if (subject.all.trailer == compare::Same::no)
    words += was.trailer ? "; before, with " + vehicle_in_words(was.trailer->label, was.trailer->registration)
                         : "; before, without a trailer";
  std::string out = paragraph("", words) + weighing_lines("before", subject.before) +
                    weighing_lines("after", subject.after);
  const std::string then(assess::in_words(subject.all.outcome_before)),
      now(assess::in_words(subject.all.outcome_after));
  out += paragraph("Outcome: ", then == now ? now + ", as before" : "before: " + then + "; after: " + now);
  if (const compare::Unlike* doubt = subject.all.in_doubt())
    out += paragraph("In doubt: ", "readings before " + doubt->before.value_or("") + ", after " + doubt->after.value_or("") +
                                       ": " + doubt->worth);
  return out;
}

std::string rig_section(const Subject& subject) {
  const std::string body = named_lines(subject, of_the_rig, "");
  return body.empty() ? "" : heading(subject, "The rig") + body;
}

std::string legend(const Subject& subject) {
  std::string out = paragraph(
      "", "≠ changed: the difference is more than its uncertainty U (|En| ≥ 1, ISO 13528). ≈ not sure: it is not, "
          "and may be none. U = 2u.");
  if (subject.all.trailer == compare::Same::no && subject.before.rig.trailer && subject.after.rig.trailer)
    out += paragraph("* ", "of another trailer: not a change of one thing");
  return out;
}

}  // namespace

std::string significance_words(const compare::Difference& difference) {
  const auto significant = difference.significant();
  return !significant ? "" : *significant ? "≠ changed" : "≈ not sure";
}

std::string signed_difference(const Figures& figures, const compare::Difference& difference,
                              reconcile::Measure measure, bool percent) {
  const std::string text = figures.with_u(difference.value, difference.u, measure, percent);
  const bool nothing = text.find_first_of("123456789") >= text.find(' ');  // "0.0 ± 2.1"
  return (difference.value > 0 && !nothing ? "+" : "") + text;
}

std::string comparison_table(const rig::Session& before, const rig::Session& after,
                             const compare::Comparison& comparison) {
  const Subject subject{before, after, comparison, Figures(ShownUnits{after.units.load, after.units.length})};
  std::vector<std::string> sections{head(subject), rig_section(subject)};
  for (const compare::MatchedState& match : comparison.states) sections.push_back(state_section(subject, match));
  for (std::string section :
       {legend(subject), differing_limits_section(subject), fitted_section(subject), unlike_section(subject),
        one_sided_section(subject), common_section(subject)})
    sections.push_back(std::move(section));
  std::string out;
  for (const std::string& section : sections)
    if (!section.empty()) out += (out.empty() ? "" : "\n") + section;
  return out;
}

}  // namespace steelyard::reports
