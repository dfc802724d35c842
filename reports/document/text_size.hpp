// How much room a text takes in Arial, so that rows are high enough in every spreadsheet program.
//
// Programs do not fit the height of rows with joined cells, and fit others each in their own way; so heights
// are set here from the widths of the characters. Units: points; column widths in characters of the standard
// font.
#pragma once

#include <string_view>

namespace steelyard::reports::document {

/// Width of one line of `text`.
double text_width(std::string_view text, double size, bool bold);

/// Lines that `text` takes when wrapped at `width` points; 1 for an empty text.
int wrapped_lines(std::string_view text, double size, bool bold, double width);

/// Pixels and points (what is left for text) of columns that are `characters` wide and `count` many.
double columns_in_pixels(double characters, int count);
double room_for_text(double characters, int count);

}  // namespace steelyard::reports::document
