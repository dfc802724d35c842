// Texts in a picture that begin at a place: word by word, as some programs break a longer label into lines.
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

}  // namespace steelyard::reports::document
