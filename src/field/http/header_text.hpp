// Texts of headers as they are compared: ASCII alone has cases (RFC 9110, 5.1), blanks around a value do not count (5.5).
#pragma once

#include <string>
#include <string_view>

namespace steelyard::field::http {

inline std::string lower_case(std::string_view text) {
  std::string out(text);
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c + 32);
  return out;
}

inline std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

/// The first of a list's items (5.6.1), trimmed, taken off the list; empty ones may come.
inline std::string_view next_item(std::string_view& list, char mark = ',') {
  const auto end = list.find(mark);
  const std::string_view item = trimmed(list.substr(0, end));
  list = end == std::string_view::npos ? std::string_view() : list.substr(end + 1);
  return item;
}

}  // namespace steelyard::field::http
