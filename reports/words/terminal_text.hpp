// Text for a terminal: made harmless, measured in columns, padded, cut and wrapped.
//
// Names, reasons and places come from sheets that anybody may have written. A terminal acts on control
// characters and escape sequences, and bidirectional overrides show one text as another; printable() writes
// them as visible escapes ("\x1b", "\u202e"), so that what is on the screen is what is in the sheet. Widths
// are columns: a combining mark takes none, an East Asian wide character two (Unicode TR 11, the blocks).
// Everything here takes and gives UTF-8 and never throws for bad input.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace steelyard::reports {

/// The widest line of any table.
inline constexpr std::size_t table_width = 80;

/// `text` without anything that a terminal acts on: controls (line ends and tabs too), bidirectional and
/// other invisible formatting characters, and bytes that are not UTF-8, as escapes.
std::string printable(std::string_view text);

/// printable() of each line of `text`; the line ends stay.
std::string printable_lines(std::string_view text);

/// Columns that `text` takes on a terminal; `text` must be printable.
std::size_t display_width(std::string_view text);

/// `text` in at most `width` columns, with "…" where it was cut.
std::string cut(std::string_view text, std::size_t width);

std::string pad_right(std::string_view text, std::size_t width);  // text at the left
std::string pad_left(std::string_view text, std::size_t width);   // text at the right

/// `text` broken at blanks into lines of at most `width` columns; a word longer than that is broken inside.
std::vector<std::string> wrap(std::string_view text, std::size_t width);

/// wrap() with `first` before the first line and as many blanks before the others, each line ended.
std::string paragraph(std::string_view first, std::string_view text, std::size_t width = table_width);

}  // namespace steelyard::reports
