#include "reports/plan/plan_table.hpp"

#include <algorithm>
#include <set>
#include <vector>

#include "reports/plan/plan_words.hpp"
#include "reports/table/figures.hpp"
#include "reports/table/limit_words.hpp"
#include "reports/table/result_table.hpp"
#include "reports/table/terminal_text.hpp"

namespace steelyard::reports {
namespace {

using plan::Plan;
using reconcile::Measure;

constexpr std::size_t number_width = 5, place_width = 34, scale_width = 14, load_width = 10;
constexpr std::size_t name_width = 40, figure_width = 10;
constexpr std::size_t most_aims = 10;  // a screen holds these; --json has them all
constexpr std::string_view unbroken = "\u00a0";  // a blank at which no line breaks

class Table {
 public:
  Table(const rig::Session& sheet, const Plan& plan) : sheet_(sheet), plan_(plan), figures_(sheet.units) {}

  std::string all() const {
    std::string out = heading() + '\n' + steps() + '\n' + aims() + '\n' + shortfalls() + twice() + '\n' +
                      suppositions() + '\n' + hints();
    for (std::size_t at; (at = out.find(unbroken)) != std::string::npos;) out.replace(at, unbroken.size(), 1, ' ');
    return out;
  }

 private:
  std::string load_unit() const { return figures_.unit(Measure::kilogram); }
  bool coupled() const { return sheet_.rig.trailer && !sheet_.rig.trailer->self_supporting; }

  /// U of a figure with that u: "± 6.8" without the sign.
  std::string expanded(const std::optional<double>& u, Measure measure) const {
    return u ? figures_.alone(2 * *u, u, measure, measure == Measure::one) : "?";
  }
  std::string expanded_load(const std::optional<double>& u) const {
    return with_sign(u, Measure::kilogram);
  }
  std::string with_sign(const std::optional<double>& u, Measure measure) const {
    std::string out = std::string("±").append(unbroken).append(expanded(u, measure)).append(unbroken);
    return out.append(figures_.unit(measure, measure == Measure::one));
  }
  std::string about(double kg) const {
    return figures_.whole(kg, Measure::kilogram).append(unbroken).append(load_unit());
  }

  static std::string counted(int count, std::string_view one, std::string_view more) {
    return std::to_string(count) + ' ' + std::string(count == 1 ? one : more);
  }

  std::string heading() const {
    const rig::Rig& rig = sheet_.rig;
    std::string words = vehicle_in_words(rig.tow_vehicle.label, rig.tow_vehicle.registration);
    if (rig.trailer) words += " with " + vehicle_in_words(rig.trailer->label, rig.trailer->registration);
    std::string out = paragraph("", words);
    const plan::Prospect& chosen = plan_.chosen;
    std::string line = counted(chosen.readings, "reading", "readings") + " in " +
                       counted(chosen.set_downs, "set-down", "set-downs");
    if (chosen.readings < plan_.once.readings)
      line += " (every position once: " + std::to_string(plan_.once.readings) + ")";
    line += plan_.shortfalls.empty() ? "; all that is wanted is reached"
                                     : "; NOT all that is wanted can be reached, see below";
    out += paragraph("Plan: ", line);
    std::string wanted;
    if (coupled())
      wanted = "the coupling load to " + expanded_load(plan_.wanted.coupling_u.value_or(plan::usual_coupling_u)) +
               (plan_.wanted.coupling_u ? "" : " (usual)") + ", ";
    wanted += plan_.wanted.margin_u ? "every other margin to " + expanded_load(plan_.wanted.margin_u)
                                    : "every other margin to ± 2 % of its rating (usual)";
    return out + paragraph("Wanted: ", wanted + "; ± is for 95 %");
  }

  std::string steps() const {
    std::string out = pad_right("What to weigh, in this order", number_width + place_width) +
                      pad_right("scale", scale_width) + pad_left("about, " + load_unit(), load_width);
    if (coupled()) out += pad_left("coupling, ±", table_width - number_width - place_width - scale_width - load_width);
    out += '\n';
    const plan::Step* before = nullptr;
    for (const plan::Step& step : plan_.steps) {
      if (!before || before->state != step.state) out += state_line(step.state);
      else if (before->pass != step.pass)
        out += "  once more: roll off, let the suspension settle, set down again\n";
      out += step_line(step, before && before->set_down == step.set_down);
      before = &step;
    }
    for (const plan::PlannedState& state : plan_.states)
      if (state.readings == 0)
        out += paragraph("", "State \"" + printable(state.state.name) + "\" is not needed for what is wanted.");
    return out;
  }

  std::string state_line(const std::string& name) const {
    for (const plan::PlannedState& planned : plan_.states)
      if (planned.state.name == name)
        return paragraph("", "State \"" + printable(name) + "\": " +
                                 arrangement_in_words(planned.state, sheet_.rig) +
                                 (planned.added ? " (the sheet does not have it)" : ""));
    return {};
  }

  std::string step_line(const plan::Step& step, bool with_the_last) const {
    std::string scale;
    for (const std::string& id : step.scales) scale += (scale.empty() ? "" : ", ") + printable(id);
    if (scale.empty()) scale = sheet_.scales.empty() ? "any" : "none listed!";
    std::string out = pad_right(with_the_last ? "" : pad_left(std::to_string(step.set_down), number_width - 2),
                                number_width);
    out += pad_right(rig::in_words(step.at), place_width);
    out += pad_right(cut(scale, scale_width - 1), scale_width);
    out += pad_left(figures_.whole(step.expected, Measure::kilogram), load_width);
    if (coupled())
      out += pad_left(expanded(step.coupling_u, Measure::kilogram),
                      table_width - number_width - place_width - scale_width - load_width);
    return out + '\n';
  }

  /// What comes nearest to what is wanted of it first; shares, of which no figure is wanted, last.
  std::vector<const plan::Aim*> hardest_first() const {
    std::vector<const plan::Aim*> out;
    for (const plan::Aim& aim : plan_.aims) out.push_back(&aim);
    const auto rank = [](const plan::Aim* aim) {
      if (!aim->limit) return 1e300;
      if (!aim->plan) return 1e200;
      return aim->wanted ? *aim->plan / *aim->wanted : 0;
    };
    std::stable_sort(out.begin(), out.end(),
                     [&](const plan::Aim* a, const plan::Aim* b) { return rank(a) > rank(b); });
    return out;
  }

  std::string aims() const {
    std::string out = pad_right("How well it will be known, ± " + load_unit(), name_width);
    for (const char* column : {"wanted", "plan", "all once", "all twice"}) out += pad_left(column, figure_width);
    out += '\n';
    const auto listed = hardest_first();
    for (std::size_t i = 0; i < std::min(listed.size(), most_aims); ++i) out += aim_line(*listed[i]);
    if (listed.empty()) return out + aim_masses();
    if (listed.size() > most_aims)
      out += paragraph("  ", "and " + std::to_string(listed.size() - most_aims) +
                                 " more that come easier (--json has them all)");
    return out;
  }

  std::string aim_line(const plan::Aim& aim) const {
    std::string name = aim_in_words(aim, sheet_);
    if (aim.measure == Measure::one) name += ", %";
    std::string out = pad_right((aim.reached ? "  " : "! ") + cut(name, name_width - 3), name_width);
    out += pad_left(aim.wanted ? expanded(aim.wanted, aim.measure) : "", figure_width);
    for (const auto& u : {aim.plan, aim.once, aim.twice}) out += pad_left(expanded(u, aim.measure), figure_width);
    return out + '\n';
  }

  /// Without a coupling and without limits there are still the masses.
  std::string aim_masses() const {
    std::string out;
    for (const auto& [name, words] : {std::pair{"tow_unhitched_total", "tow vehicle, total"},
                                      std::pair{"trailer_mass", "trailer mass"}}) {
      std::string line = pad_right(std::string("  ") + words, name_width) + pad_left("", figure_width);
      bool any = false;
      for (const plan::Prospect* prospect : {&plan_.chosen, &plan_.once, &plan_.twice}) {
        const reconcile::Quantity* quantity = prospect->findings.find(name);
        any = any || quantity;
        line += pad_left(quantity && quantity->determinable ? expanded(quantity->u, quantity->measure) : "?",
                         figure_width);
      }
      if (any) out += line + '\n';
    }
    return out;
  }

  /// Links of one coupling chain fall short alike: they are said together.
  std::string shortfalls() const {
    std::vector<std::pair<std::string, std::string>> said;  // what falls short, and why
    for (const plan::Shortfall& shortfall : plan_.shortfalls) {
      const std::string name = aim_in_words(plan_.aims[shortfall.aim], sheet_), why = falls_short(shortfall);
      if (!said.empty() && said.back().second == why)
        said.back().first += "; " + name;
      else
        said.emplace_back(name, why);
    }
    std::string out;
    for (const auto& [name, why] : said) out += paragraph("Not reached: ", name + why);
    return out.empty() ? out : out + '\n';
  }

  std::string falls_short(const plan::Shortfall& shortfall) const {
    const plan::Aim& aim = plan_.aims[shortfall.aim];
    std::string text = aim.state ? " in \"" + printable(*aim.state) + '"' : "";
    if (!shortfall.floor)
      text += ": cannot be told from any of these readings";
    else
      text += ": no better than " + with_sign(shortfall.floor, aim.measure) +
              " even with every position twice; most of what is left (" +
              figures_.whole(100 * shortfall.share, Measure::one).append(unbroken) + "%) comes from " +
              governing_in_words(shortfall.governed_by);
    const std::string remedy = remedy_in_words(shortfall.remedy, sheet_);
    if (remedy.empty()) return text;
    return text + "; " + remedy + " would bring it to " + with_sign(shortfall.with_remedy, aim.measure);
  }

  std::string twice() const {
    const plan::Prospect &once = plan_.once, &both = plan_.twice;
    std::string text = "Reading every position twice (" + std::to_string(both.readings) + " readings for " +
                       std::to_string(once.readings) + ") ";
    if (once.smallest_detectable && both.smallest_detectable)
      text += "brings the smallest error that is noticed from about " + about(*once.smallest_detectable) + " to " +
              about(*both.smallest_detectable);
    else if (both.smallest_detectable)
      text += "lets an error from about " + about(*both.smallest_detectable) +
              " be noticed; read once, no reading checks another";
    if (!plan_.aims.empty() && !plan_.aims[0].limit && plan_.aims[0].once && plan_.aims[0].twice)
      text += ", and the coupling load from " + expanded_load(plan_.aims[0].once) + " to " +
              expanded_load(plan_.aims[0].twice);
    return paragraph("", text + '.') + paragraph("", checked());
  }

  /// What the plan itself lets through: fewer readings are less work, and check each other less.
  std::string checked() const {
    const plan::Prospect &chosen = plan_.chosen, &once = plan_.once;
    std::string out = "In this plan ";
    if (chosen.smallest_detectable)
      out += "an error is noticed from about " + about(*chosen.smallest_detectable);
    else
      out += "no reading checks another: an error is not noticed";
    if (chosen.smallest_detectable && chosen.unchecked > 0)
      out += ", but not in " + counted(chosen.unchecked, "reading", "readings") + " that no other checks";
    const bool more = once.smallest_detectable && chosen.readings < once.readings &&
                      (!chosen.smallest_detectable || chosen.unchecked > once.unchecked ||
                       *once.smallest_detectable < *chosen.smallest_detectable);
    if (more)
      out += "; every position once (" + std::to_string(once.readings) + " readings in " +
             counted(once.set_downs, "set-down", "set-downs") + ") notices one from about " +
             about(*once.smallest_detectable);
    else if (!chosen.smallest_detectable)
      out += "; read twice what matters";
    return out + '.';
  }

  std::string suppositions() const {
    std::string out = "What is supposed, until it is weighed\n";
    for (const plan::Supposition& supposed : plan_.suppositions) {
      const bool percent = supposed.measure == Measure::one;
      std::string figure = percent ? figures_.alone(supposed.value, 0.005, Measure::one, true)
                                   : figures_.whole(supposed.value, supposed.measure);
      figure += ' ' + figures_.unit(supposed.measure, percent);
      out += "  " + pad_right(cut(supposition_in_words(supposed), 34), 35) + pad_left(figure, 15) + "  " +
             origin_in_words(supposed.origin) + '\n';
    }
    return out + paragraph("", "Parts of ratings and usual sizes are common practice, no source. How uncertain a "
                               "reading is hangs on its load, so figures move a little with the real rig.");
  }

  bool lacks_a_scale() const {
    return !sheet_.scales.empty() && std::any_of(plan_.steps.begin(), plan_.steps.end(), [](const auto& step) {
      return step.scales.empty();
    });
  }

  /// Not every wheel end of a vehicle stands on a pad at once: the others stand lower.
  bool pads_are_few() const {
    std::set<std::string> pads;
    for (const plan::Step& step : plan_.steps)
      if (step.at.extent == rig::Extent::wheel) pads.insert(step.scales.begin(), step.scales.end());
    const std::size_t axles = std::max(sheet_.rig.tow_vehicle.axles.size(),
                                       static_cast<std::size_t>(sheet_.rig.trailer ? sheet_.rig.trailer->axles : 0));
    return !pads.empty() && pads.size() < 2 * axles;
  }

  std::string hints() const {
    std::string out;
    if (plan_.readings_there > 0)
      out += paragraph("", counted(plan_.readings_there, "reading", "readings") +
                               " of the sheet served for the supposed loads only; the plan weighs afresh.");
    if (lacks_a_scale())
      out += paragraph("", "\"none listed!\": no scale of the sheet carries that load; bring one that does, and "
                           "list it with its capacity.");
    if (pads_are_few())
      out += paragraph("", "Fewer pads than wheel ends: bring the other axles of that vehicle to the same height, "
                           "or write \"raised\" with the reading.");
    return out + paragraph("", "Chock first; brakes off only as the method says; zero the scales; roll half a wheel "
                               "turn before each reading.");
  }

  const rig::Session& sheet_;
  const Plan& plan_;
  Figures figures_;
};

}  // namespace

std::string plan_table(const rig::Session& sheet, const Plan& plan) {
  return Table(sheet, plan).all();
}

}  // namespace steelyard::reports
