// The report's look: ink of slate, rules of brass, one colour and one sign an outcome.
//
// The outcome's colours differ in lightness as well as in hue, so that they stay apart for those who do not
// see hues and on a grey print; no colour stands without its sign and word.
#pragma once

#include <cstdint>

#include "reports/document/document.hpp"
#include "reports/workbook/workbook.hpp"

namespace steelyard::reports::document {

inline constexpr std::uint32_t ink = 0x22313A, quiet = 0x5B6870, brass = 0xB07A1E, band = 0xE9EDEF,
                               hairline = 0xC5CDD2, white = 0xFFFFFF;

std::uint32_t solid_colour(Tone tone);  // of a banner, a bar
std::uint32_t pale_colour(Tone tone);   // behind a word

namespace look {
Style title();
Style subtitle();
Style heading();
Style body();
Style bullet();
Style note();
Style warning();
Style label();
/// `apart`: the column before it ends at its right edge, so the text keeps away from it.
Style table_head(bool right, bool apart);
Style table_cell(const Cell& cell, bool right, bool apart);
Style banner_headline(Tone tone);
Style banner_line(Tone tone);
Style signature_line();
Style end_mark();
}  // namespace look

}  // namespace steelyard::reports::document
