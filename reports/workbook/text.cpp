#include "reports/workbook/text.hpp"

#include <algorithm>
#include <cstdint>

namespace steelyard::reports {
namespace {

constexpr char32_t replacement = 0xFFFD;
constexpr std::string_view cut_mark = " … [cut]";
constexpr std::size_t cut_mark_units = 8;

bool is_continuation(char c) {
  return (static_cast<unsigned char>(c) & 0xC0u) == 0x80u;
}

/// The character at the front of `rest` and its bytes taken off it; one byte and U+FFFD where it is not
/// UTF-8.
char32_t take_character(std::string_view& rest) {
  const auto lead = static_cast<unsigned char>(rest.front());
  std::size_t length = 1;
  char32_t value = lead;
  if (lead >= 0xC2 && lead < 0xE0)
    length = 2, value = lead & 0x1Fu;
  else if (lead >= 0xE0 && lead < 0xF0)
    length = 3, value = lead & 0x0Fu;
  else if (lead >= 0xF0 && lead < 0xF5)
    length = 4, value = lead & 0x07u;
  else if (lead >= 0x80)
    value = replacement;
  if (length > 1) {
    bool whole = rest.size() >= length;
    for (std::size_t i = 1; whole && i < length; ++i) {
      whole = is_continuation(rest[i]);
      value = (value << 6) | (static_cast<unsigned char>(rest[i]) & 0x3Fu);
    }
    const bool overlong = (length == 3 && value < 0x800) || (length == 4 && value < 0x10000);
    if (!whole || overlong || value > 0x10FFFF || (value >= 0xD800 && value < 0xE000)) {
      length = 1;
      value = replacement;
    }
  }
  rest.remove_prefix(length);
  return value;
}

char32_t visible(char32_t c) {
  if (c == '\n' || c == '\t') return c;
  if (c < 0x20) return 0x2400 + c;
  if (c == 0x7F) return 0x2421;
  const bool turns_direction = (c >= 0x202A && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069);
  const bool no_character =
      (c >= 0x80 && c < 0xA0) || (c & 0xFFFEu) == 0xFFFEu || (c >= 0xFDD0 && c <= 0xFDEF);
  return turns_direction || no_character ? replacement : c;
}

void append(std::string& out, char32_t c) {
  const auto byte = [&out](char32_t b) { out += static_cast<char>(static_cast<std::uint8_t>(b)); };
  if (c < 0x80) {
    byte(c);
  } else if (c < 0x800) {
    byte(0xC0 | (c >> 6)), byte(0x80 | (c & 0x3F));
  } else if (c < 0x10000) {
    byte(0xE0 | (c >> 12)), byte(0x80 | ((c >> 6) & 0x3F)), byte(0x80 | (c & 0x3F));
  } else {
    byte(0xF0 | (c >> 18)), byte(0x80 | ((c >> 12) & 0x3F));
    byte(0x80 | ((c >> 6) & 0x3F)), byte(0x80 | (c & 0x3F));
  }
}

}  // namespace

std::string presentable(std::string_view text, std::size_t most) {
  std::string out;
  out.reserve(std::min(text.size(), most * 3));
  std::size_t units = 0;
  std::size_t keep = 0;  // bytes of `out` that still leave room for the mark
  const std::size_t room = most > cut_mark_units ? most - cut_mark_units : 0;
  while (!text.empty()) {
    if (text.starts_with("\r\n")) text.remove_prefix(1);
    const char32_t c = visible(take_character(text));
    units += c >= 0x10000 ? 2 : 1;
    if (units > most) {
      out.resize(keep);
      return out += cut_mark;
    }
    append(out, c);
    if (units <= room) keep = out.size();
  }
  return out;
}

std::string escape_hex_form(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  const auto is_hex = [](char c) {
    return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f') || (c >= 'A' && c <= 'F');
  };
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto form = text.substr(i, 7);
    const bool escape = form.size() == 7 && form.starts_with("_x") && form[6] == '_' &&
                        std::all_of(form.begin() + 2, form.begin() + 6, is_hex);
    if (escape) out += "_x005F";
    out += text[i];
  }
  return out;
}

}  // namespace steelyard::reports
