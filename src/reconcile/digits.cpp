#include "reconcile/digits.hpp"

#include <algorithm>
#include <cctype>
#include <string>

#include "units/number.hpp"

namespace steelyard::reconcile {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// Keeps what somebody would write: no leading zero before another digit, above nothing, and not the figure
/// itself.
void keep(std::vector<double>& out, const std::string& text, double figure) {
  if (text.size() > 1 && text[0] == '0' && is_digit(text[1])) return;
  const auto value = units::parse_number(text);
  if (!value || !(*value > 0) || *value == figure) return;
  if (std::find(out.begin(), out.end(), *value) == out.end()) out.push_back(*value);
}

}  // namespace

std::vector<double> digits_exchanged(double figure) {
  const std::string text = units::shortest(figure);
  std::vector<double> out;
  for (std::size_t i = 0; i < text.size(); ++i)
    for (std::size_t j = i + 1; j < text.size(); ++j) {
      if (!is_digit(text[i]) || !is_digit(text[j])) continue;
      std::string other = text;
      std::swap(other[i], other[j]);
      keep(out, other, figure);
    }
  return out;
}

std::vector<double> digit_restored(double figure) {
  const std::string text = units::shortest(figure);
  std::vector<double> out;
  for (std::size_t i = 0; i <= text.size(); ++i)
    for (char digit = '0'; digit <= '9'; ++digit) {
      std::string other = text;
      other.insert(i, 1, digit);
      keep(out, other, figure);
    }
  return out;
}

std::vector<double> digit_taken_out(double figure) {
  const std::string text = units::shortest(figure);
  std::vector<double> out;
  for (std::size_t i = 0; i + 1 < text.size(); ++i) {
    if (!is_digit(text[i]) || text[i] != text[i + 1]) continue;
    std::string other = text;
    other.erase(i, 1);
    keep(out, other, figure);
  }
  return out;
}

}  // namespace steelyard::reconcile
