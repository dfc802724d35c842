#include "field/http/target.hpp"

#include <algorithm>
#include <cstdint>

#include "field/http/fault.hpp"

namespace steelyard::field::http {
namespace {

[[noreturn]] void bad(const std::string& what) {
  throw Fault(400, what + "; open the page again from its start");
}

int hex(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

std::string decoded(std::string_view text) {
  std::optional<std::string> out = percent_decoded(text);
  if (!out) bad("the address holds a percent sign that begins no escape");
  if (!is_utf8(*out)) bad("the address is not UTF-8");
  return *std::move(out);
}

std::string decoded_in_query(std::string_view text) {
  std::string spaced(text);
  std::ranges::replace(spaced, '+', ' ');
  return decoded(spaced);
}

bool is_control(char c) {
  return static_cast<unsigned char>(c) < 0x20 || c == 0x7f;
}

std::string read_path(std::string_view text) {
  if (text.empty() || text.front() != '/') bad("the address asked for does not begin with a slash");
  std::string path = decoded(text);
  // A slash that was escaped would make segments that the sender did not write as such.
  if (std::ranges::count(path, '/') != std::ranges::count(text, '/'))
    bad("the address holds an escaped slash");
  if (std::ranges::any_of(path, is_control)) bad("the address holds a control character");
  if (path.find('\\') != std::string::npos) bad("the address holds a backslash");
  if (path.find("//") != std::string::npos) bad("the address holds two slashes in a row");
  for (std::size_t at = 1; at <= path.size();) {
    const auto end = std::min(path.find('/', at), path.size());
    const std::string_view segment = std::string_view(path).substr(at, end - at);
    if (segment == "." || segment == "..") bad("the address holds a segment of dots only");
    at = end + 1;
  }
  return path;
}

std::map<std::string, std::string> read_query(std::string_view text) {
  std::map<std::string, std::string> query;
  while (!text.empty()) {
    const auto end = text.find('&');
    const std::string_view one = text.substr(0, end);
    text = end == std::string_view::npos ? std::string_view() : text.substr(end + 1);
    if (one.empty()) continue;
    const auto equals = one.find('=');
    std::string name = decoded_in_query(one.substr(0, equals));
    std::string value =
        equals == std::string_view::npos ? std::string() : decoded_in_query(one.substr(equals + 1));
    if (name.find('\0') != std::string::npos || value.find('\0') != std::string::npos)
      bad("the query holds a NUL");
    // Which of two would count is a matter of taste, so neither does.
    if (!query.emplace(std::move(name), std::move(value)).second) bad("the query gives a name twice");
  }
  return query;
}

/// Bytes of the character that begins with `first`, and the least code point it may stand for; {0, 0}: none.
struct Form {
  std::size_t bytes;
  std::uint32_t least;
  std::uint32_t bits;
};

Form form(unsigned char first) {
  if (first < 0x80) return {1, 0, first};
  if (first >= 0xC2 && first < 0xE0) return {2, 0x80, first & 0x1Fu};
  if (first >= 0xE0 && first < 0xF0) return {3, 0x800, first & 0x0Fu};
  if (first >= 0xF0 && first < 0xF5) return {4, 0x10000, first & 0x07u};
  return {0, 0, 0};
}

}  // namespace

std::optional<std::string> percent_decoded(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '%') {
      out.push_back(text[i]);
      continue;
    }
    const int high = i + 1 < text.size() ? hex(text[i + 1]) : -1, low = i + 2 < text.size() ? hex(text[i + 2]) : -1;
    if (high < 0 || low < 0) return std::nullopt;
    out.push_back(static_cast<char>(high * 16 + low));
    i += 2;
  }
  return out;
}

bool is_utf8(std::string_view text) {
  for (std::size_t i = 0; i < text.size();) {
    const Form one = form(static_cast<unsigned char>(text[i]));
    if (one.bytes == 0 || i + one.bytes > text.size()) return false;
    std::uint32_t code = one.bits;
    for (std::size_t k = 1; k < one.bytes; ++k) {
      const auto byte = static_cast<unsigned char>(text[i + k]);
      if ((byte & 0xC0) != 0x80) return false;
      code = code << 6 | (byte & 0x3Fu);
    }
    if (code < one.least || code > 0x10FFFF || (code >= 0xD800 && code < 0xE000)) return false;
    i += one.bytes;
  }
  return true;
}

Target read_target(std::string_view text) {
  if (text.find('#') != std::string_view::npos) bad("the address asked for holds a '#'");
  const auto question = text.find('?');
  Target target;
  target.path = read_path(text.substr(0, question));
  if (question != std::string_view::npos) target.query = read_query(text.substr(question + 1));
  return target;
}

}  // namespace steelyard::field::http
