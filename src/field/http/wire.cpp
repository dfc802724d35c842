#include "field/http/wire.hpp"

#include <boost/asio/post.hpp>
#include <boost/asio/write.hpp>
#include <utility>

namespace steelyard::field::http {
namespace {

namespace asio = boost::asio;

class PlainWire : public Wire {
 public:
  explicit PlainWire(asio::ip::tcp::socket socket) : socket_(std::move(socket)) {}

  void greet(Done done) override { at_once(std::move(done)); }
  void read(asio::mutable_buffer into, Done done) override { socket_.async_read_some(into, std::move(done)); }
  void write(const std::array<asio::const_buffer, 2>& parts, Done done) override {
    asio::async_write(socket_, parts, std::move(done));
  }
  void part(Done done) override { at_once(std::move(done)); }
  asio::ip::tcp::socket& socket() override { return socket_; }

 private:
  void at_once(Done done) {
    asio::post(socket_.get_executor(), [done = std::move(done)] { done({}, 0); });
  }

  asio::ip::tcp::socket socket_;
};

}  // namespace

std::unique_ptr<Wire> plain_wire(asio::ip::tcp::socket socket) {
  return std::make_unique<PlainWire>(std::move(socket));
}

}  // namespace steelyard::field::http
