// A connected socket, in the clear or under TLS, behind one face, so that what runs on top is compiled once.
// Every `Done` is called on the network thread; at most one read and one write may be under way.
#pragma once

#include <array>
#include <boost/asio/buffer.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <cstddef>
#include <filesystem>
#include <functional>
#include <memory>

#include "field/http/server.hpp"

namespace boost::asio::ssl {
class context;
}

namespace steelyard::field::http {

class Wire {
 public:
  using Error = boost::system::error_code;
  using Done = std::function<void(const Error&, std::size_t)>;

  virtual ~Wire() = default;
  /// The handshake, where there is one.
  virtual void greet(Done done) = 0;
  virtual void read(boost::asio::mutable_buffer into, Done done) = 0;
  /// All of both.
  virtual void write(const std::array<boost::asio::const_buffer, 2>& parts, Done done) = 0;
  /// Tells the other end that nothing follows.
  virtual void part(Done done) = 0;
  virtual boost::asio::ip::tcp::socket& socket() = 0;
};

std::unique_ptr<Wire> plain_wire(boost::asio::ip::tcp::socket socket);
std::unique_ptr<Wire> secure_wire(boost::asio::ip::tcp::socket socket, boost::asio::ssl::context& context);

/// TLS 1.2 and later. Throws `Refused` where a file cannot be used, and says which and why.
std::shared_ptr<boost::asio::ssl::context> secure_context(const Certificate& certificate);

}  // namespace steelyard::field::http
