#include "reports/document/number_text.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <limits>

#include "units/number.hpp"

namespace steelyard::reports {
namespace {

constexpr double needs_exponent = 1e9, least_chance = 0.0001, most_chance = 0.9999;

bool is_share(const Number& number) {
  return number.kind == Number::Kind::share;
}

/// Digits without a sign.
std::string digits(const Number& number) {
  const double size = std::abs(is_share(number) ? 100 * number.value : number.value);
  if (std::abs(number.value) >= needs_exponent) {
    char text[32];
    const auto end = std::to_chars(text, text + sizeof text, size, std::chars_format::scientific, 3).ptr;
    std::replace(text, end, 'e', 'E');
    return {text, end};
  }
  // A spreadsheet rounds 2.675 up, though the nearest double lies a little below it.
  return units::fixed(size * (1 + 4 * std::numeric_limits<double>::epsilon()), number.decimals);
}

bool rounds_to_zero(const std::string& digits) {
  return digits.find_first_of("123456789") == digits.npos;
}

}  // namespace

std::string number_format(const Number& number) {
  if (number.kind == Number::Kind::probability) return R"([<0.0001]"< 0.01 %";[>0.9999]"> 99.99 %";0.00\ %)";
  if (number.decimals < 0) return {};
  std::string figure = "0";
  if (number.decimals > 0) figure += '.' + std::string(static_cast<std::size_t>(number.decimals), '0');
  if (std::abs(number.value) >= needs_exponent) figure = "0.000E+00";
  if (is_share(number)) figure += "\\ %";
  if (!number.unit.empty()) figure += "\" " + number.unit + '"';
  if (number.plus_or_minus) return "\"± \"" + figure;
  if (rounds_to_zero(digits(number))) return figure + ";" + figure;
  if (number.show_sign) return "+" + figure + ";\"−\"" + figure + ";" + figure;
  return figure + ";\"−\"" + figure;
}

std::string shown_text(const Number& number) {
  if (number.kind == Number::Kind::probability) {
    if (number.value < least_chance) return "< 0.01 %";
    if (number.value > most_chance) return "> 99.99 %";
    return digits({.value = number.value, .decimals = 2, .kind = Number::Kind::share}) + " %";
  }
  if (number.decimals < 0) return units::shortest(number.value);
  std::string text = digits(number);
  const bool zero = rounds_to_zero(text);
  if (is_share(number)) text += " %";
  if (!number.unit.empty()) text += ' ' + number.unit;
  if (number.plus_or_minus) return "± " + text;
  if (zero) return text;
  if (number.value < 0) return "−" + text;
  return number.show_sign ? "+" + text : text;
}

}  // namespace steelyard::reports
