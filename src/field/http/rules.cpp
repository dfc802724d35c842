#include "field/http/rules.hpp"

#include <algorithm>

#include "field/http/authority.hpp"
#include "field/http/fault.hpp"
#include "field/http/header_text.hpp"
#include "field/http/target.hpp"

namespace steelyard::field::http {
namespace {

Authority check_host(const Head& head, const Arrival& arrival, const std::vector<std::string>& hosts) {
  if (head.count("host") != 1) throw Fault(400, "the request needs exactly one Host header; send one");
  const auto host = read_authority(head.value("host"));
  if (!host)
    throw Fault(
        400, "the Host header is not a name or an address; open the address that was printed at the start");
  const bool known =
      is_loopback(host->host) || host->host == arrival.local ||
      std::ranges::any_of(hosts, [&](const auto& name) { return plain_host(name) == host->host; });
  if (!known) {
    throw Fault(421, "this server does not go by the name \"" + host->host +
                         "\"; open the address that was printed at the start");
  }
  return *host;
}

/// Two parties that count a body's length differently see different requests: everything doubtful is refused.
void check_framing(const Head& head) {
  const std::size_t encodings = head.count("transfer-encoding"), lengths = head.count("content-length");
  const std::string remedy = "; send a Content-Length or one chunked body";
  if (encodings + lengths > 1) throw Fault(400, "the length of the body is given more than once" + remedy);
  if (encodings == 1) {
    if (!head.at_least_1_1) throw Fault(400, "HTTP/1.0 knows no Transfer-Encoding; send a Content-Length");
    if (lower_case(head.value("transfer-encoding")) != "chunked") {
      throw Fault(400, "this Transfer-Encoding is not taken" + remedy);
    }
  }
  if (lengths == 1) {
    const auto digits = head.value("content-length");
    if (!std::ranges::all_of(digits, [](char c) { return c >= '0' && c <= '9'; })) {
      throw Fault(400, "the Content-Length is not one number" + remedy);
    }
  }
}

void check_body(const Head& head) {
  const bool chunked = head.count("transfer-encoding") > 0;
  if (head.method != "POST") {
    if (chunked || head.length.value_or(0) > 0)
      throw Fault(400, "only POST carries a body; send none, or use POST");
    return;
  }
  if (!chunked && !head.length) throw Fault(411, "the length of the body is missing; send a Content-Length");
  for (const auto& [name, value] : head.fields) {
    if (name == "content-encoding" && lower_case(value) != "identity") {
      throw Fault(415, "a compressed body is not taken; send it as it is", {{"Accept-Encoding", "identity"}});
    }
  }
}

/// Other sites may lead here by a link, and no more.
void check_origin(const Head& head, const Authority& host, bool secure) {
  const std::string site = lower_case(head.value("sec-fetch-site"));
  const bool foreign = site == "cross-site" || site == "same-site";
  const std::string remedy = "; use the page that this server shows";
  if (head.method == "POST") {
    if (head.count("origin") != 1)
      throw Fault(403, "the request does not say which page it comes from" + remedy);
    if (!same_origin(head.value("origin"), host, secure) || foreign) {
      throw Fault(403, "the request comes from another page" + remedy);
    }
  } else if (foreign && lower_case(head.value("sec-fetch-mode")) != "navigate") {
    throw Fault(403, "the request comes from another page" + remedy);
  }
}

std::map<std::string, std::string> read_cookies(const Head& head) {
  std::map<std::string, std::string> cookies;
  for (const auto& [name, value] : head.fields) {
    if (name != "cookie") continue;
    std::string_view rest = value;
    while (!rest.empty()) {
      const std::string_view one = next_item(rest, ';');
      const auto equals = one.find('=');
      if (equals == std::string_view::npos || equals == 0) continue;
      // The first of a name is the one with the longest path: the narrowest.
      cookies.emplace(std::string(one.substr(0, equals)), std::string(one.substr(equals + 1)));
    }
  }
  return cookies;
}

void check_method(const Head& head) {
  if (head.method == "GET" || head.method == "HEAD" || head.method == "POST") return;
  throw Fault(405, "only GET, HEAD and POST are answered here; use one of these",
              {{"Allow", "GET, HEAD, POST"}});
}

void check_expectation(const Head& head) {
  if (head.count("expect") == 0 || wants_continue(head)) return;
  if (!head.at_least_1_1) return;  // such a client may expect nothing (RFC 9110, 10.1.1)
  throw Fault(417, "only \"100-continue\" can be expected here; leave the Expect header out");
}

}  // namespace

bool wants_continue(const Head& head) {
  return head.at_least_1_1 && head.count("expect") == 1 && lower_case(head.value("expect")) == "100-continue";
}

Request admit(const Head& head, const Arrival& arrival, const std::vector<std::string>& hosts) {
  check_framing(head);
  const Authority host = check_host(head, arrival, hosts);
  check_method(head);
  Target target = read_target(head.target);
  check_origin(head, host, arrival.secure);
  check_body(head);
  check_expectation(head);

  Request request;
  request.method = head.method == "HEAD" ? "GET" : head.method;
  request.path = std::move(target.path);
  request.query = std::move(target.query);
  request.peer = arrival.peer;
  request.host = lower_case(head.value("host"));
  const std::string_view type = head.value("content-type");
  request.content_type = lower_case(trimmed(type.substr(0, type.find(';'))));
  request.if_none_match = head.value("if-none-match");
  request.takes_gzip = names_gzip(head.value("accept-encoding"));
  request.cookies = read_cookies(head);
  request.secure = arrival.secure;
  return request;
}

}  // namespace steelyard::field::http
