// Texts and pictures as marks of a page: escaped for HTML, which is XML here too, and drawn as SVG.
//
// A text is made presentable first (reports/workbook/text.hpp), so that every form of a report shows the same
// characters; then nothing in it can end an element, an attribute or a style. Pictures: the plane of
// reports/words/drawing.hpp, `width` pixels wide; a point is 4/3 of a pixel. Nothing here throws for finite
// figures.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "reports/words/drawing.hpp"

namespace steelyard::reports::document {

/// Fit for the content of an element and for a value in quotation marks.
std::string escaped(std::string_view text);

/// Fit for a string of a style sheet, quotation marks included: "\00003C" for what is no letter, digit or
/// blank.
std::string style_string(std::string_view text);

/// "#0F6B5C".
std::string colour_words(std::uint32_t colour);

/// One <svg> element, on white whatever the page's colours are; `title` and the drawing's description name
/// it.
std::string svg_of(const Drawing& drawing, std::string_view title, double width);

}  // namespace steelyard::reports::document
