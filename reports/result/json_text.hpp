// JSON written in the order it is said: one compact line, shortest round-trip numbers, null for what is not
// there.
//
// The contract promises field order and numbers that read back exactly, so values go through units::shortest
// and never through a library's own formatting ("1790", not "1790.0"). A value that is not finite is null:
// JSON has no word for it. Broken UTF-8 in a text becomes U+FFFD, so that the line always parses.
#pragma once

#include <concepts>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace steelyard::reports {

/// `text` as a JSON string with its quotes.
std::string json_string(std::string_view text);

/// Invariant: between begin_object and end_object every value is preceded by its key.
class JsonText {
 public:
  JsonText& begin_object() { return open('{'); }
  JsonText& end_object() { return close('}'); }
  JsonText& begin_array() { return open('['); }
  JsonText& end_array() { return close(']'); }
  JsonText& key(std::string_view name);

  JsonText& null() { return raw("null"); }
  JsonText& value(std::string_view text) { return raw(json_string(text)); }
  JsonText& value(const char* text) { return value(std::string_view(text)); }
  JsonText& value(const std::string& text) { return value(std::string_view(text)); }
  JsonText& value(double number);
  JsonText& value(std::same_as<bool> auto flag) { return raw(flag ? "true" : "false"); }
  JsonText& value(int number) { return raw(std::to_string(number)); }
  JsonText& value(std::int64_t number) { return raw(std::to_string(number)); }
  template <class Value>
  JsonText& value(const std::optional<Value>& maybe) {
    return maybe ? value(*maybe) : null();
  }
  /// `json` is JSON already.
  JsonText& raw(std::string_view json);

  template <class Value>
  JsonText& field(std::string_view name, const Value& what) {
    return key(name).value(what);
  }

  /// The text so far, without a line end.
  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  JsonText& open(char bracket);
  JsonText& close(char bracket);
  void separate();

  std::string text_;
  bool comma_ = false;  // something stands before the next value at this level
};

}  // namespace steelyard::reports
