// Numbers to and from text, the same in every locale.
//
// Reading is strict: the whole text, decimal, finite; no hexadecimal, no "nan", "inf", leading "+" or blanks.
// Writing is the shortest text that reads back to the same double (std::to_chars), "-0" written as "0".
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace steelyard::units {

/// The number that `text` spells, or nothing when it is not wholly one finite decimal number.
std::optional<double> parse_number(std::string_view text);

/// Shortest text that reads back exactly. `value` must be finite: std::invalid_argument otherwise.
std::string shortest(double value);

/// `value` with `places` decimals (0..9), for people; a value that rounds to zero carries no minus sign.
std::string fixed(double value, int places);

/// Decimals that a figure with standard uncertainty `u` deserves: U = 2u shown to two significant figures,
/// never more than `most` decimals and never fewer than none (JCGM 100, 7.2.6). u = 0 gives `most`.
int decimals_for(double u, int most = 3);

}  // namespace steelyard::units
