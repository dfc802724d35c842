#include "units/number.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <stdexcept>

namespace steelyard::units {

std::optional<double> parse_number(std::string_view text) {
  if (text.empty()) return std::nullopt;
  // from_chars takes "inf" and "nan" too; a decimal number starts with a digit, a point or a minus before
  // one.
  const std::size_t first = text.front() == '-' ? 1 : 0;
  if (first >= text.size()) return std::nullopt;
  const char lead = text[first];
  if (!(lead == '.' || (lead >= '0' && lead <= '9'))) return std::nullopt;
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

std::string shortest(double value) {
  if (!std::isfinite(value)) throw std::invalid_argument("shortest: the value is not finite");
  if (value == 0) return "0";
  char buffer[32];
  const auto [end, error] = std::to_chars(buffer, buffer + sizeof buffer, value);
  if (error != std::errc()) throw std::logic_error("shortest: buffer too small");
  return {buffer, end};
}

std::string fixed(double value, int places) {
  if (!std::isfinite(value)) throw std::invalid_argument("fixed: the value is not finite");
  char buffer[400];
  const auto [end, error] = std::to_chars(buffer, buffer + sizeof buffer, value, std::chars_format::fixed,
                                          std::clamp(places, 0, 9));
  if (error != std::errc()) throw std::logic_error("fixed: buffer too small");
  std::string text(buffer, end);
  if (text.front() == '-' && text.find_first_not_of("-0.") == std::string::npos) text.erase(0, 1);
  return text;
}

int decimals_for(double u, int most) {
  if (!(u > 0) || !std::isfinite(u)) return most;
  const double expanded = 2 * u;
  return std::clamp(1 - static_cast<int>(std::floor(std::log10(expanded))), 0, most);
}

}  // namespace steelyard::units
