#include "field/http/listening.hpp"

#include <boost/asio/ip/v6_only.hpp>

#include "field/http/server.hpp"

namespace steelyard::field::http {
namespace {

namespace asio = boost::asio;
using boost::system::error_code;

[[noreturn]] void refuse(const error_code& why, const std::string& address, std::uint16_t port) {
  const std::string number = std::to_string(port);
  if (why == asio::error::address_in_use) {
    throw Refused("port " + number + " on " + address +
                  " is taken by another program; stop that one, or choose another port");
  }
  if (why == asio::error::access_denied) {
    throw Refused("port " + number + " on " + address +
                  " is kept for the system; choose a port from 1024 on");
  }
  if (why == boost::system::errc::address_not_available) {
    throw Refused(address + " is not an address of this computer; \"ip address\" lists those that are");
  }
  throw Refused("cannot listen on " + address + ", port " + number + " (" + why.message() +
                "); choose another address or port");
}

}  // namespace

asio::ip::tcp::acceptor listen(asio::io_context& io, const std::string& address, std::uint16_t port) {
  error_code why;
  const auto parsed = asio::ip::make_address(address, why);
  if (why)
    throw Refused("\"" + address + "\" is not an address; give one such as 192.168.1.20, or 0.0.0.0 for all");
  const asio::ip::tcp::endpoint endpoint(parsed, port);
  asio::ip::tcp::acceptor acceptor(io);
  acceptor.open(endpoint.protocol(), why);
  if (why) refuse(why, address, port);
  // So that the port can be had again at once after the program ended; it does not let two listen.
  acceptor.set_option(asio::socket_base::reuse_address(true), why);
  if (!why && parsed.is_v6()) acceptor.set_option(asio::ip::v6_only(!parsed.is_unspecified()), why);
  if (!why) acceptor.bind(endpoint, why);
  if (!why) acceptor.listen(asio::socket_base::max_listen_connections, why);
  if (why) refuse(why, address, port);
  return acceptor;
}

}  // namespace steelyard::field::http
