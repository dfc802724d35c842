#include "sheet/formats.hpp"

#include <algorithm>
#include <charconv>
#include <vector>

namespace steelyard::sheet {
namespace {

unsigned char byte_at(std::string_view text, std::size_t at) {
  return static_cast<unsigned char>(text[at]);
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// The number that the `count` digits at the front of `text` spell, which are then removed; -1 when they are
/// not.
int take_digits(std::string_view& text, std::size_t count) {
  if (text.size() < count ||
      !std::all_of(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(count), is_digit))
    return -1;
  int value = 0;
  std::from_chars(text.data(), text.data() + count, value);
  text.remove_prefix(count);
  return value;
}

bool take(std::string_view& text, char expected) {
  if (text.empty() || text.front() != expected) return false;
  text.remove_prefix(1);
  return true;
}

int days_in(int year, int month) {
  constexpr int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
  return month == 2 && leap ? 29 : days[month - 1];
}

bool take_date(std::string_view& text) {
  const int year = take_digits(text, 4);
  if (year < 1900 || !take(text, '-')) return false;
  const int month = take_digits(text, 2);
  if (month < 1 || month > 12 || !take(text, '-')) return false;
  const int day = take_digits(text, 2);
  return day >= 1 && day <= days_in(year, month);
}

bool take_offset(std::string_view& text) {
  if (take(text, 'Z')) return true;
  if (!take(text, '+') && !take(text, '-')) return false;
  const int hours = take_digits(text, 2);
  if (hours < 0 || hours > 14 || !take(text, ':')) return false;
  const int minutes = take_digits(text, 2);
  return minutes >= 0 && minutes <= (hours == 14 ? 0 : 59);
}

bool is_noncharacter(
    std::string_view character) {  // U+FFFE and U+FFFF, which no XML file (a workbook) may hold
  return character == "\xEF\xBF\xBE" || character == "\xEF\xBF\xBF";
}

std::size_t longest(TextKind kind) {
  return kind == TextKind::name ? 200 : kind == TextKind::line ? 2'000 : 20'000;
}

}  // namespace

std::size_t utf8_width(std::string_view text) {
  const unsigned char lead = byte_at(text, 0);
  if (lead < 0x80) return 1;
  if (lead < 0xC2 || lead > 0xF4) return 0;
  const std::size_t width = lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
  if (text.size() < width) return 0;
  for (std::size_t i = 1; i < width; ++i)
    if ((byte_at(text, i) & 0xC0) != 0x80) return 0;
  const unsigned char second = byte_at(text, 1);
  const bool overlong = (lead == 0xE0 && second < 0xA0) || (lead == 0xF0 && second < 0x90);
  const bool surrogate = lead == 0xED && second > 0x9F;
  const bool beyond = lead == 0xF4 && second > 0x8F;
  return overlong || surrogate || beyond ? 0 : width;
}

bool is_control(std::string_view character) {
  const unsigned char lead = byte_at(character, 0);
  if (character.size() == 1) return lead < 0x20 || lead == 0x7F;
  return lead == 0xC2 && byte_at(character, 1) < 0xA0;
}

std::string text_fault(std::string_view text, TextKind kind) {
  if (text.size() > longest(kind))
    return "is " + std::to_string(text.size()) + " bytes long; at most " + std::to_string(longest(kind)) +
           " are allowed";
  if (kind == TextKind::name && !text.empty() && (text.front() == ' ' || text.back() == ' '))
    return "must not begin or end with a blank";
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t width = utf8_width(text.substr(at));
    if (width == 0) return "is not UTF-8 at byte " + std::to_string(at) + "; write it in UTF-8";
    const std::string_view character = text.substr(at, width);
    const bool break_in_note =
        kind == TextKind::note && (character == "\n" || character == "\t" || character == "\r");
    if (!break_in_note && (is_control(character) || is_noncharacter(character)))
      return "must not hold a control character (byte " + std::to_string(at) + "); " +
             (kind == TextKind::note ? "only line breaks and tabs may stand here" : "write it in one line");
    at += width;
  }
  return {};
}

bool is_date(std::string_view text) {
  return take_date(text) && text.empty();
}

bool is_time(std::string_view text) {
  if (!take_date(text) || !take(text, 'T')) return false;
  const int hours = take_digits(text, 2);
  if (hours < 0 || hours > 23 || !take(text, ':')) return false;
  const int minutes = take_digits(text, 2);
  if (minutes < 0 || minutes > 59) return false;
  if (take(text, ':')) {
    const int seconds = take_digits(text, 2);
    if (seconds < 0 || seconds > 59) return false;
    if (take(text, '.')) {
      const auto digits =
          static_cast<std::size_t>(std::find_if_not(text.begin(), text.end(), is_digit) - text.begin());
      if (digits == 0 || digits > 9) return false;
      text.remove_prefix(digits);
    }
  }
  return take_offset(text) && text.empty();
}

namespace {

/// Optimal string alignment: insertions, deletions, substitutions and swaps of neighbours.
std::size_t distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (a[i - 1] == b[j - 1] ? 0u : 1u)});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        row[j] = std::min(row[j], before[j - 2] + 1);
    }
    std::swap(before, last);
    std::swap(last, row);
  }
  return last[b.size()];
}

}  // namespace

std::string_view nearest(std::string_view word, std::span<const std::string_view> words) {
  if (word.size() > 60) return {};
  std::string_view best;
  std::size_t least = std::max<std::size_t>(1, word.size() / 3) + 1;
  for (const std::string_view candidate : words) {
    const std::size_t found = distance(word, candidate);
    if (found < least) {
      least = found;
      best = candidate;
    }
  }
  return best;
}

}  // namespace steelyard::sheet
