#include "reports/result/json_text.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "units/number.hpp"

namespace steelyard::reports {

std::string json_string(std::string_view text) {
  using nlohmann::json;
  return json(text).dump(-1, ' ', false, json::error_handler_t::replace);
}

JsonText& JsonText::key(std::string_view name) {
  separate();
  text_ += json_string(name);
  text_ += ':';
  comma_ = false;
  return *this;
}

JsonText& JsonText::value(double number) {
  return std::isfinite(number) ? raw(units::shortest(number)) : null();
}

JsonText& JsonText::raw(std::string_view json) {
  separate();
  text_ += json;
  return *this;
}

JsonText& JsonText::open(char bracket) {
  separate();
  text_ += bracket;
  comma_ = false;
  return *this;
}

JsonText& JsonText::close(char bracket) {
  text_ += bracket;
  comma_ = true;
  return *this;
}

void JsonText::separate() {
  if (comma_) text_ += ',';
  comma_ = true;
}

}  // namespace steelyard::reports
