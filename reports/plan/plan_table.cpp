#include "reports/plan/plan_table.hpp"

#include <algorithm>
#include <set>
#include <string>

#include "reports/plan/plan_text.hpp"
#include "reports/plan/plan_words.hpp"
#include "reports/table/limit_words.hpp"
#include "reports/table/result_table.hpp"
#include "reports/words/terminal_text.hpp"

namespace steelyard::reports {
namespace {

using reconcile::Measure;

constexpr std::size_t number_width = 5, place_width = 34, scale_width = 14, load_width = 10;

class Table {
 public:
  explicit Table(const PlanText& text) : text_(text) {}

  std::string all() const {
    std::string out = heading() + '\n' + steps() + '\n' + aims_section(text_) + '\n' +
                      shortfalls_section(text_) + errors_section(text_) + '\n' + suppositions() + '\n' +
                      hints();
    for (std::size_t at; (at = out.find(unbroken)) != std::string::npos;)
      out.replace(at, unbroken.size(), 1, ' ');
    return out;
  }

 private:
  std::string heading() const {
    const rig::Rig& rig = text_.sheet.rig;
    std::string words = vehicle_in_words(rig.tow_vehicle.label, rig.tow_vehicle.registration);
    if (rig.trailer) words += " with " + vehicle_in_words(rig.trailer->label, rig.trailer->registration);
    std::string out = paragraph("", words);
    const plan::Prospect& chosen = text_.plan.chosen;
    std::string line = counted(chosen.readings, "reading", "readings") + " in " +
                       counted(chosen.set_downs, "set-down", "set-downs");
    if (chosen.readings < text_.plan.once.readings)
      line += " (every position once: " + std::to_string(text_.plan.once.readings) + ")";
    line += text_.plan.shortfalls.empty() ? "; all that is wanted is reached"
                                          : "; NOT all that is wanted can be reached, see below";
    out += paragraph("Plan: ", line);
    std::string wanted;
    if (text_.coupled())
      wanted = text_.wording("the coupling load to ") +
               text_.with_sign(text_.plan.wanted.coupling_u.value_or(plan::usual_coupling_u)) +
               (text_.plan.wanted.coupling_u ? "" : " (usual)") + ", ";
    wanted += text_.coupled() ? "every other margin to " : "every margin to ";
    wanted += text_.plan.wanted.margin_u ? text_.with_sign(text_.plan.wanted.margin_u)
                                         : "± 2 % of its rating (usual)";
    out += paragraph("Wanted: ", wanted + "; ±" + std::string(unbroken) + "is for 95 %");
    return out + paragraph("Checks: ", checks());
  }

  std::string checks() const {
    const int unchecked = text_.plan.chosen.unchecked, readings = text_.plan.chosen.readings;
    std::string out = text_.plan.wanted.rule == plan::Rule::least ? "left out of account, as asked: " : "";
    if (unchecked == 0) return out + "every reading is checked by others";
    if (unchecked == readings) return out + "NO reading checks another, see below";
    return out + std::to_string(unchecked) + " of " + std::to_string(readings) +
           " readings NOT checked by any other, see below";
  }

  std::string steps() const {
    std::string out = pad_right("What to weigh, in this order", number_width + place_width) +
                      pad_right("scale", scale_width) + pad_left("about, " + text_.load_unit(), load_width);
    if (text_.coupled())
      out += pad_left("coupling, ±", table_width - number_width - place_width - scale_width - load_width);
    out += '\n';
    const plan::Step* before = nullptr;
    for (const plan::Step& step : text_.plan.steps) {
      if (!before || before->state != step.state)
        out += state_line(step.state);
      else if (before->pass != step.pass)
        out += "  once more: roll off, let the suspension settle, set down again\n";
      out += step_line(step, before && before->set_down == step.set_down);
      before = &step;
    }
    for (const plan::PlannedState& state : text_.plan.states)
      if (state.readings == 0)
        out +=
            paragraph("", "State \"" + printable(state.state.name) + "\" is not needed for what is wanted.");
    return out;
  }

  std::string state_line(const std::string& name) const {
    for (const plan::PlannedState& planned : text_.plan.states)
      if (planned.state.name == name)
        return paragraph("", "State \"" + printable(name) + "\": " +
                                 arrangement_in_words(planned.state, text_.sheet.rig, text_.wording) +
                                 (planned.added ? " (the sheet does not have it)" : ""));
    return {};
  }

  std::string step_line(const plan::Step& step, bool with_the_last) const {
    std::string scale;
    for (const std::string& id : step.scales) scale += (scale.empty() ? "" : ", ") + printable(id);
    if (scale.empty()) scale = text_.sheet.scales.empty() ? "any" : "none listed!";
    std::string out = pad_right(
        with_the_last ? "" : pad_left(std::to_string(step.set_down), number_width - 2), number_width);
    out += pad_right(text_.wording(rig::in_words(step.at)), place_width);
    out += pad_right(cut(scale, scale_width - 1), scale_width);
    out += pad_left(text_.figures.whole(step.expected, Measure::kilogram), load_width);
    if (text_.coupled())
      out += pad_left(text_.expanded(step.coupling_u, Measure::kilogram),
                      table_width - number_width - place_width - scale_width - load_width);
    return out + '\n';
  }

  std::string suppositions() const {
    std::string out = "What is supposed, until it is weighed\n";
    for (const plan::Supposition& supposed : text_.plan.suppositions) {
      const bool percent = supposed.measure == Measure::one;
      std::string figure = percent ? text_.figures.alone(supposed.value, 0.005, Measure::one, true)
                                   : text_.figures.whole(supposed.value, supposed.measure);
      figure += ' ' + text_.figures.unit(supposed.measure, percent);
      out += "  " + pad_right(cut(supposition_in_words(supposed, text_.wording), 34), 35) +
             pad_left(figure, 15) + "  " + origin_in_words(supposed.origin) + '\n';
    }
    return out + paragraph("",
                           "Parts of ratings and usual sizes are common practice, no source. How uncertain a "
                           "reading is hangs on its load, so figures move a little with the real rig.");
  }

  bool lacks_a_scale() const {
    return !text_.sheet.scales.empty() && std::any_of(text_.plan.steps.begin(), text_.plan.steps.end(),
                                                      [](const auto& step) { return step.scales.empty(); });
  }

  /// Not every wheel end of a vehicle stands on a pad at once: the others stand lower.
  bool pads_are_few() const {
    std::set<std::string> pads;
    for (const plan::Step& step : text_.plan.steps)
      if (step.at.extent == rig::Extent::wheel) pads.insert(step.scales.begin(), step.scales.end());
    const std::size_t axles =
        std::max(text_.sheet.rig.tow_vehicle.axles.size(),
                 static_cast<std::size_t>(text_.sheet.rig.trailer ? text_.sheet.rig.trailer->axles : 0));
    return !pads.empty() && pads.size() < 2 * axles;
  }

  std::string hints() const {
    std::string out;
    if (text_.plan.readings_there > 0)
      out += paragraph("", counted(text_.plan.readings_there, "reading", "readings") +
                               " of the sheet served for the supposed loads only; the plan weighs afresh.");
    if (lacks_a_scale())
      out += paragraph("",
                       "\"none listed!\": no scale of the sheet carries that load; bring one that does, and "
                       "list it with its capacity.");
    if (pads_are_few())
      out +=
          paragraph("",
                    "Fewer pads than wheel ends: bring the other axles of that vehicle to the same height, "
                    "or write \"raised\" with the reading.");
    return out +
           paragraph("",
                     "Chock first; brakes off only as the method says; zero the scales; roll half a wheel "
                     "turn before each reading.");
  }

  const PlanText& text_;
};

}  // namespace

std::string plan_table(const rig::Session& sheet, const plan::Plan& plan, const Reader& reader) {
  const Wording wording(reader, sheet);
  const bool converted = wording.shown.load != sheet.units.load;
  return Table({sheet, plan, Figures(wording.shown, converted), wording}).all();
}

}  // namespace steelyard::reports
