#include "field/http/connection.hpp"

#include <ctime>
#include <utility>

#include "field/http/answer_text.hpp"

namespace steelyard::field::http {
namespace {

namespace asio = boost::asio;

/// After the last answer: time and bytes for a client that is still sending. Without it the system would
/// throw away the answer with what was not read.
constexpr std::chrono::milliseconds parting_time{1'000};
constexpr std::size_t parting_bytes = 4 * 1024 * 1024;

}  // namespace

Connection::Connection(Network& network, std::unique_ptr<Wire> wire, Arrival arrival)
    : network_(network),
      limits_(network.options.limits),
      wire_(std::move(wire)),
      arrival_(std::move(arrival)),
      timer_(network.io) {}

Guest Connection::guest() const {
  switch (phase_) {
    case Phase::idle:
      return {arrival_.peer, Standing::idle, since_};
    case Phase::answering:
    case Phase::streaming:
      return {arrival_.peer, Standing::held, since_};
    default:
      return {arrival_.peer, Standing::moving, since_};
  }
}

void Connection::begin() {
  enter(Phase::greeting, limits_.request);
  wire_->greet([self = shared_from_this()](const Error& why, std::size_t) {
    if (self->phase_ != Phase::greeting) return;
    if (why) return self->end();
    self->await();
  });
}

void Connection::end() {
  if (phase_ == Phase::ended) return;
  const auto self = shared_from_this();
  phase_ = Phase::ended;
  timer_.cancel();
  Error ignored;
  wire_->socket().shutdown(asio::ip::tcp::socket::shutdown_both, ignored);
  wire_->socket().close(ignored);
  network_.connections.erase(this);
  if (network_.gone) network_.gone();
  // What a callback of the service throws is no reason to lose the others.
  try {
    if (const auto stream = std::exchange(stream_, nullptr)) stream->gone();
  } catch (...) {
  }
}

void Connection::stop() {
  if (phase_ != Phase::answering && phase_ != Phase::writing && phase_ != Phase::parting) end();
}

void Connection::enter(Phase phase, Milliseconds limit) {
  phase_ = phase;
  since_ = std::chrono::steady_clock::now();
  arm(limit);
}

void Connection::arm(Milliseconds limit) {
  timer_.expires_after(limit);
  timer_.async_wait([weak = weak_from_this()](const Error& why) {
    const auto self = weak.lock();
    if (why || !self || self->phase_ == Phase::ended) return;
    // Set anew while this call was on its way.
    if (self->timer_.expiry() > std::chrono::steady_clock::now()) return;
    self->ring();
  });
}

/// What was to happen within its time has not.
void Connection::ring() {
  if (phase_ == Phase::streaming && !writing_) {
    static const auto comment = std::make_shared<const std::string>(":\n\n");
    return write({}, comment, [this] { pump(); });
  }
  if (writing_) return end();
  if (phase_ == Phase::reading) {
    return refuse(
        Fault(408, "the request took too long to arrive; come nearer to the access point and try again"));
  }
  if (phase_ == Phase::answering) {
    return refuse(Fault(503, "the program took too long to answer; try again", {{"Retry-After", "5"}}));
  }
  end();
}

/// For the next request, of which something may be here already.
void Connection::await() {
  reader_.emplace(limits_.header_bytes, limits_.body_bytes);
  request_.reset();
  head_only_ = false;
  body_.reset();
  if (network_.stopping) return end();
  enter(Phase::idle, limits_.idle);
  bytes_.empty() ? read_more() : advance();
}

void Connection::read_more() {
  reading_ = true;
  wire_->read(asio::buffer(chunk_), [self = shared_from_this()](const Error& why, std::size_t bytes) {
    self->reading_ = false;
    self->took(why, bytes);
  });
}

void Connection::took(const Error& why, std::size_t bytes) {
  // Whoever reads events has nothing to say, and only leaves.
  if (phase_ == Phase::streaming) return end();
  if (phase_ != Phase::idle && phase_ != Phase::reading) return;
  if (why) return end();
  bytes_.append(chunk_.data(), bytes);
  advance();
}

void Connection::advance() {
  if (phase_ == Phase::idle) enter(Phase::reading, limits_.request);
  try {
    auto found = reader_->read(bytes_);
    if (found == RequestReader::Found::head) {
      head_only_ = reader_->head().method == "HEAD";
      request_ = admit(reader_->head(), arrival_, network_.options.hosts);
      if (wants_continue(reader_->head()) && bytes_.empty()) return go_on();
      found = reader_->read(bytes_);
    }
    if (found == RequestReader::Found::nothing_yet) return read_more();
    request_->body = reader_->take_body();
  } catch (const Fault& fault) {
    return refuse(fault);
  }
  hand_over();
}

void Connection::go_on() {
  write("HTTP/1.1 100 Continue\r\n\r\n", nullptr, [this] { read_more(); });
}

void Connection::hand_over() {
  enter(Phase::answering, limits_.answer);
  try {
    network_.handler(std::move(*request_), reply());
  } catch (...) {
    // The reply went with the exception, and has answered 500.
  }
}

Reply Connection::reply() {
  const auto door = network_.door;
  const std::weak_ptr<Connection> weak = weak_from_this();
  auto answer = [door, weak](Response response) {
    auto kept = std::make_shared<Response>(std::move(response));
    door->post([weak, kept] {
      if (const auto self = weak.lock()) self->answer(std::move(*kept));
    });
  };
  auto open = [door, weak](const std::shared_ptr<EventStream>& stream, Response head) {
    auto kept = std::make_shared<Response>(std::move(head));
    const bool posted = door->post([weak, stream, kept] {
      const auto self = weak.lock();
      self ? self->open(stream, std::move(*kept)) : stream->gone();
    });
    if (!posted) stream->gone();
  };
  return Reply(std::move(answer), std::move(open), limits_.unsent_events);
}

void Connection::answer(Response response) {
  if (phase_ != Phase::answering) return;
  send(std::move(response), reader_->keep_alive());
}

void Connection::refuse(const Fault& fault) {
  Response response = error_answer(fault.status, fault.what());
  response.headers = fault.headers;
  send(std::move(response), false);
}

void Connection::send(Response response, bool keep_alive) {
  if (!is_sendable(response)) response = error_answer(500, "the program gave an answer that cannot be sent");
  auto body =
      response.kept_body ? response.kept_body : std::make_shared<const std::string>(std::move(response.body));
  Carriage carriage;
  carriage.length = body->size();
  carriage.keep_alive = keep_alive && !network_.stopping;
  carriage.at_least_1_1 = reader_->head().at_least_1_1;
  carriage.content_security_policy = network_.options.content_security_policy;
  carriage.now = std::time(nullptr);
  if (head_only_ || !may_have_body(response.status)) body = nullptr;
  enter(Phase::writing, limits_.writing);
  write(head_text(response, carriage), std::move(body),
        [this, keep = carriage.keep_alive] { keep ? await() : part(); });
}

/// `then` is called where this connection still stands, and all was written in time.
void Connection::write(std::string head, std::shared_ptr<const std::string> body,
                       std::function<void()> then) {
  writing_ = true;
  head_ = std::move(head);
  body_ = std::move(body);
  // An event has its own time; an answer, and a request of which "100 Continue" is a part, go on with theirs.
  if (phase_ == Phase::streaming) arm(limits_.writing);
  const auto second = body_ ? asio::const_buffer(body_->data(), body_->size()) : asio::const_buffer();
  wire_->write({asio::buffer(std::as_const(head_)), second},
               [self = shared_from_this(), then = std::move(then)](const Error& why, std::size_t) {
                 self->writing_ = false;
                 if (self->phase_ == Phase::ended) return;
                 if (why) return self->end();
                 then();
               });
}

/// Ends so that the last answer arrives.
void Connection::part() {
  enter(Phase::parting, parting_time);
  // The one read that may be under way is in the way of what follows: it waits for a client that is too slow.
  if (reading_) return end();
  wire_->part([self = shared_from_this()](const Error&, std::size_t) {
    if (self->phase_ != Phase::parting) return;
    Error ignored;
    self->wire_->socket().shutdown(asio::ip::tcp::socket::shutdown_send, ignored);
    self->drain();
  });
}

void Connection::drain() {
  wire_->socket().async_read_some(asio::buffer(chunk_),
                                  [self = shared_from_this()](const Error& why, std::size_t bytes) {
                                    if (self->phase_ != Phase::parting) return;
                                    self->drained_ += bytes;
                                    why || self->drained_ > parting_bytes ? self->end() : self->drain();
                                  });
}

}  // namespace steelyard::field::http
