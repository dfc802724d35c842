// How loads come off a serial line: the device, how bytes become lines, how a line becomes a load.
//
// Nothing is known of any maker's protocol: the pattern that finds the load in a line is the user's own.
// Units: seconds; `within` is in the unit of the load itself.
// Errors: option_faults() returns every fault at once, each with the option and the remedy; nothing throws.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "units/quantity.hpp"

namespace steelyard::field {

/// What ends a line. `any`: a CR, a LF or both; empty lines are passed over.
enum class LineEnd { any, cr, lf, crlf };

/// What stands before the decimals of a load. The other one in a load is refused: it might part thousands.
enum class DecimalMark { point, comma };

/// A number followed by kg or lb; a number that is cut off by a sign, a digit or a mark before it is not
/// taken.
inline constexpr std::string_view default_line_pattern =
    R"((?i)(?<![-+0-9.])(?<![0-9],)(?<load>[-+]?\s*[0-9][0-9.,]*)\s*(?<unit>kgs?|lbs?)\b)";

inline constexpr std::size_t longest_line = 256;

struct LineOptions {
  std::string device = {};
  int speed = 9600;             ///< baud, one of line_speeds()
  std::string framing = "8N1";  ///< data bits 7 or 8; parity N, E or O; stop bits 1 or 2
  std::string pattern =
      std::string(default_line_pattern);     ///< PCRE2 on bytes, named groups load, unit, stable
  std::optional<units::LoadUnit> unit = {};  ///< supposed where the pattern finds none
  LineEnd end = LineEnd::any;
  DecimalMark decimal = DecimalMark::point;
  /// Without a group `stable`: a load is stable when all loads of the last `stable_for` seconds, three or
  /// more, lie within `within` of each other. 0 seconds: every load counts as stable, for scales that send at
  /// a key's press.
  double stable_for = 2;
  double within = 0;
};

const std::vector<int>& line_speeds();

/// Every fault as "--line-…: what; remedy"; empty when a LineReader can be made.
std::vector<std::string> option_faults(const LineOptions& options);

/// "any", "cr", "lf", "crlf"; "point", "comma"; kg, lb and their usual spellings in any case. Nothing: no
/// such word.
std::optional<LineEnd> line_end_named(std::string_view word);
std::optional<DecimalMark> decimal_mark_named(std::string_view word);
std::optional<units::LoadUnit> load_unit_named(std::string_view word);

}  // namespace steelyard::field
