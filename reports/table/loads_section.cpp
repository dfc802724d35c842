#include <algorithm>
#include <array>
#include <set>
#include <vector>

#include "reports/table/limit_words.hpp"
#include "reports/table/sections.hpp"
#include "reports/words/terminal_text.hpp"

namespace steelyard::reports {
namespace {

using reconcile::Quantity;

constexpr std::size_t label_width = 25;
constexpr std::size_t column_width = 17;
constexpr std::size_t states_a_block = (table_width - label_width) / column_width;

/// One line of the grid: a quantity followed through the states.
struct Line {
  std::string label;
  std::string_view name;
  std::string at;
};

/// The tow vehicle's total in every state stands among the quantities that limits compare with.
constexpr std::string_view tow_total = "tow_load";

const Quantity* find(const Subject& subject, const Line& line, const rig::State& state) {
  const reconcile::Findings& findings = subject.findings;
  return line.name == tow_total ? findings.find_for_limit(line.name, state.name, line.at)
                                : findings.find(line.name, state.name, line.at);
}

bool anywhere(const Subject& subject, const Line& line) {
  const auto& states = subject.session.states;
  return std::any_of(states.begin(), states.end(),
                     [&](const rig::State& state) { return find(subject, line, state) != nullptr; });
}

void add_vehicle(std::vector<Line>& lines, const Subject& subject, rig::Vehicle vehicle, int axles) {
  const std::string words(vehicle == rig::Vehicle::tow ? "tow" : "trailer");
  for (int axle = 1; axle <= axles; ++axle) {
    const std::string at = words + '.' + std::to_string(axle);
    const Line left{"    left", "wheel_load", at + ".left"}, right{"    right", "wheel_load", at + ".right"};
    lines.push_back({words + " axle " + std::to_string(axle), "axle_load", at});
    if (anywhere(subject, left)) lines.push_back(left);
    if (anywhere(subject, right)) lines.push_back(right);
  }
  if (vehicle == rig::Vehicle::trailer) {
    lines.push_back({words + ", all axles", "group_load", words});
    return;
  }
  if (axles > 2) {
    lines.push_back({"tow, front axles", "group_load", "tow.front"});
    lines.push_back({"tow, rear axles", "group_load", "tow.rear"});
  }
  lines.push_back({"tow, all axles", tow_total, ""});
}

std::vector<Line> grid_lines(const Subject& subject) {
  std::vector<Line> lines;
  const rig::Rig& rig = subject.session.rig;
  add_vehicle(lines, subject, rig::Vehicle::tow, static_cast<int>(rig.tow_vehicle.axles.size()));
  if (rig.trailer) {
    add_vehicle(lines, subject, rig::Vehicle::trailer, rig.trailer->axles);
    lines.push_back({subject.wording("coupling load"), "coupling_load_at_height", ""});
    lines.push_back({"  net of the bars", "coupling_load_net", ""});
  }
  std::erase_if(lines, [&](const Line& line) { return !anywhere(subject, line); });
  return lines;
}

std::string cell(const Subject& subject, const Line& line, const rig::State& state) {
  // Net and static coupling load differ only where bars carry a moment: elsewhere the second line says
  // nothing new.
  if (line.name == "coupling_load_net" && !state.weight_distribution) return "";
  const Quantity* quantity = find(subject, line, state);
  if (!quantity) return "";
  if (!quantity->determinable) return "?";
  return subject.figures.with_u(quantity->value, quantity->u, quantity->measure);
}

std::string heading(const Subject& subject, std::size_t first, std::size_t last) {
  std::vector<std::vector<std::string>> names;
  std::size_t depth = 1;
  for (std::size_t i = first; i < last; ++i) {
    names.push_back(wrap(printable(subject.session.states[i].name), column_width - 2));
    if (names.back().size() > 2)
      names.back() = {names.back()[0], cut(names.back()[1] + "…", column_width - 2)};
    depth = std::max(depth, names.back().size());
  }
  std::string out;
  for (std::size_t row = 0; row < depth; ++row) {
    std::string line(label_width, ' ');
    for (const auto& name : names) {
      const std::size_t blank = depth - name.size();
      line += pad_left(row < blank ? "" : name[row - blank], column_width);
    }
    out += line.erase(line.find_last_not_of(' ') + 1) + '\n';
  }
  return out;
}

std::string block(const Subject& subject, const std::vector<Line>& lines, std::size_t first,
                  std::size_t last) {
  std::string out = heading(subject, first, last);
  for (const Line& line : lines) {
    std::string row = "  " + pad_right(line.label, label_width - 2);
    bool said = false;
    for (std::size_t i = first; i < last; ++i) {
      const std::string text = cell(subject, line, subject.session.states[i]);
      said = said || !text.empty();
      row += pad_left(text, column_width);
    }
    row.erase(row.find_last_not_of(' ') + 1);
    if (said) out += row + '\n';
  }
  return out;
}

struct Named {
  std::string_view name, label;
  bool percent = false;
};

constexpr std::array session_quantities{Named{"tow_unhitched_total", "tow vehicle, unhitched"},
                                        Named{"trailer_mass", "trailer mass"},
                                        Named{"combination_mass", "combination"},
                                        Named{"coupling_load", "coupling load"},
                                        Named{"coupling_share", "share of the trailer mass", true},
                                        Named{"load_transfer_ratio", "load-transfer ratio"},
                                        Named{"overhang", "overhang"},
                                        Named{"inferred_overhang", "  from the weights alone"},
                                        Named{"height_sensitivity", "coupling load per height"}};

std::string quantity_line(const Subject& subject, std::string label, const Quantity& quantity, bool percent) {
  if (!quantity.determinable) return {};
  const Figures& figures = subject.figures;
  std::string text = figures.with_u(quantity.value, quantity.u, quantity.measure, percent);
  const std::string unit = figures.unit(quantity.measure, percent);
  if (!unit.empty()) text += ' ' + unit;
  if (quantity.interval) {
    text += "  (95 %: " + figures.alone(quantity.interval->first, quantity.u, quantity.measure) + " to " +
            figures.alone(quantity.interval->second, quantity.u, quantity.measure) + ')';
  }
  return "  " + pad_right(label, 27) + text + '\n';
}

}  // namespace

std::string loads_section(const Subject& subject) {
  const std::vector<Line> lines = grid_lines(subject);
  if (lines.empty()) return {};
  const std::string unit = subject.figures.unit(reconcile::Measure::kilogram);
  std::string out = "What rests where, " + unit + " ± U (95 %)\n";
  const std::size_t states = subject.session.states.size();
  for (std::size_t first = 0; first < states; first += states_a_block)
    out += block(subject, lines, first, std::min(states, first + states_a_block));
  return out;
}

std::string quantities_section(const Subject& subject) {
  std::string body;
  for (const Named& named : session_quantities)
    if (const Quantity* quantity = subject.findings.find(named.name))
      body += quantity_line(subject, subject.wording(named.label), *quantity, named.percent);
  for (const rig::State& state : subject.session.states)
    if (const Quantity* back = subject.findings.find("front_axle_restoration", state.name))
      body += quantity_line(subject, "restored, " + cut(printable(state.name), 15), *back, true);
  return body.empty() ? "" : "The rig\n" + body;
}

}  // namespace steelyard::reports
