// An answer as it goes over the wire: status line and header. Source: RFC 9110, RFC 9112.
#pragma once

#include <cstddef>
#include <ctime>
#include <optional>
#include <string>
#include <string_view>

#include "field/http/message.hpp"

namespace steelyard::field::http {

struct Carriage {
  std::optional<std::size_t> length = {};  // none: the body ends with the connection
  bool keep_alive = false;
  bool at_least_1_1 = true;
  std::string_view content_security_policy = {};
  std::time_t now = 0;
};

/// Whether the header fields and the status can be sent: no field can begin another, or a body.
bool is_sendable(const Response& response);

/// Up to and with the empty line.
std::string head_text(const Response& response, const Carriage& carriage);

/// 204 and 304 have none (RFC 9110, 6.4.1).
bool may_have_body(int status);

/// "Sun, 06 Nov 1994 08:49:37 GMT", whatever the locale (RFC 9110, 5.6.7).
std::string http_date(std::time_t at);

}  // namespace steelyard::field::http
