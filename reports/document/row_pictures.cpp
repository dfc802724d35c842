#include "reports/document/row_pictures.hpp"

#include <algorithm>

#include "reports/document/cells.hpp"
#include "reports/document/text_size.hpp"

namespace steelyard::reports::document {

double text_pixels(const std::string& text, double size) {
  return text_width(text, size, false) / 0.75;
}

void put_left(Drawing& drawing, Point left, const std::string& text, double size, std::uint32_t colour, double room,
              double per_pixel) {
  std::string words = text;
  while (text_pixels(words, size) > room && !words.empty()) {
    words.pop_back();
    while (!words.empty() && (static_cast<unsigned char>(words.back()) & 0xC0u) == 0x80u) words.pop_back();
    if (text_pixels(words + "…", size) <= room) words += "…";
  }
  double at = 0;
  while (!words.empty()) {
    const auto end = std::min(words.find(' '), words.size());
    const std::string word = words.substr(0, end);
    const double wide = text_pixels(word, size);
    if (!word.empty())
      drawing.labels.push_back({{left.x + (at + wide / 2) * per_pixel, left.y}, word, size, colour});
    at += wide + text_pixels(" ", size);
    words.erase(0, end + 1);
  }
}

void put_interval(Drawing& drawing, const Interval& at, double y, std::uint32_t colour) {
  drawing.strokes.push_back({{{at.low, y}, {at.high, y}}, 2.5, colour});
  for (const double end : {at.low, at.high}) drawing.strokes.push_back({{{end, y - 4}, {end, y + 4}}, 1.5, colour});
  const double x = at.middle;
  drawing.strokes.push_back({{{x, y - 6}, {x + 5, y}, {x, y + 6}, {x - 5, y}, {x, y - 6}}, 2, colour});
}

}  // namespace steelyard::reports::document
