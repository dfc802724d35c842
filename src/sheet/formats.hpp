// The forms of texts in a sheet: UTF-8, one line or several, dates and times, and what a misspelt word may
// have meant.
//
// Sources: UTF-8 after RFC 3629 (no overlong forms, no surrogates); dates and times after ISO 8601, the
// extended format with an offset, as RFC 3339 profiles it; the calendar is the proleptic Gregorian one.
#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <string_view>

namespace steelyard::sheet {

/// Bytes of the one well-formed UTF-8 character at the front of `text` (which is not empty); 0 when it is
/// broken.
std::size_t utf8_width(std::string_view text);

/// Whether one well-formed character is a control: U+0000–001F, U+007F, U+0080–009F.
bool is_control(std::string_view character);

enum class TextKind {
  name,  // something else refers to it: one line, no blank at either end, at most 200 bytes
  line,  // one line, at most 2,000 bytes
  note,  // line breaks and tabs allowed, at most 20,000 bytes
};

/// What is wrong with `text`, with its remedy; empty when nothing is. An empty text is sound here.
std::string text_fault(std::string_view text, TextKind kind);

/// Whether a key is kept without being understood.
inline bool is_extra_key(std::string_view key) {
  return key.starts_with("x-");
}

/// YYYY-MM-DD, a day that exists, year 1900 or later.
bool is_date(std::string_view text);

/// YYYY-MM-DDThh:mm[:ss[.fraction]] and Z or ±hh:mm (at most 14:00).
bool is_time(std::string_view text);

/// The one of `words` that `word` most likely meant; empty when none is near (Damerau–Levenshtein distance
/// above a third of its length).
std::string_view nearest(std::string_view word, std::span<const std::string_view> words);

}  // namespace steelyard::sheet
