// Host and Origin: by which names this server may be called, and whether a request comes from its own page.
// Source: RFC 9110 (Host), RFC 6454 (Origin).
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace steelyard::field::http {

struct Authority {
  std::string host = {};  // lower case; IPv6 without brackets
  std::string port = {};  // empty where it was not given

  friend bool operator==(const Authority&, const Authority&) = default;
};

/// "van.local:8080", "[fe80::1]:8080"; nothing where the text is not of that form.
std::optional<Authority> read_authority(std::string_view text);

/// One way to write an address: "::ffff:10.0.0.1" is "10.0.0.1"; anything else comes back in lower case.
std::string plain_host(std::string_view host);

/// localhost, 127.0.0.0/8, ::1.
bool is_loopback(std::string_view host);

/// Whether Origin is the page that this server itself served under this Host header; ports may be left out
/// where they are the scheme's.
bool same_origin(std::string_view origin, const Authority& host, bool secure);

}  // namespace steelyard::field::http
