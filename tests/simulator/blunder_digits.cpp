#include "simulator/blunder_digits.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <string>
#include <vector>

namespace steelyard::simulator {
namespace {

std::string written(double figure) {
  std::array<char, 64> text{};
  const auto end = std::to_chars(text.data(), text.data() + text.size(), figure, std::chars_format::fixed);
  return {text.data(), end.ptr};
}

bool digit(char c) {
  return c >= '0' && c <= '9';
}

/// The figures that people would have written so; each once, none the same as before.
std::optional<double> one_of(const std::vector<std::string>& texts, double before, Random& random) {
  std::vector<double> all;
  for (const std::string& text : texts) {
    if (text.empty() || !digit(text.front()) || !digit(text.back())) continue;
    if (text.size() > 1 && text[0] == '0' && text[1] != '.') continue;
    double value = 0;
    std::from_chars(text.data(), text.data() + text.size(), value);
    if (value > 0 && value != before && std::find(all.begin(), all.end(), value) == all.end())
      all.push_back(value);
  }
  if (all.empty()) return std::nullopt;
  return all[random.below(all.size())];
}

}  // namespace

std::optional<double> swap_two_digits(double figure, Random& random) {
  const std::string text = written(figure);
  std::vector<std::string> all;
  for (std::size_t i = 0; i < text.size(); ++i)
    for (std::size_t k = i + 1; k < text.size(); ++k) {
      if (!digit(text[i]) || !digit(text[k])) continue;
      all.push_back(text);
      std::swap(all.back()[i], all.back()[k]);
    }
  return one_of(all, figure, random);
}

std::optional<double> drop_a_digit(double figure, Random& random) {
  const std::string text = written(figure);
  std::vector<std::string> all;
  for (std::size_t i = 0; i < text.size(); ++i)
    if (digit(text[i])) all.push_back(std::string(text).erase(i, 1));
  return one_of(all, figure, random);
}

std::optional<double> double_a_digit(double figure, Random& random) {
  const std::string text = written(figure);
  std::vector<std::string> all;
  for (std::size_t i = 0; i < text.size(); ++i)
    if (digit(text[i])) all.push_back(std::string(text).insert(i, 1, text[i]));
  return one_of(all, figure, random);
}

}  // namespace steelyard::simulator
