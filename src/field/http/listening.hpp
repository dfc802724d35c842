// A socket that listens. What stands in the way of it throws `Refused`, with the remedy.
#pragma once

#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <cstdint>
#include <string>

namespace steelyard::field::http {

boost::asio::ip::tcp::acceptor listen(boost::asio::io_context& io, const std::string& address,
                                      std::uint16_t port);

}  // namespace steelyard::field::http
