// A small HTTP/1.1 server for a local network: listening, TLS, limits, and the rules that keep other sites
// and other programs out. It knows nothing of what is served. One network thread; the handler is called
// there. Times as chrono durations, sizes in bytes. Bad options and an address that cannot be had throw
// `Refused`.
#pragma once

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "field/http/message.hpp"
#include "field/http/reply.hpp"

namespace steelyard::field::http {

/// Why there is no server: what is wrong and what to do, for a person at a terminal.
struct Refused : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// Must not block, and may keep the reply for later. What it throws is answered with 500.
using Handler = std::function<void(Request, Reply)>;

struct Limits {
  std::size_t header_bytes = 8 * 1024;
  std::size_t body_bytes = 1024 * 1024;
  std::chrono::milliseconds request{10'000};     // from the first byte to the last; a TLS handshake too
  std::chrono::milliseconds idle{30'000};        // between requests
  std::chrono::milliseconds answer{60'000};      // until the handler has answered
  std::chrono::milliseconds writing{30'000};     // until an answer, or an event, is written
  std::chrono::milliseconds keep_alive{10'000};  // silence on a stream before a comment line
  std::chrono::milliseconds stopping{2'000};     // for answers under way when the server stops
  std::size_t connections = 512;
  std::size_t connections_a_peer = 64;
  std::size_t streams = 128;
  std::size_t streams_a_peer = 16;
  std::size_t unsent_events = 4;
};

struct Certificate {
  std::filesystem::path chain = {};  // PEM, the server's own certificate first
  std::filesystem::path key = {};    // PEM, without password
};

struct Options {
  std::string address = "127.0.0.1";  // "0.0.0.0" or "::" for all
  std::uint16_t port = 0;             // 0: any that is free
  std::optional<Certificate> certificate = {};
  /// Names and addresses, without port, by which browsers may call this server. Loopback names and the
  /// address that was connected to are always good; any other name may belong to somebody else (DNS
  /// rebinding).
  std::vector<std::string> hosts = {};
  Limits limits = {};
  std::string content_security_policy =
      "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; base-uri "
      "'none'; "
      "form-action 'none'; frame-ancestors 'none'";
};

class Server {
 public:
  /// Reads the certificate; does not listen yet.
  Server(Options options, Handler handler);
  ~Server();  // stops
  Server(const Server&) = delete;
  Server& operator=(const Server&) = delete;

  /// Listens and returns; at most once.
  void start();

  /// The port that is listened on; 0 before start().
  std::uint16_t port() const;

  /// "http://127.0.0.1:8080"; the address as in the options.
  std::string origin() const;

  /// Takes no new connections, ends streams, lets answers under way finish for a moment, and joins the
  /// network thread. No handler and no `on_close` runs afterwards. Not from a handler.
  void stop();

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace steelyard::field::http
