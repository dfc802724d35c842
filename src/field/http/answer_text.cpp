#include "field/http/answer_text.hpp"

#include <algorithm>
#include <array>
#include <cstdio>

#include "field/http/header_text.hpp"

namespace steelyard::field::http {
namespace {

std::string_view reason(int status) {
  switch (status) {
    case 200:
      return "OK";
    case 201:
      return "Created";
    case 204:
      return "No Content";
    case 303:
      return "See Other";
    case 304:
      return "Not Modified";
    case 400:
      return "Bad Request";
    case 401:
      return "Unauthorized";
    case 403:
      return "Forbidden";
    case 404:
      return "Not Found";
    case 405:
      return "Method Not Allowed";
    case 408:
      return "Request Timeout";
    case 409:
      return "Conflict";
    case 411:
      return "Length Required";
    case 413:
      return "Content Too Large";
    case 415:
      return "Unsupported Media Type";
    case 417:
      return "Expectation Failed";
    case 421:
      return "Misdirected Request";
    case 422:
      return "Unprocessable Content";
    case 429:
      return "Too Many Requests";
    case 431:
      return "Request Header Fields Too Large";
    case 500:
      return "Internal Server Error";
    case 503:
      return "Service Unavailable";
    case 505:
      return "HTTP Version Not Supported";
    default:
      return "";  // allowed, and all that programs look at is the number
  }
}

bool in_token(char c) {
  return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
         std::string_view("!#$%&'*+-.^_`|~").find(c) != std::string_view::npos;
}

bool in_value(char c) {
  return c == '\t' || (static_cast<unsigned char>(c) >= 0x20 && c != 0x7f);
}

constexpr std::array ours{"content-length", "content-type", "connection", "date", "transfer-encoding"};

void add(std::string& text, std::string_view name, std::string_view value) {
  text.append(name).append(": ").append(value).append("\r\n");
}

}  // namespace

bool may_have_body(int status) {
  return status != 204 && status != 304;
}

bool is_sendable(const Response& response) {
  const auto good = [](const auto& header) {
    const auto& [name, value] = header;
    return !name.empty() && std::ranges::all_of(name, in_token) && std::ranges::all_of(value, in_value) &&
           std::ranges::find(ours, lower_case(name)) == ours.end();
  };
  return response.status >= 200 && response.status <= 599 &&
         std::ranges::all_of(response.content_type, in_value) && std::ranges::all_of(response.headers, good);
}

std::string http_date(std::time_t at) {
  constexpr std::array days{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
  constexpr std::array months{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                              "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  std::tm utc{};
  if (gmtime_r(&at, &utc) == nullptr) return {};
  std::array<char, 64> text{};
  std::snprintf(text.data(), text.size(), "%s, %02d %s %04d %02d:%02d:%02d GMT",
                days.at(static_cast<std::size_t>(utc.tm_wday)), utc.tm_mday,
                months.at(static_cast<std::size_t>(utc.tm_mon)), utc.tm_year + 1900, utc.tm_hour, utc.tm_min,
                utc.tm_sec);
  return text.data();
}

std::string head_text(const Response& response, const Carriage& carriage) {
  std::string text = "HTTP/1.1 " + std::to_string(response.status) + " ";
  text.append(reason(response.status)).append("\r\n");
  add(text, "Date", http_date(carriage.now));
  if (!response.content_type.empty()) add(text, "Content-Type", response.content_type);
  if (carriage.length && may_have_body(response.status))
    add(text, "Content-Length", std::to_string(*carriage.length));
  if (!carriage.keep_alive) {
    add(text, "Connection", "close");
  } else if (!carriage.at_least_1_1) {
    add(text, "Connection", "keep-alive");
  }
  const std::array<std::pair<std::string_view, std::string_view>, 6> always{{
      {"Content-Security-Policy", carriage.content_security_policy},
      {"X-Content-Type-Options", "nosniff"},
      {"Referrer-Policy", "no-referrer"},
      {"Cross-Origin-Opener-Policy", "same-origin"},
      {"Cross-Origin-Resource-Policy", "same-origin"},
      {"Cache-Control", "no-store"},
  }};
  for (const auto& [name, value] : always) {
    const bool replaced = std::ranges::any_of(
        response.headers,
        [wanted = lower_case(name)](const auto& header) { return lower_case(header.first) == wanted; });
    if (!replaced) add(text, name, value);
  }
  for (const auto& [name, value] : response.headers) add(text, name, value);
  return text.append("\r\n");
}

}  // namespace steelyard::field::http
