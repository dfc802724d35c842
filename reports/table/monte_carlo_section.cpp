// The uncertainties beside those of the trials, for the rig's main figures, and the largest difference of
// all.
#include <array>
#include <cmath>
#include <vector>

#include "reports/table/sections.hpp"
#include "reports/words/terminal_text.hpp"
#include "reports/words/terms.hpp"
#include "units/number.hpp"

namespace steelyard::reports {
namespace {

using reconcile::Discrepancy;
using reconcile::MonteCarlo;
using reconcile::Propagated;
using reconcile::Quantity;

constexpr std::size_t trial_label_width = 25;
constexpr std::size_t trial_column_width = 18;

constexpr std::array<std::pair<std::string_view, std::string_view>, 10> main_quantities{
    {{"tow_unhitched_total", "tow vehicle, unhitched"},
     {"trailer_mass", "trailer mass"},
     {"combination_mass", "combination"},
     {"coupling_load", "coupling load"},
     {"coupling_share", "share of the trailer mass"},
     {"load_transfer_ratio", "load-transfer ratio"},
     {"overhang", "overhang"},
     {"inferred_overhang", "  from the weights alone"},
     {"inferred_transfer_ratio", "ratio, weights alone"},
     {"height_sensitivity", "coupling load per height"}}};

const Propagated* find(const Subject& subject, std::string_view name, std::string_view state = {}) {
  const Quantity* wanted = subject.findings.find(name, state);
  for (const Propagated& one : subject.monte_carlo->quantities)
    if (wanted == &subject.findings.quantities.at(one.quantity)) return &one;
  return nullptr;
}

std::string row(const Subject& subject, std::string_view label, const Propagated* one) {
  if (!one) return {};
  const Quantity& quantity = subject.findings.quantities.at(one->quantity);
  const bool percent = is_share(quantity.name);
  const Figures& figures = subject.figures;
  const auto interval = [&](const std::pair<double, double>& ends) {
    return figures.alone(ends.first, quantity.u, quantity.measure, percent) + " to " +
           figures.alone(ends.second, quantity.u, quantity.measure, percent);
  };
  const std::string unit = figures.unit(quantity.measure, percent);
  // A ratio with Fieller's interval has neither mean nor deviation to show.
  const std::string mean =
      quantity.interval ? "–" : figures.with_u(one->mean, one->u, quantity.measure, percent);
  std::string out = "  " + pad_right(cut(label, trial_label_width), trial_label_width) +
                    pad_left(interval(one->linear), trial_column_width) +
                    pad_left(interval(one->interval), trial_column_width) + pad_left(mean, trial_column_width - 2);
  out.erase(out.find_last_not_of(' ') + 1);
  return out + '\n';
}

std::string rows(const Subject& subject) {
  std::string out;
  for (const auto& [name, label] : main_quantities)
    out += row(subject, subject.wording(label), find(subject, name));
  for (const rig::State& state : subject.session.states) {
    const std::string name = cut(printable(state.name), 14);
    out += row(subject, "front, " + name, find(subject, "tow_hitched_front", state.name));
    out += row(subject, "rear, " + name, find(subject, "tow_hitched_rear", state.name));
    out += row(subject, "restored, " + name, find(subject, "front_axle_restoration", state.name));
  }
  return out;
}

std::string_view end_words(Discrepancy::Of of) {
  switch (of) {
    case Discrepancy::Of::mean:
      return "the mean";
    case Discrepancy::Of::u:
      return "the uncertainty";
    case Discrepancy::Of::low:
      return "the lower end";
    case Discrepancy::Of::high:
      return "the upper end";
  }
  return {};
}

/// In lower case where a name stands inside a sentence.
std::string inside(std::string text) {
  if (!text.empty() && text[0] >= 'A' && text[0] <= 'Z') text[0] = static_cast<char>(text[0] - 'A' + 'a');
  return text;
}

std::string largest(const Subject& subject) {
  const auto& found = subject.monte_carlo->largest;
  if (!found) return {};
  const Quantity& quantity = subject.findings.quantities.at(found->quantity);
  std::string which = inside(quantity_words(quantity.name, subject.wording));
  if (quantity.at) which += ", " + place_words(*quantity.at, subject.wording);
  if (quantity.state) which += ", in \"" + printable(*quantity.state) + '"';
  std::string out = "the largest difference of all is " + units::fixed(std::abs(found->in_u), 2) +
                    " standard uncertainties, in " + std::string(end_words(found->of)) + " of: " + which +
                    "; by chance alone an end of an interval moves by " +
                    units::fixed(subject.monte_carlo->chance, subject.monte_carlo->chance < 0.01 ? 4 : 2);
  // Hundreds of ends are looked at, so that four deviations of chance are nothing to wonder at.
  constexpr double wonder = 4, small = 0.2;
  if (std::abs(found->in_u) <= wonder * subject.monte_carlo->chance) return out + ". They agree.";
  if (std::abs(found->in_u) <= small) return out + ". That is small: the uncertainties above stand.";
  return out + ". For that figure go by the trials.";
}

std::string left_out(const Subject& subject) {
  const MonteCarlo& all = *subject.monte_carlo;
  std::string out;
  if (all.not_converged > 0)
    out += paragraph("  ", std::to_string(all.not_converged) + " of " + std::to_string(all.trials) +
                               " trials had no solution and are left out");
  for (const Propagated& one : all.quantities) {
    if (one.not_determinable == 0) continue;
    const Quantity& quantity = subject.findings.quantities.at(one.quantity);
    out += paragraph("  ", inside(quantity_words(quantity.name, subject.wording)) +
                               " would not have been determinable in " +
                               std::to_string(one.not_determinable) + " trials");
  }
  return out;
}

}  // namespace

std::string monte_carlo_section(const Subject& subject) {
  if (!subject.monte_carlo) return {};
  const MonteCarlo& all = *subject.monte_carlo;
  std::string out =
      paragraph("", "Uncertainties held against " + std::to_string(all.trials) + " trials (JCGM 101, seed " +
                        std::to_string(all.seed) + "), 95 % intervals");
  out += std::string(trial_label_width + 2, ' ') + pad_left("as above", trial_column_width) +
         pad_left("trials", trial_column_width) + pad_left("mean ± U", trial_column_width - 2) + '\n';
  return out + rows(subject) + paragraph("  ", largest(subject)) + left_out(subject);
}

}  // namespace steelyard::reports
