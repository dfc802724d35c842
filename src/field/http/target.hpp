// The request target: a path and its query, decoded once and free of tricks. Faults throw `Fault` 400.
// Source: RFC 3986 (percent-encoding), RFC 3629 (UTF-8).
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>

namespace steelyard::field::http {

struct Target {
  std::string path = {};
  std::map<std::string, std::string> query = {};
};

/// Refused: anything but an origin-form target, bad escapes, escaped slashes, backslashes, "//", segments "."
/// and
/// "..", control characters, bytes that are not UTF-8, a query name given twice.
Target read_target(std::string_view text);

/// Each "%2F" as the byte it stands for; nothing where a percent sign begins no escape.
std::optional<std::string> percent_decoded(std::string_view text);

/// No overlong forms, no surrogates.
bool is_utf8(std::string_view text);

}  // namespace steelyard::field::http
