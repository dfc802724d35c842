// A connection that has become a stream of events. Source: the HTML standard, server-sent events.
#include <ctime>
#include <utility>

#include "field/http/answer_text.hpp"
#include "field/http/connection.hpp"

namespace steelyard::field::http {

std::optional<Fault> Connection::no_room() const {
  std::size_t all = 0, own = 0;
  for (const auto& [connection, kept] : network_.connections) {
    if (!connection->streaming()) continue;
    ++all;
    if (connection->arrival_.peer == arrival_.peer) ++own;
  }
  if (own >= limits_.streams_a_peer) {
    return Fault(429, "too many pages are open on this device; close some of them", {{"Retry-After", "10"}});
  }
  if (all >= limits_.streams) {
    return Fault(503, "too many pages are open; close those that nobody looks at", {{"Retry-After", "10"}});
  }
  return std::nullopt;
}

void Connection::open(const std::shared_ptr<EventStream>& stream, Response head) {
  const auto give_up = [&] {
    try {
      stream->gone();
    } catch (...) {
      // The service's own callback; the connection has nothing to do with it.
    }
  };
  if (phase_ != Phase::answering) return give_up();
  const auto full = no_room();
  if (full || head_only_ || network_.stopping || !is_sendable(head)) {
    full ? refuse(*full) : send(std::move(head), false);
    return give_up();
  }
  Carriage carriage;
  carriage.content_security_policy = network_.options.content_security_policy;
  carriage.now = std::time(nullptr);
  stream_ = stream;
  enter(Phase::streaming, limits_.writing);
  write(head_text(head, carriage), nullptr, [this] {
    read_more();
    stream_->wake_by([door = network_.door, weak = weak_from_this()] {
      door->post([weak] {
        if (const auto self = weak.lock()) self->pump();
      });
    });
    pump();
  });
}

/// Sends what is there to send, one event at a time.
void Connection::pump() {
  if (phase_ != Phase::streaming || writing_) return;
  if (auto event = stream_->take()) return write({}, std::move(event), [this] { pump(); });
  if (stream_->closed()) return part();
  arm(limits_.keep_alive);
}

}  // namespace steelyard::field::http
