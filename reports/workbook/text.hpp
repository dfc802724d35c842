// Texts made fit for a workbook cell.
//
// A spreadsheet program refuses a whole file for one byte that is not UTF-8 or one character that XML 1.0
// does not allow (XML 1.0, 2.2), so such bytes are replaced by a mark that can be seen, never dropped in
// silence:
//   not UTF-8, not a character        U+FFFD
//   control characters but LF, TAB    their pictures, U+2400 and on (CR LF is one LF)
//   characters that turn the direction of what follows (U+202A to U+202E, U+2066 to U+2069)   U+FFFD
// Nothing here throws.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace steelyard::reports {

/// Longest text of one cell, in UTF-16 units: ECMA-376 part 1, 18.3.1.4 as spreadsheet programs hold it.
inline constexpr std::size_t longest_cell_text = 32767;

/// `text` with every character that a workbook cannot hold replaced; no longer than `most` UTF-16 units, a
/// longer one ends in " … [cut]". Valid UTF-8 always.
std::string presentable(std::string_view text, std::size_t most = longest_cell_text);

/// `text` so that the file's escape form _xHHHH_ (ECMA-376 part 1, 22.9.2.19) in it is read back as written.
std::string escape_hex_form(std::string_view text);

}  // namespace steelyard::reports
