#include <algorithm>
#include <vector>

#include "reports/plan/plan_text.hpp"
#include "reports/plan/plan_words.hpp"
#include "reports/words/terminal_text.hpp"

namespace steelyard::reports {
namespace {

using reconcile::Measure;

constexpr std::size_t name_width = 40, figure_width = 10;
constexpr std::size_t most_aims = 10;  // a screen holds these; --json has them all

class Gains {
 public:
  explicit Gains(const PlanText& text) : text_(text) {}

  std::string aims() const {
    std::string out = pad_right("How well it will be known, ± " + text_.load_unit(), name_width);
    for (const char* column : {"wanted", "plan", "all once", "all twice"})
      out += pad_left(column, figure_width);
    out += '\n';
    const auto listed = hardest_first();
    for (std::size_t i = 0; i < std::min(listed.size(), most_aims); ++i) out += aim_line(*listed[i]);
    if (listed.empty()) return out + aim_masses();
    if (listed.size() > most_aims)
      out += paragraph("  ", "and " + std::to_string(listed.size() - most_aims) +
                                 " more that come easier (--json has them all)");
    return out;
  }

  /// Links of one coupling chain fall short alike: they are said together.
  std::string shortfalls() const {
    std::vector<std::pair<std::string, std::string>> said;  // what falls short, and why
    for (const plan::Shortfall& shortfall : text_.plan.shortfalls) {
      const std::string name = aim_in_words(text_.plan.aims[shortfall.aim], text_.sheet, text_.wording),
                        why = falls_short(shortfall);
      if (!said.empty() && said.back().second == why)
        said.back().first += "; " + name;
      else
        said.emplace_back(name, why);
    }
    std::string out;
    for (const auto& [name, why] : said) out += paragraph("Not reached: ", name + why);
    return out.empty() ? out : out + '\n';
  }

  std::string errors() const {
    std::string head = "Errors that show, four times in five, " + text_.load_unit();
    std::string out = pad_right(head, name_width) + pad_left("", figure_width);
    for (const char* column : {"plan", "all once", "all twice"}) out += pad_left(column, figure_width);
    const auto size = [this](const std::optional<double>& kg) {
      return kg ? text_.figures.whole(*kg, Measure::kilogram) : "none";
    };
    out += '\n' + error_line("in half of the readings, from about",
                             [&](const plan::Prospect& p) { return size(p.smallest_detectable); });
    out += error_line("in every reading that is checked, from",
                      [&](const plan::Prospect& p) { return size(p.largest_detectable); });
    out += error_line("readings that no other checks",
                      [](const plan::Prospect& p) { return std::to_string(p.unchecked); });
    out += error_line("readings in set-downs", [](const plan::Prospect& p) {
      return std::to_string(p.readings) + " in " + std::to_string(p.set_downs);
    });
    return out + checked() + paragraph("", twice());
  }

 private:
  /// What comes nearest to what is wanted of it first; shares, of which no figure is wanted, last.
  std::vector<const plan::Aim*> hardest_first() const {
    std::vector<const plan::Aim*> out;
    for (const plan::Aim& aim : text_.plan.aims) out.push_back(&aim);
    const auto rank = [](const plan::Aim* aim) {
      if (!aim->limit) return 1e300;
      if (!aim->plan) return 1e200;
      return aim->wanted ? *aim->plan / *aim->wanted : 0;
    };
    std::stable_sort(out.begin(), out.end(),
                     [&](const plan::Aim* a, const plan::Aim* b) { return rank(a) > rank(b); });
    return out;
  }

  std::string aim_line(const plan::Aim& aim) const {
    std::string name = aim_in_words(aim, text_.sheet, text_.wording);
    if (aim.measure == Measure::one) name += ", %";
    std::string out = pad_right((aim.reached ? "  " : "! ") + cut(name, name_width - 3), name_width);
    out += pad_left(aim.wanted ? text_.expanded(aim.wanted, aim.measure) : "", figure_width);
    for (const auto& u : {aim.plan, aim.once, aim.twice})
      out += pad_left(text_.expanded(u, aim.measure), figure_width);
    return out + '\n';
  }

  /// Without a coupling and without limits there are still the masses.
  std::string aim_masses() const {
    std::string out;
    for (const auto& [name, words] : {std::pair{"tow_unhitched_total", "tow vehicle, total"},
                                      std::pair{"trailer_mass", "trailer mass"}}) {
      std::string line = pad_right(std::string("  ") + words, name_width) + pad_left("", figure_width);
      bool any = false;
      for (const plan::Prospect* prospect : {&text_.plan.chosen, &text_.plan.once, &text_.plan.twice}) {
        const reconcile::Quantity* quantity = prospect->findings.find(name);
        any = any || quantity;
        line += pad_left(
            quantity && quantity->determinable ? text_.expanded(quantity->u, quantity->measure) : "?",
            figure_width);
      }
      if (any) out += line + '\n';
    }
    return out;
  }

  std::string falls_short(const plan::Shortfall& shortfall) const {
    const plan::Aim& aim = text_.plan.aims[shortfall.aim];
    std::string text = aim.state ? " in \"" + printable(*aim.state) + '"' : "";
    if (!shortfall.floor)
      text += ": cannot be told from any of these readings";
    else
      text += ": no better than " + text_.with_sign(shortfall.floor, aim.measure) +
              " even with every position twice; the largest part of what is left (" +
              text_.figures.whole(100 * shortfall.share, Measure::one).append(unbroken) + "%) comes from " +
              governing_in_words(shortfall.governed_by, text_.wording);
    const std::string remedy = remedy_in_words(shortfall.remedy, text_.sheet, text_.wording);
    const bool readings = shortfall.floor && shortfall.governed_by == reconcile::ObservationKind::reading;
    if (remedy.empty())
      return readings ? text + "; only finer scales or more than two readings bring more" : text;
    return text + "; " + remedy + " would bring it to " + text_.with_sign(shortfall.with_remedy, aim.measure);
  }

  template <class Figure>
  std::string error_line(std::string_view name, Figure figure) const {
    std::string out = pad_right("  " + std::string(name), name_width) + pad_left("", figure_width);
    for (const plan::Prospect* prospect : {&text_.plan.chosen, &text_.plan.once, &text_.plan.twice})
      out += pad_left(figure(*prospect), figure_width);
    return out + '\n';
  }

  std::string twice() const {
    const plan::Prospect &once = text_.plan.once, &both = text_.plan.twice;
    std::string text = "Reading every position twice (" + std::to_string(both.readings) + " readings for " +
                       std::to_string(once.readings) + ") ";
    if (once.smallest_detectable && both.smallest_detectable)
      text += "brings the smallest error that is noticed from about " +
              text_.about(*once.smallest_detectable) + " to " + text_.about(*both.smallest_detectable);
    else if (both.smallest_detectable)
      text += "lets an error from about " + text_.about(*both.smallest_detectable) +
              " be noticed; read once, no reading checks another";
    else
      text += "still lets no reading check another";
    if (!text_.plan.aims.empty() && !text_.plan.aims[0].limit && text_.plan.aims[0].once &&
        text_.plan.aims[0].twice)
      text += text_.wording(", and the coupling load from ") + text_.with_sign(text_.plan.aims[0].once) +
              " to " + text_.with_sign(text_.plan.aims[0].twice);
    return text + '.';
  }

  /// What the plan itself lets through.
  std::string checked() const {
    const plan::Prospect &chosen = text_.plan.chosen, &once = text_.plan.once;
    const bool more =
        text_.plan.wanted.rule == plan::Rule::least &&
        (chosen.smallest_detectable ? chosen.unchecked > once.unchecked : once.unchecked < once.readings);
    const std::string otherwise = "without --least every reading that can be is checked";
    if (!chosen.smallest_detectable)
      return paragraph("", "In this plan no reading checks another: an error is not noticed; " +
                               (more ? otherwise : "read twice what matters") + '.');
    std::string out =
        "In this plan an error is noticed from about " + text_.about(*chosen.smallest_detectable);
    if (chosen.unchecked > 0)
      out += ", but not in what no other reading checks: " + unchecked_places() + "; " +
             (more ? otherwise : "read that twice, and it is checked");
    return paragraph("", out + '.');
  }

  /// 'tow vehicle axle 1, tow vehicle axle 2 in "full"': wheel ends by their axle.
  std::string unchecked_places() const {
    std::vector<std::pair<std::string, std::string>> places;  // state, places
    for (const plan::Step& step : text_.plan.steps) {
      if (step.smallest_detectable) continue;
      rig::Position at = step.at;
      if (at.extent == rig::Extent::wheel) at = rig::Position::whole_axle(at.vehicle, at.axle);
      const std::string place = text_.wording(rig::in_words(at));
      if (places.empty() || places.back().first != step.state)
        places.emplace_back(step.state, place);
      else if (!places.back().second.ends_with(place))
        places.back().second += ", " + place;
    }
    std::string out;
    for (const auto& [state, words] : places)
      out += (out.empty() ? "" : "; ") + words + " in \"" + printable(state) + '"';
    return out;
  }

  const PlanText& text_;
};

}  // namespace

std::string PlanText::expanded(const std::optional<double>& u, Measure measure) const {
  return u ? figures.alone(2 * *u, u, measure, measure == Measure::one) : "?";
}

std::string PlanText::with_sign(const std::optional<double>& u, Measure measure) const {
  std::string out = std::string("±").append(unbroken).append(expanded(u, measure)).append(unbroken);
  return out.append(figures.unit(measure, measure == Measure::one));
}

std::string PlanText::about(double kg) const {
  return figures.whole(kg, Measure::kilogram).append(unbroken).append(load_unit());
}

std::string counted(int count, std::string_view one, std::string_view more) {
  return std::to_string(count).append(1, ' ').append(count == 1 ? one : more);
}

std::string aims_section(const PlanText& text) {
  return Gains(text).aims();
}
std::string shortfalls_section(const PlanText& text) {
  return Gains(text).shortfalls();
}
std::string errors_section(const PlanText& text) {
  return Gains(text).errors();
}

}  // namespace steelyard::reports
