#include "sheet/place.hpp"

#include "sheet/formats.hpp"

namespace steelyard::sheet {

void append_key(std::string& path, std::string_view key) {
  if (!path.empty()) path += '.';
  path += shown(key);
}

void append_index(std::string& path, std::size_t index) {
  path += '[';
  path += std::to_string(index);
  path += ']';
}

std::string Place::text() const {
  if (!parent_) return {};
  std::string path = parent_->text();
  if (is_index_)
    append_index(path, index_);
  else
    append_key(path, key_);
  return path;
}

std::string shown(std::string_view text, std::size_t longest) {
  constexpr std::string_view digits = "0123456789abcdef";
  std::string out;
  std::size_t at = 0;
  while (at < text.size() && at < longest) {
    const std::size_t width = utf8_width(text.substr(at));
    const auto byte = static_cast<unsigned char>(text[at]);
    if (width == 0 || is_control(text.substr(at, width))) {
      out += width == 0 ? "\\x" : "\\u00";
      const auto code = width == 2 ? static_cast<unsigned char>(text[at + 1]) : byte;
      out += digits[code >> 4];
      out += digits[code & 15];
    } else {
      out += text.substr(at, width);
    }
    at += width == 0 ? 1 : width;
  }
  if (at < text.size()) out += "…";
  return out;
}

std::string in_quotes(std::string_view text) {
  return '"' + shown(text) + '"';
}

}  // namespace steelyard::sheet
