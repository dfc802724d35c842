#include "field/http/reply.hpp"

#include <utility>

namespace steelyard::field::http {

EventStream::EventStream(std::size_t most_unsent, OnClose on_close)
    : most_unsent_(most_unsent), on_close_(std::move(on_close)) {}

bool EventStream::send(Text text) {
  std::function<void()> wake;
  {
    const std::lock_guard lock(mutex_);
    if (closed_) return false;
    unsent_.push_back(std::move(text));
    if (unsent_.size() > most_unsent_) {
      unsent_.pop_front();
      ++dropped_;
    }
    wake = wake_;
  }
  if (wake) wake();
  return true;
}

void EventStream::close() {
  std::function<void()> wake;
  {
    const std::lock_guard lock(mutex_);
    if (closed_) return;
    closed_ = true;
    wake = wake_;
  }
  if (wake) wake();
}

bool EventStream::closed() const {
  const std::lock_guard lock(mutex_);
  return closed_;
}

std::size_t EventStream::dropped() const {
  const std::lock_guard lock(mutex_);
  return dropped_;
}

void EventStream::wake_by(std::function<void()> wake) {
  {
    const std::lock_guard lock(mutex_);
    if (gone_) return;
    wake_ = wake;
  }
  // What was sent or closed before anybody listened.
  if (wake) wake();
}

EventStream::Text EventStream::take() {
  const std::lock_guard lock(mutex_);
  if (unsent_.empty()) return nullptr;
  Text next = std::move(unsent_.front());
  unsent_.pop_front();
  return next;
}

void EventStream::gone() {
  OnClose on_close;
  {
    const std::lock_guard lock(mutex_);
    if (gone_) return;
    closed_ = gone_ = true;
    unsent_.clear();
    wake_ = nullptr;
    on_close = std::exchange(on_close_, nullptr);
  }
  // Outside the lock: the callback may ask this stream something.
  if (on_close) on_close();
}

struct Reply::State {
  Answer answer;
  Open open;
  std::size_t most_unsent;
};

Reply::Reply(Answer answer, Open open, std::size_t most_unsent)
    : state_(std::make_unique<State>(State{std::move(answer), std::move(open), most_unsent})) {}

Reply::Reply(Reply&& other) noexcept = default;

Reply& Reply::operator=(Reply&& other) noexcept {
  // The one that was held here is answered like any that is let go.
  if (this != &other) {
    const Reply let_go(std::move(*this));
    state_ = std::move(other.state_);
  }
  return *this;
}

Reply::~Reply() {
  if (!state_) return;
  try {
    (*this)(error_answer(500, "the program gave no answer to this; try again"));
  } catch (...) {
    // Nobody is left to tell; the connection ends by its time limit.
  }
}

void Reply::operator()(Response response) {
  const auto state = std::move(state_);
  if (state && state->answer) state->answer(std::move(response));
}

std::shared_ptr<EventStream> Reply::stream(EventStream::OnClose on_close,
                                           std::vector<std::pair<std::string, std::string>> headers) {
  const auto state = std::move(state_);
  auto stream = std::make_shared<EventStream>(state ? state->most_unsent : 0, std::move(on_close));
  if (!state || !state->open) {
    stream->gone();
    return stream;
  }
  Response head;
  head.content_type = "text/event-stream";
  head.headers = std::move(headers);
  state->open(stream, std::move(head));
  return stream;
}

}  // namespace steelyard::field::http
