// A line of bytes to a load, by the user's pattern (PCRE2 syntax, bytes, no Unicode).
//
// Named groups: `load` is required; `unit` and `stable` are optional. A load is digits with one decimal mark
// at most, a sign before them and blanks between. A pattern that backtracks without end stops at a limit: a
// line costs some hundredths of a second at most. Errors: std::invalid_argument where pattern_fault() has
// something to say; read() does not throw on any bytes. Source: pcre2pattern(3), pcre2api(3).
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "field/line/options.hpp"

namespace steelyard::field {

/// What is wrong with a pattern, with the place and a remedy; nothing where it will do.
std::optional<std::string> pattern_fault(const std::string& pattern);

struct LineFigure {
  double figure = 0;
  units::LoadUnit unit = units::LoadUnit::kilogram;
  std::optional<bool> stable =
      {};  ///< nothing: the pattern has no group `stable`, the rule of like readings decides
  bool operator==(const LineFigure&) const = default;
};

/// Why a line gives no load.
struct LineMiss {
  enum class Why { no_match, not_a_number, no_unit, other_unit, limit };
  Why why = Why::no_match;
  std::string what = {};  ///< a sentence with the remedy
};

struct LineResult {
  std::optional<LineFigure> figure = {};
  LineMiss miss = {};  ///< meaningful without a figure
};

/// One thread at a time.
class LinePattern {
 public:
  explicit LinePattern(const LineOptions& options);
  ~LinePattern();
  LinePattern(LinePattern&&) noexcept;
  LinePattern& operator=(LinePattern&&) noexcept;

  /// `line` comes without its end.
  [[nodiscard]] LineResult read(std::string_view line) const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

/// Bytes of a line as they can be shown: what is not printable ASCII as \xNN, cut after `most` characters.
std::string printable(std::string_view bytes, std::size_t most = 40);

}  // namespace steelyard::field
