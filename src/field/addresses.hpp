// The addresses by which other devices of the local network reach this machine.
// Source: getifaddrs(3). Errors: none; what cannot be found out is left out.
#pragma once

#include <string>
#include <vector>

namespace steelyard::field {

/// Of interfaces that are up, without loopback and link-local ones; IPv4 first, and IPv6 only where `six`.
std::vector<std::string> local_addresses(bool six);

/// True for "0.0.0.0" and "::": all addresses of this machine.
bool is_every_address(const std::string& address);

/// "http://192.168.4.20:8417/"; an IPv6 address stands in brackets.
std::string page_address(const std::string& host, unsigned port, bool tls);

}  // namespace steelyard::field
