#include "reports/document/text_size.hpp"

#include <algorithm>
#include <array>

namespace steelyard::reports::document {
namespace {

// Advance widths of Helvetica's ASCII from blank to tilde in thousandths of the size (Adobe font metrics);
// Arial's are the same.
constexpr std::array<short, 95> advance{
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333,  278, 278, 556, 556, 556,
    556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667,
    611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667,  611, 722, 667, 944, 667,
    667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278,  556, 556, 222, 222, 500,
    222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500,  500, 334, 260, 334, 584};

bool begins_character(char c) {
  return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u;
}

double width_of(unsigned char lead) {
  if (lead >= 0x20 && lead < 0x7F) return advance[lead - 0x20u];
  if (lead >= 0xE3) return 1000;  // most of these are as wide as high
  return lead >= 0x80 ? 620 : 278;
}

}  // namespace

double text_width(std::string_view text, double size, bool bold) {
  double thousandths = 0;
  for (const char c : text)
    if (begins_character(c)) thousandths += width_of(static_cast<unsigned char>(c));
  return thousandths * size / 1000 * (bold ? 1.08 : 1.0);
}

int wrapped_lines(std::string_view text, double size, bool bold, double width) {
  int lines = 1;
  double used = 0;
  const double blank = text_width(" ", size, bold), room = std::max(width, size);
  while (!text.empty()) {
    const auto end = std::min(text.find_first_of(" \n"), text.size());
    const double word = text_width(text.substr(0, end), size, bold);
    if (used > 0 && used + blank + word > room) ++lines, used = 0;
    used += (used > 0 ? blank : 0) + word;
    while (used > room) ++lines, used -= room;  // a word longer than the line is broken
    if (end < text.size() && text[end] == '\n') ++lines, used = 0;
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

double columns_in_pixels(double characters, int count) {
  return 7 * characters + 5 * count;
}

double room_for_text(double characters, int count) {
  // A little less than there is, for fonts that stand in for Arial.
  return 0.97 * (columns_in_pixels(characters, count) * 0.75 - 5);
}

}  // namespace steelyard::reports::document
