#include "field/http/authority.hpp"

#include <arpa/inet.h>

#include <algorithm>
#include <array>

#include "field/http/header_text.hpp"

namespace steelyard::field::http {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

bool in_name(char c) {
  return is_digit(c) || (c >= 'a' && c <= 'z') || c == '-' || c == '.' || c == '_';
}

bool in_address(char c) {
  return is_digit(c) || (c >= 'a' && c <= 'f') || c == ':' || c == '.';
}

constexpr std::size_t longest_name = 253;  // RFC 1035, without the last dot

}  // namespace

std::string plain_host(std::string_view host) {
  const std::string text = lower_case(host);
  in_addr four{};
  in6_addr six{};
  std::array<char, INET6_ADDRSTRLEN> out{};
  if (inet_pton(AF_INET, text.c_str(), &four) == 1) return text;
  if (inet_pton(AF_INET6, text.c_str(), &six) != 1) return text;
  if (IN6_IS_ADDR_V4MAPPED(&six)) {
    inet_ntop(AF_INET, &six.s6_addr[12], out.data(), out.size());
  } else {
    inet_ntop(AF_INET6, &six, out.data(), out.size());
  }
  return out.data();
}

std::optional<Authority> read_authority(std::string_view text) {
  std::string_view host, port;
  bool with_port = false;
  const bool bracketed = text.starts_with('[');
  if (bracketed) {
    const auto end = text.find(']');
    if (end == std::string_view::npos) return std::nullopt;
    host = text.substr(1, end - 1);
    std::string_view rest = text.substr(end + 1);
    with_port = !rest.empty();
    if (with_port && rest.front() != ':') return std::nullopt;
    if (with_port) port = rest.substr(1);
  } else {
    const auto colon = text.find(':');
    host = text.substr(0, colon);
    with_port = colon != std::string_view::npos;
    if (with_port) port = text.substr(colon + 1);
  }
  if (host.empty() || host.size() > longest_name) return std::nullopt;
  if (with_port && (port.empty() || port.size() > 5 || !std::ranges::all_of(port, is_digit)))
    return std::nullopt;
  const std::string plain = plain_host(host);
  if (!std::ranges::all_of(plain, bracketed ? in_address : in_name)) return std::nullopt;
  return Authority{plain, std::string(port)};
}

bool is_loopback(std::string_view host) {
  const std::string plain = plain_host(host);
  in_addr four{};
  if (inet_pton(AF_INET, plain.c_str(), &four) == 1) return ntohl(four.s_addr) >> 24 == 127;
  return plain == "localhost" || plain == "::1";
}

bool same_origin(std::string_view origin, const Authority& host, bool secure) {
  const std::string_view scheme = secure ? "https://" : "http://", port = secure ? "443" : "80";
  if (!origin.starts_with(scheme)) return false;
  auto from = read_authority(origin.substr(scheme.size()));
  if (!from) return false;
  Authority here = host;
  if (from->port.empty()) from->port = port;
  if (here.port.empty()) here.port = port;
  return *from == here;
}

}  // namespace steelyard::field::http
