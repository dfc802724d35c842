// One connection, from the handshake to the end: requests one after the other, each within its time, or a
// stream of events. Everything runs on the network thread. It lives as long as the network lists it.
#pragma once

#include <array>
#include <boost/asio/steady_timer.hpp>
#include <chrono>
#include <memory>
#include <optional>
#include <string>

#include "field/http/admission.hpp"
#include "field/http/fault.hpp"
#include "field/http/network.hpp"
#include "field/http/request_reader.hpp"
#include "field/http/rules.hpp"
#include "field/http/wire.hpp"

namespace steelyard::field::http {

class Connection : public std::enable_shared_from_this<Connection> {
 public:
  Connection(Network& network, std::unique_ptr<Wire> wire, Arrival arrival);

  void begin();
  /// At once, whatever is under way.
  void end();
  /// The server stops: ends what is idle, half asked or streaming, and lets an answer under way finish.
  void stop();

  Guest guest() const;
  bool streaming() const { return phase_ == Phase::streaming; }

 private:
  enum class Phase { greeting, idle, reading, answering, writing, streaming, parting, ended };
  using Error = Wire::Error;
  using Milliseconds = std::chrono::milliseconds;

  void enter(Phase phase, Milliseconds limit);
  void arm(Milliseconds limit);
  void ring();
  void await();
  void read_more();
  void took(const Error& why, std::size_t bytes);
  void advance();
  void go_on();
  void hand_over();
  Reply reply();
  void answer(Response response);
  void refuse(const Fault& fault);
  void send(Response response, bool keep_alive);
  void write(std::string head, std::shared_ptr<const std::string> body, std::function<void()> then);
  void part();
  void drain();
  // connection_stream.cpp
  void open(const std::shared_ptr<EventStream>& stream, Response head);
  std::optional<Fault> no_room() const;
  void pump();

  Network& network_;
  const Limits& limits_;
  std::unique_ptr<Wire> wire_;
  Arrival arrival_;
  boost::asio::steady_timer timer_;
  Phase phase_ = Phase::greeting;
  std::chrono::steady_clock::time_point since_ = {};
  bool reading_ = false, writing_ = false;

  std::array<char, 8192> chunk_ = {};
  std::string bytes_ = {};  // read, and not yet taken by a request
  std::optional<RequestReader> reader_ = {};
  std::optional<Request> request_ = {};
  bool head_only_ = false;

  std::string head_ = {};
  std::shared_ptr<const std::string> body_ = {};
  std::shared_ptr<EventStream> stream_ = {};
  std::size_t drained_ = 0;
};

}  // namespace steelyard::field::http
