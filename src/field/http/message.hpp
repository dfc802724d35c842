// A request that passed the server's own rules, and what is answered to it.
// Texts are UTF-8. A request's texts come from strangers: they are checked for form, not for meaning.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace steelyard::field::http {

struct Request {
  /// "GET" or "POST". HEAD is handed on as GET, and the server keeps the body back.
  std::string method = {};
  /// Percent-decoded once; begins with '/', has no segment "." or "..", no "//", no backslash, no control
  /// character.
  std::string path = {};
  /// Decoded; a name given twice is refused before.
  std::map<std::string, std::string> query = {};
  std::string body = {};
  /// The address at the other end, without port; IPv4 also where it came mapped into IPv6.
  std::string peer = {};
  /// As in the Host header, lower case, with port where it was given: "van.local:8080".
  std::string host = {};
  /// Lower case, without parameters: "application/json".
  std::string content_type = {};
  /// As sent; see `names_tag`.
  std::string if_none_match = {};
  std::map<std::string, std::string> cookies = {};
  bool secure = false;        // came over TLS
  bool takes_gzip = false;    // an answer may be sent with Content-Encoding: gzip

  std::optional<std::string> cookie(std::string_view name) const;
};

struct Response {
  int status = 200;
  std::string content_type = {};
  std::string body = {};
  /// In place of `body`, for what is kept and sent many times.
  std::shared_ptr<const std::string> kept_body = {};
  /// Set-Cookie, ETag, Content-Disposition, Retry-After, Cache-Control …; one that the server adds on its own
  /// is replaced. Length, connection and date are the server's. A value with a control character makes the
  /// answer 500.
  std::vector<std::pair<std::string, std::string>> headers = {};
};

Response json_answer(int status, std::string json);

/// {"error": "what"}; `what` says the remedy.
Response error_answer(int status, std::string_view what);

/// Whether an Accept-Encoding header takes gzip: named, or by "*", and not with q=0.
bool names_gzip(std::string_view accept_encoding);

/// Whether an If-None-Match header names this ETag (with its quotes), so that 304 may be answered.
bool names_tag(std::string_view if_none_match, std::string_view tag);

}  // namespace steelyard::field::http
