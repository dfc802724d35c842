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
