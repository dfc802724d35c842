// What pictures of rows share: texts that begin at a place, word by word, as some programs break a longer label into
// lines; and figures with their intervals.
//
// Units: the plane's, of which `per_pixel` make a pixel; sizes in points. No errors.
#pragma once

#include <cstdint>
#include <string>

#include "reports/words/drawing.hpp"

namespace steelyard::reports::document {

/// Pixels that a text of that size takes.
double text_pixels(const std::string& text, double size);

/// Puts `text` with its left end at `left`, cut with a mark where it is wider than `room` pixels.
void put_left(Drawing& drawing, Point left, const std::string& text, double size, std::uint32_t colour, double room,
              double per_pixel = 1);

/// A figure with its interval on a line at `y`: a stroke from `low` to `high` with ends, a diamond at `middle`. In a plane of
/// pixels.
struct Interval {
  double low = 0, middle = 0, high = 0;
};
void put_interval(Drawing& drawing, const Interval& at, double y, std::uint32_t colour);

}  // namespace steelyard::reports::document
