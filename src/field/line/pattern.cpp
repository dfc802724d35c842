#define PCRE2_CODE_UNIT_WIDTH 8
#include "field/line/pattern.hpp"

#include <pcre2.h>

#include <algorithm>
#include <cstdint>
#include <new>
#include <stdexcept>
#include <utility>
#include <vector>

#include "units/number.hpp"

namespace steelyard::field {
namespace {

constexpr std::size_t longest_pattern = 1000;
constexpr std::size_t most_digits = 12;
// Counted anew for each place in the line where a match might begin: 256 times this is some hundredths of a
// second.
constexpr std::uint32_t most_steps = 10'000;
constexpr std::uint32_t most_depth = 1'000;
constexpr std::uint32_t most_heap_kib = 1'024;

struct Free {
  void operator()(pcre2_code* code) const { pcre2_code_free(code); }
  void operator()(pcre2_match_data* data) const { pcre2_match_data_free(data); }
  void operator()(pcre2_match_context* context) const { pcre2_match_context_free(context); }
};
using Code = std::unique_ptr<pcre2_code, Free>;

struct Compiled {
  Code code = {};
  int error = 0;
  std::size_t at = 0;
};

Compiled compiled(const std::string& pattern) {
  Compiled result;
  // Bytes whatever the pattern begins with: a line off a wire need not be UTF-8.
  result.code.reset(pcre2_compile(reinterpret_cast<PCRE2_SPTR>(pattern.data()), pattern.size(),
                                  PCRE2_NEVER_UTF, &result.error, &result.at, nullptr));
  return result;
}

std::string message(int error) {
  std::vector<unsigned char> text(256);
  pcre2_get_error_message(error, text.data(), text.size());
  return reinterpret_cast<const char*>(text.data());
}

/// Numbers of the groups of that name: several where the pattern allows a name twice.
std::vector<std::uint32_t> groups_named(const pcre2_code* code, const char* name) {
  PCRE2_SPTR first = nullptr;
  PCRE2_SPTR last = nullptr;
  const int size = pcre2_substring_nametable_scan(code, reinterpret_cast<PCRE2_SPTR>(name), &first, &last);
  std::vector<std::uint32_t> groups;
  if (size <= 0) return groups;
  for (PCRE2_SPTR entry = first; entry <= last; entry += size)
    groups.push_back(static_cast<std::uint32_t>(entry[0]) << 8 | entry[1]);
  return groups;
}

bool is_blank(char c) {
  return c == ' ' || c == '\t';
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  return text;
}

/// Digits with one mark at most after a sign and blanks; the other mark is refused, never taken for
/// thousands.
std::optional<double> load_of(std::string_view text, DecimalMark decimal) {
  text = trimmed(text);
  std::string plain;
  if (!text.empty() && (text.front() == '-' || text.front() == '+')) {
    if (text.front() == '-') plain += '-';
    text = trimmed(text.substr(1));
  }
  const char mark = decimal == DecimalMark::comma ? ',' : '.';
  std::size_t digits = 0;
  std::size_t marks = 0;
  for (const char c : text) {
    if (c >= '0' && c <= '9') {
      ++digits;
      plain += c;
    } else if (c == mark) {
      ++marks;
      plain += '.';
    } else {
      return {};
    }
  }
  if (digits == 0 || digits > most_digits || marks > 1) return {};
  if (plain.ends_with('.')) plain.pop_back();
  const auto load = units::parse_number(plain);
  constexpr double no_minus_before_zero = 0;
  return load ? std::optional(*load + no_minus_before_zero) : load;
}

LineResult missed(LineMiss::Why why, std::string what) {
  return {.miss = {.why = why, .what = std::move(what)}};
}

LineResult no_match(int code, std::string_view line) {
  if (code == PCRE2_ERROR_NOMATCH)
    return missed(LineMiss::Why::no_match, std::string("the pattern finds no load in \"") + printable(line) +
                                               "\"; look at --line-pattern, --line-speed and --line-framing");
  return missed(LineMiss::Why::limit, std::string("the pattern takes too long on \"") + printable(line) +
                                          "\"; write --line-pattern with fewer repeats inside repeats (" +
                                          message(code) + ")");
}

LineResult not_a_number(std::string_view text, DecimalMark decimal) {
  const bool comma = decimal == DecimalMark::comma;
  return missed(LineMiss::Why::not_a_number,
                std::string("\"") + printable(text) + "\" is no number with a decimal " +
                    (comma ? "comma" : "point") +
                    "; write --line-pattern so that load holds the number alone, or --line-decimal " +
                    (comma ? "point" : "comma"));
}

}  // namespace

std::string printable(std::string_view bytes, std::size_t most) {
  constexpr std::string_view digits = "0123456789abcdef";
  std::string out;
  for (const char byte : bytes) {
    if (out.size() >= most) return out + "...";
    const auto value = static_cast<unsigned char>(byte);
    if (value >= 0x20 && value < 0x7f) {
      out += byte;
    } else {
      out += "\\x";
      out += digits[value >> 4];
      out += digits[value & 15];
    }
  }
  return out;
}

std::optional<std::string> pattern_fault(const std::string& pattern) {
  if (pattern.empty()) return "empty; leave the option out for a number followed by kg or lb";
  if (pattern.size() > longest_pattern) return "longer than 1000 characters; write a shorter one";
  const Compiled result = compiled(pattern);
  if (!result.code) {
    const std::size_t at = std::min(result.at, pattern.size());
    std::string what = std::string("at character ") + std::to_string(at + 1);
    const std::size_t shown_from = at > 20 ? at - 20 : 0;
    if (at > 0)
      what += std::string(", after \"") + printable(pattern.substr(shown_from, at - shown_from)) + "\"";
    return what + ": " + message(result.error) +
           "; mend the pattern there (a \\ before a sign takes it as it is)";
  }
  if (groups_named(result.code.get(), "load").empty())
    return "has no group named load; put (?<load>...) around the part that is the number";
  return {};
}

struct LinePattern::Impl {
  Code code;
  std::unique_ptr<pcre2_match_data, Free> data;
  std::unique_ptr<pcre2_match_context, Free> context;
  std::vector<std::uint32_t> load;
  std::vector<std::uint32_t> unit;
  std::vector<std::uint32_t> stable;
  DecimalMark decimal = DecimalMark::point;
  std::optional<units::LoadUnit> supposed;

  /// The first group of a name that took part in the match.
  [[nodiscard]] std::optional<std::string_view> found(const std::vector<std::uint32_t>& groups,
                                                      std::string_view line) const {
    const PCRE2_SIZE* const ends = pcre2_get_ovector_pointer(data.get());
    for (const std::uint32_t group : groups) {
      const PCRE2_SIZE from = ends[2 * group];
      const PCRE2_SIZE to = ends[2 * group + 1];
      if (from != PCRE2_UNSET && to != PCRE2_UNSET && from <= to) return line.substr(from, to - from);
    }
    return {};
  }
};

LinePattern::LinePattern(const LineOptions& options) {
  if (const auto fault = pattern_fault(options.pattern))
    throw std::invalid_argument(std::string("--line-pattern: ") + *fault);
  Code code = compiled(options.pattern).code;
  pcre2_code* const raw = code.get();
  impl_ = std::make_unique<Impl>(Impl{
      .code = std::move(code),
      .data = std::unique_ptr<pcre2_match_data, Free>(pcre2_match_data_create_from_pattern(raw, nullptr)),
      .context = std::unique_ptr<pcre2_match_context, Free>(pcre2_match_context_create(nullptr)),
      .load = groups_named(raw, "load"),
      .unit = groups_named(raw, "unit"),
      .stable = groups_named(raw, "stable"),
      .decimal = options.decimal,
      .supposed = options.unit});
  if (!impl_->data || !impl_->context) throw std::bad_alloc();
  pcre2_set_match_limit(impl_->context.get(), most_steps);
  pcre2_set_depth_limit(impl_->context.get(), most_depth);
  pcre2_set_heap_limit(impl_->context.get(), most_heap_kib);
}

LinePattern::~LinePattern() = default;
LinePattern::LinePattern(LinePattern&&) noexcept = default;
LinePattern& LinePattern::operator=(LinePattern&&) noexcept = default;

LineResult LinePattern::read(std::string_view line) const {
  const Impl& my = *impl_;
  if (line.empty()) line = "";  // the library takes no null pointer
  const int matched = pcre2_match(my.code.get(), reinterpret_cast<PCRE2_SPTR>(line.data()), line.size(), 0, 0,
                                  my.data.get(), my.context.get());
  if (matched < 0) return no_match(matched, line);
  const auto load_text = my.found(my.load, line);
  if (!load_text) return no_match(PCRE2_ERROR_NOMATCH, line);
  const auto load = load_of(*load_text, my.decimal);
  if (!load) return not_a_number(*load_text, my.decimal);

  const std::string_view unit_text = trimmed(my.found(my.unit, line).value_or(""));
  const auto unit = unit_text.empty() ? my.supposed : load_unit_named(unit_text);
  if (!unit && unit_text.empty())
    return missed(LineMiss::Why::no_unit,
                  std::string("no unit in \"") + printable(line) +
                      "\"; give --line-unit kg or lb, or a group unit in --line-pattern");
  if (!unit)
    return missed(LineMiss::Why::other_unit, std::string("the load comes in \"") + printable(unit_text) +
                                                 "\"; set the scale to kg or lb");
  LineFigure figure{.figure = *load, .unit = *unit};
  if (!my.stable.empty()) figure.stable = !my.found(my.stable, line).value_or("").empty();
  return {.figure = figure};
}

}  // namespace steelyard::field
