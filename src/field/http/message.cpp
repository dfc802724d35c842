#include "field/http/message.hpp"

#include <nlohmann/json.hpp>

namespace steelyard::field::http {

std::optional<std::string> Request::cookie(std::string_view name) const {
  const auto found = cookies.find(std::string(name));
  if (found == cookies.end()) return std::nullopt;
  return found->second;
}

Response json_answer(int status, std::string json) {
  Response response;
  response.status = status;
  response.content_type = "application/json";
  response.body = std::move(json);
  return response;
}

Response error_answer(int status, std::string_view what) {
  nlohmann::json error;
  error["error"] = what;
  // What is said may hold text from outside; broken UTF-8 must not throw here.
  return json_answer(status, error.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace));
}

bool names_gzip(std::string_view accept_encoding) {
  while (!accept_encoding.empty()) {
    const auto comma = accept_encoding.find(',');
    const std::string_view one = accept_encoding.substr(0, comma);
    accept_encoding = comma == std::string_view::npos ? std::string_view() : accept_encoding.substr(comma + 1);
    const auto semicolon = one.find(';');
    std::string_view coding = one.substr(0, semicolon);
    while (coding.starts_with(' ') || coding.starts_with('\t')) coding.remove_prefix(1);
    while (coding.ends_with(' ') || coding.ends_with('\t')) coding.remove_suffix(1);
    if (coding != "gzip" && coding != "*") continue;
    // RFC 9110, 12.4.2: a weight of 0 means "not acceptable".
    const std::string_view weight = semicolon == std::string_view::npos ? std::string_view() : one.substr(semicolon + 1);
    const auto zero = weight.find("q=0");
    return zero == std::string_view::npos || weight.find_first_of("123456789", zero + 3) != std::string_view::npos;
  }
  return false;
}

bool names_tag(std::string_view if_none_match, std::string_view tag) {
  while (!if_none_match.empty()) {
    const auto comma = if_none_match.find(',');
    std::string_view one = if_none_match.substr(0, comma);
    if_none_match = comma == std::string_view::npos ? std::string_view() : if_none_match.substr(comma + 1);
    const auto first = one.find_first_not_of(" \t"), last = one.find_last_not_of(" \t");
    if (first == std::string_view::npos) continue;
    one = one.substr(first, last - first + 1);
    // Caches may have weakened the tag; for GET that compares equal.
    if (one.starts_with("W/")) one.remove_prefix(2);
    if (one == "*" || one == tag) return true;
  }
  return false;
}

}  // namespace steelyard::field::http
