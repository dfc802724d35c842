// What the server demands of a request before a handler sees it: a Host that is ours, an Origin that is ours,
// no tricks with the body's length. Faults throw `Fault` with the status and the remedy. Sources: RFC 9110,
// RFC 9112 (request smuggling: 6.1, 11.2), Fetch Metadata request headers.
#pragma once

#include <string>
#include <vector>

#include "field/http/message.hpp"
#include "field/http/request_reader.hpp"

namespace steelyard::field::http {

/// What is known of the connection a request came on.
struct Arrival {
  bool secure = false;
  std::string peer = {};   // addresses in the form of `plain_host`
  std::string local = {};  // the address that was connected to
};

/// Checks the header and gives the request without its body; `hosts` as in Options.
Request admit(const Head& head, const Arrival& arrival, const std::vector<std::string>& hosts);

/// Whether the client waits for "100 Continue" before it sends the body.
bool wants_continue(const Head& head);

}  // namespace steelyard::field::http
