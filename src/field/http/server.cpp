#include "field/http/server.hpp"

#include <netinet/in.h>
#include <netinet/tcp.h>
#include <sys/socket.h>

#include <boost/asio/executor_work_guard.hpp>
#include <boost/asio/post.hpp>
#include <boost/asio/ssl/context.hpp>
#include <boost/asio/steady_timer.hpp>
#include <thread>
#include <utility>

#include "field/http/authority.hpp"
#include "field/http/connection.hpp"
#include "field/http/listening.hpp"

namespace steelyard::field::http {

namespace asio = boost::asio;
using asio::ip::tcp;
using boost::system::error_code;

bool Door::post(std::function<void()> work) {
  const std::lock_guard lock(mutex_);
  if (io_ != nullptr) asio::post(*io_, std::move(work));
  return io_ != nullptr;
}

void Door::close() {
  const std::lock_guard lock(mutex_);
  io_ = nullptr;
}

namespace {

/// Between attempts to accept where the system has no sockets or no memory left.
constexpr std::chrono::milliseconds accept_pause{100};

/// A phone that has left the network does not say so: what it has not acknowledged for this long ends its
/// connection.
constexpr unsigned unacknowledged_ms = 30'000;

/// What a slow reader has not fetched waits here, where one text is kept for all and old events can be
/// dropped, and not in the system's buffers: a hundred of those would take the memory that it has for
/// everybody's connections.
constexpr int unsent_bytes = 64 * 1024;

std::string text(const asio::ip::address& address) {
  const std::string whole = address.to_string();
  return plain_host(whole.substr(0, whole.find('%')));
}

void set_up(tcp::socket& socket) {
  error_code ignored;
  socket.set_option(tcp::no_delay(true), ignored);
  setsockopt(socket.native_handle(), IPPROTO_TCP, TCP_USER_TIMEOUT, &unacknowledged_ms,
             sizeof unacknowledged_ms);
  setsockopt(socket.native_handle(), IPPROTO_TCP, TCP_NOTSENT_LOWAT, &unsent_bytes, sizeof unsent_bytes);
}

/// In the clear only: under TLS nobody would understand it. What cannot be sent at once is not sent.
void turn_away(tcp::socket& socket) {
  static constexpr std::string_view answer =
      "HTTP/1.1 503 Service Unavailable\r\nContent-Type: application/json\r\nContent-Length: 68\r\n"
      "Connection: close\r\nRetry-After: 5\r\nCache-Control: no-store\r\n\r\n"
      "{\"error\":\"too many connections are open; try again in some seconds\"}";
  error_code ignored;
  socket.non_blocking(true, ignored);
  socket.write_some(asio::buffer(answer), ignored);
  socket.shutdown(tcp::socket::shutdown_send, ignored);
}

}  // namespace

struct Server::Impl {
  Network network;
  std::shared_ptr<asio::ssl::context> secure = {};
  tcp::acceptor acceptor{network.io};
  asio::steady_timer pause{network.io}, last_call{network.io};
  std::thread thread = {};
  bool accepting = false;
  std::uint16_t port = 0;

  Impl(Options given, Handler asked) : network{std::move(given), std::move(asked)} {
    if (network.options.certificate) secure = secure_context(*network.options.certificate);
    for (auto& host : network.options.hosts) host = plain_host(host);
  }

  void accept() {
    if (accepting || network.stopping) return;
    acceptor.async_accept([this](const error_code& why, tcp::socket socket) {
      accepting = false;
      if (why == asio::error::operation_aborted || network.stopping) return;
      if (why && why != asio::error::connection_aborted) return accept_later();
      accept();
      if (!why) take(std::move(socket));
    });
    accepting = true;
  }

  /// Out of sockets: one is given up for the next, or after a moment there may be some again.
  void accept_later() {
    if (const Admission found = admit("", 0); found.displaced) {
      displace(*found.displaced);
      return accept();
    }
    pause.expires_after(accept_pause);
    pause.async_wait([this](const error_code& why) {
      if (!why) accept();
    });
  }

  Admission admit(std::string_view peer, std::size_t places) const {
    std::vector<Guest> guests;
    guests.reserve(network.connections.size());
    for (const auto& [connection, kept] : network.connections) guests.push_back(connection->guest());
    return admission(guests, peer, places, network.options.limits.connections_a_peer);
  }

  /// `which` counts as the guests of admit() do.
  void displace(std::size_t which) {
    const auto kept = std::next(network.connections.begin(), static_cast<std::ptrdiff_t>(which))->second;
    kept->end();
  }

  void take(tcp::socket socket) {
    error_code why;
    const auto peer = socket.remote_endpoint(why);
    const auto local = why ? tcp::endpoint() : socket.local_endpoint(why);
    if (why) return;  // gone already
    Arrival arrival{secure != nullptr, text(peer.address()), text(local.address())};
    const Admission found = admit(arrival.peer, network.options.limits.connections);
    if (!found.admitted) {
      if (!secure) turn_away(socket);
      return;
    }
    if (found.displaced) displace(*found.displaced);
    set_up(socket);
    auto wire = secure ? secure_wire(std::move(socket), *secure) : plain_wire(std::move(socket));
    const auto connection = std::make_shared<Connection>(network, std::move(wire), std::move(arrival));
    network.connections.emplace(connection.get(), connection);
    connection->begin();
  }

  void run() {
    // Whatever is thrown, for want of memory say, costs what threw it and no more.
    while (true) {
      try {
        accept();
        network.io.run();
        return;
      } catch (...) {
        continue;
      }
    }
  }

  void stop_taking() {
    network.stopping = true;
    error_code ignored;
    acceptor.close(ignored);
    pause.cancel();
    for_each([](Connection& connection) { connection.stop(); });
    if (network.connections.empty()) return;
    network.gone = [this] {
      if (network.connections.empty()) last_call.cancel();
    };
    last_call.expires_after(network.options.limits.stopping);
    last_call.async_wait([this](const error_code& why) {
      if (!why) for_each([](Connection& connection) { connection.end(); });
    });
  }

  /// Over a copy: what is done may take connections off the list.
  void for_each(const std::function<void(Connection&)>& what) const {
    const auto connections = network.connections;
    for (const auto& [connection, kept] : connections) what(*kept);
  }
};

Server::Server(Options options, Handler handler)
    : impl_(std::make_unique<Impl>(std::move(options), std::move(handler))) {}

Server::~Server() {
  stop();
}

void Server::start() {
  if (impl_->thread.joinable() || impl_->network.stopping) throw std::logic_error("a server starts once");
  impl_->acceptor = listen(impl_->network.io, impl_->network.options.address, impl_->network.options.port);
  impl_->port = impl_->acceptor.local_endpoint().port();
  impl_->thread = std::thread([this] { impl_->run(); });
}

std::uint16_t Server::port() const {
  return impl_->port;
}

std::string Server::origin() const {
  const std::string& address = impl_->network.options.address;
  const bool bracketed = address.find(':') != std::string::npos;
  return std::string(impl_->secure ? "https://" : "http://") + (bracketed ? "[" + address + "]" : address) +
         ":" + std::to_string(impl_->port);
}

void Server::stop() {
  if (!impl_->thread.joinable()) return;
  impl_->network.door->post([impl = impl_.get()] { impl->stop_taking(); });
  impl_->thread.join();
  impl_->network.door->close();
  // What was posted while the thread ended finds no connection any more, and says so to its stream.
  impl_->network.io.restart();
  impl_->run();
}

}  // namespace steelyard::field::http
