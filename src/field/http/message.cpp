#include "field/http/message.hpp"

#include <nlohmann/json.hpp>

#include "field/http/header_text.hpp"

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
  bool any = false;
  while (!accept_encoding.empty()) {
    std::string_view one = next_item(accept_encoding);
    const std::string coding = lower_case(next_item(one, ';'));
    if (coding != "gzip" && coding != "*") continue;
    // RFC 9110, 12.4.2: a weight of 0 means "not acceptable".
    const std::string weight = lower_case(trimmed(one));
    const bool refused = weight.starts_with("q=0") && weight.find_first_of("123456789", 3) == std::string::npos;
    if (coding == "gzip") return !refused;  // named, whatever "*" says
    any = !refused;
  }
  return any;
}

bool names_tag(std::string_view if_none_match, std::string_view tag) {
  while (!if_none_match.empty()) {
    std::string_view one = next_item(if_none_match);
    // Caches may have weakened the tag; for GET that compares equal.
    if (one.starts_with("W/")) one.remove_prefix(2);
    if (one == "*" || one == tag) return true;
  }
  return false;
}

}  // namespace steelyard::field::http
