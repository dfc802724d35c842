#include "reports/words/terminal_text.hpp"

#include <algorithm>
#include <array>
#include <cstdint>

namespace steelyard::reports {
namespace {

struct Decoded {
  char32_t point = 0;
  std::size_t bytes = 1;
  bool valid = false;
};

/// The first character of `text`, which is not empty; strict: no overlong forms, surrogates or values above
/// 10FFFF.
Decoded decode(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char lead = byte(0);
  if (lead < 0x80) return {lead, 1, true};
  const std::size_t length = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || text.size() < length) return {lead, 1, false};
  char32_t point = lead & (0xFFu >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xC0) != 0x80) return {lead, 1, false};
    point = (point << 6) | (byte(i) & 0x3Fu);
  }
  const bool overlong = (length == 3 && point < 0x800) || (length == 4 && point < 0x10000);
  if (overlong || point > 0x10FFFF || (point >= 0xD800 && point <= 0xDFFF)) return {lead, 1, false};
  return {point, length, true};
}

struct Range {
  char32_t first, last;
};

template <std::size_t N>
bool within(const std::array<Range, N>& ranges, char32_t point) {
  return std::any_of(ranges.begin(), ranges.end(),
                     [&](const Range& range) { return point >= range.first && point <= range.last; });
}

// Controls, and the format characters (category Cf) and separators that move or hide what stands beside them.
constexpr std::array<Range, 12> acted_on{{{0x00, 0x1F},
                                          {0x7F, 0x9F},
                                          {0xAD, 0xAD},
                                          {0x61C, 0x61C},
                                          {0x180E, 0x180E},
                                          {0x200B, 0x200F},
                                          {0x2028, 0x202E},
                                          {0x2060, 0x206F},
                                          {0xFEFF, 0xFEFF},
                                          {0xFFF9, 0xFFFB},
                                          {0x1D173, 0x1D17A},
                                          {0xE0000, 0xE0FFF}}};

constexpr std::array<Range, 6> no_columns{
    {{0x300, 0x36F}, {0x483, 0x489}, {0x1AB0, 0x1AFF}, {0x1DC0, 0x1DFF}, {0x20D0, 0x20FF}, {0xFE00, 0xFE2F}}};

constexpr std::array<Range, 9> two_columns{{{0x1100, 0x115F},
                                            {0x2E80, 0x303E},
                                            {0x3041, 0xA4CF},
                                            {0xAC00, 0xD7A3},
                                            {0xF900, 0xFAFF},
                                            {0xFE30, 0xFE6F},
                                            {0xFF01, 0xFF60},
                                            {0x1F300, 0x1FAFF},
                                            {0x20000, 0x3FFFD}}};

std::string escape(char32_t point, bool valid) {
  constexpr std::string_view digits = "0123456789abcdef";
  const int places = !valid || point < 0x100 ? 2 : point < 0x10000 ? 4 : 8;
  std::string text = places == 2 ? "\\x" : places == 4 ? "\\u" : "\\U";
  for (int place = places - 1; place >= 0; --place) text += digits[(point >> (4 * place)) & 0xF];
  return text;
}

std::size_t columns_of(char32_t point) {
  if (within(no_columns, point)) return 0;
  return within(two_columns, point) ? 2 : 1;
}

/// Bytes of `text` that fit in `width` columns, combining marks with their letter.
std::size_t bytes_within(std::string_view text, std::size_t width) {
  std::size_t used = 0, bytes = 0;
  while (bytes < text.size()) {
    const Decoded next = decode(text.substr(bytes));
    if (used + columns_of(next.point) > width) break;
    used += columns_of(next.point);
    bytes += next.bytes;
  }
  return bytes;
}

}  // namespace

std::string printable(std::string_view text) {
  std::string safe;
  while (!text.empty()) {
    const Decoded next = decode(text);
    if (next.valid && !within(acted_on, next.point))
      safe += text.substr(0, next.bytes);
    else if (next.valid && next.point == '\n')
      safe += "\\n";
    else if (next.valid && next.point == '\t')
      safe += "\\t";
    else
      safe += escape(next.point, next.valid);
    text.remove_prefix(next.bytes);
  }
  return safe;
}

std::string printable_lines(std::string_view text) {
  std::string safe;
  while (true) {
    const std::size_t end = text.find('\n');
    safe += printable(text.substr(0, end));
    if (end == std::string_view::npos) return safe;
    safe += '\n';
    text.remove_prefix(end + 1);
  }
}

std::size_t display_width(std::string_view text) {
  std::size_t width = 0;
  while (!text.empty()) {
    const Decoded next = decode(text);
    width += columns_of(next.point);
    text.remove_prefix(next.bytes);
  }
  return width;
}

std::string cut(std::string_view text, std::size_t width) {
  if (display_width(text) <= width) return std::string(text);
  if (width == 0) return {};
  return std::string(text.substr(0, bytes_within(text, width - 1))) + "…";
}

std::string pad_right(std::string_view text, std::size_t width) {
  std::string padded = cut(text, width);
  return padded.append(width - std::min(width, display_width(padded)), ' ');
}

std::string pad_left(std::string_view text, std::size_t width) {
  const std::string shown = cut(text, width);
  return std::string(width - std::min(width, display_width(shown)), ' ') + shown;
}

std::vector<std::string> wrap(std::string_view text, std::size_t width) {
  width = std::max<std::size_t>(width, 2);
  std::vector<std::string> lines(1);
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(' '), text.size());
    std::string_view word = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (word.empty()) continue;
    const std::size_t before = lines.back().empty() ? 0 : display_width(lines.back()) + 1;
    if (before + display_width(word) <= width) {
      if (before > 0) lines.back() += ' ';
      lines.back() += word;
      continue;
    }
    if (before > 0) lines.emplace_back();
    while (display_width(word) > width) {
      const std::size_t bytes = bytes_within(word, width);
      lines.back() = std::string(word.substr(0, bytes));
      lines.emplace_back();
      word.remove_prefix(bytes);
    }
    lines.back() = std::string(word);
  }
  return lines;
}

std::string paragraph(std::string_view first, std::string_view text, std::size_t width) {
  const std::size_t indent = display_width(first);
  std::string out;
  for (const std::string& line : wrap(text, width > indent ? width - indent : 1)) {
    out += out.empty() ? std::string(first) : std::string(indent, ' ');
    out += line;
    out += '\n';
  }
  return out;
}

}  // namespace steelyard::reports
