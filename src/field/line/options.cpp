#include "field/line/options.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "field/line/pattern.hpp"

namespace steelyard::field {
namespace {

constexpr double longest_stable_for = 60;
constexpr double largest_within = 1000;

std::string lower(std::string_view word) {
  std::string out(word);
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}

bool is_framing(std::string_view text) {
  return text.size() == 3 && (text[0] == '7' || text[0] == '8') &&
         (text[1] == 'N' || text[1] == 'E' || text[1] == 'O') && (text[2] == '1' || text[2] == '2');
}

std::string listed_speeds() {
  std::string list;
  for (const int speed : line_speeds()) {
    if (!list.empty()) list += ", ";
    list += std::to_string(speed);
  }
  return list;
}

bool within(double value, double least, double most) {
  return std::isfinite(value) && value >= least && value <= most;
}

}  // namespace

const std::vector<int>& line_speeds() {
  static const std::vector<int> speeds{1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200};
  return speeds;
}

std::vector<std::string> option_faults(const LineOptions& options) {
  std::vector<std::string> faults;
  if (options.device.empty() || options.device.find('\0') != std::string::npos)
    faults.emplace_back("--line: no device; give its path, such as /dev/ttyUSB0");
  if (std::find(line_speeds().begin(), line_speeds().end(), options.speed) == line_speeds().end())
    faults.push_back(std::string("--line-speed: ") + std::to_string(options.speed) +
                     " is no speed; give one of " + listed_speeds());
  if (!is_framing(options.framing))
    faults.push_back(std::string("--line-framing: \"") + printable(options.framing) +
                     "\" is none; give data bits 7 or 8, parity N, E or O and stop bits 1 or 2, such as 8N1");
  if (const auto fault = pattern_fault(options.pattern))
    faults.push_back(std::string("--line-pattern: ") + *fault);
  if (!within(options.stable_for, 0, longest_stable_for))
    faults.emplace_back("--line-stable-for: must be 0 to 60 seconds");
  if (!within(options.within, 0, largest_within))
    faults.emplace_back("--line-stable-within: must be 0 to 1000, in the unit of the load");
  return faults;
}

std::optional<LineEnd> line_end_named(std::string_view word) {
  const std::string name = lower(word);
  if (name == "any") return LineEnd::any;
  if (name == "cr") return LineEnd::cr;
  if (name == "lf") return LineEnd::lf;
  if (name == "crlf") return LineEnd::crlf;
  return {};
}

std::optional<DecimalMark> decimal_mark_named(std::string_view word) {
  const std::string name = lower(word);
  if (name == "point") return DecimalMark::point;
  if (name == "comma") return DecimalMark::comma;
  return {};
}

std::optional<units::LoadUnit> load_unit_named(std::string_view word) {
  const std::string name = lower(word);
  for (const std::string_view kilograms : {"kg", "kgs", "kilo", "kilos", "kilogram", "kilograms"})
    if (name == kilograms) return units::LoadUnit::kilogram;
  for (const std::string_view pounds : {"lb", "lbs", "pound", "pounds"})
    if (name == pounds) return units::LoadUnit::pound;
  return {};
}

}  // namespace steelyard::field
