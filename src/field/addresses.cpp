#include "field/addresses.hpp"

#include <arpa/inet.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <netinet/in.h>

#include <algorithm>
#include <array>
#include <memory>

namespace steelyard::field {
namespace {

std::string text_of(const sockaddr& address) {
  std::array<char, INET6_ADDRSTRLEN> text{};
  if (address.sa_family == AF_INET) {
    const auto& four = reinterpret_cast<const sockaddr_in&>(address);
    inet_ntop(AF_INET, &four.sin_addr, text.data(), text.size());
  } else if (address.sa_family == AF_INET6) {
    const auto& six = reinterpret_cast<const sockaddr_in6&>(address);
    if (!IN6_IS_ADDR_LINKLOCAL(&six.sin6_addr)) inet_ntop(AF_INET6, &six.sin6_addr, text.data(), text.size());
  }
  return text.data();
}

}  // namespace

std::vector<std::string> local_addresses(bool six) {
  ifaddrs* first = nullptr;
  if (getifaddrs(&first) != 0) return {};
  const std::unique_ptr<ifaddrs, decltype(&freeifaddrs)> all(first, &freeifaddrs);
  std::vector<std::string> found;
  for (const ifaddrs* one = first; one; one = one->ifa_next) {
    if (!one->ifa_addr || (one->ifa_flags & IFF_LOOPBACK) || !(one->ifa_flags & IFF_UP)) continue;
    if (std::string text = text_of(*one->ifa_addr); !text.empty() && !text.starts_with("169.254."))
      found.push_back(std::move(text));
  }
  if (!six) std::erase_if(found, [](const std::string& text) { return text.find(':') != text.npos; });
  std::stable_partition(found.begin(), found.end(), [](const std::string& text) { return text.find(':') == text.npos; });
  return found;
}

bool is_every_address(const std::string& address) {
  return address == "0.0.0.0" || address == "::";
}

std::string page_address(const std::string& host, unsigned port, bool tls) {
  const bool six = host.find(':') != host.npos;
  return std::string(tls ? "https://" : "http://") + (six ? "[" + host + "]" : host) + ':' + std::to_string(port) + '/';
}

}  // namespace steelyard::field
