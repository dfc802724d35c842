// How a request is answered: once, from any thread, with one response or with a stream of events.
#pragma once

#include <cstddef>
#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <string>
#include <utility>
#include <vector>

#include "field/http/message.hpp"

namespace steelyard::field::http {

/// An open text/event-stream. Everything may be called from any thread, also after the server is gone.
class EventStream {
 public:
  using Text = std::shared_ptr<const std::string>;
  using OnClose = std::function<void()>;

  EventStream(std::size_t most_unsent, OnClose on_close);

  /// Sends a whole event with its empty line ("event: view\ndata: …\n\n"); does not wait. Where a slow reader
  /// has too many unsent, the oldest is dropped: every event has to be a whole state. False where the stream
  /// is closed.
  bool send(Text text);

  /// Nothing more is taken; what is unsent still goes out, then the connection ends.
  void close();

  bool closed() const;

  /// How many events were dropped because their reader was slow.
  std::size_t dropped() const;

  // What follows is the server's side; tests of a service may stand in for it.

  /// Called, from any thread, when there is something to take or the stream was closed.
  void wake_by(std::function<void()> wake);
  /// The next unsent event, or null.
  Text take();
  /// The connection is gone: drops what is unsent and calls `on_close`, the first time.
  void gone();

 private:
  mutable std::mutex mutex_;
  const std::size_t most_unsent_;
  OnClose on_close_;
  std::function<void()> wake_;
  std::deque<Text> unsent_;
  std::size_t dropped_ = 0;
  bool closed_ = false, gone_ = false;
};

/// Called once, from any thread; destroyed unanswered it answers 500. A second call does nothing.
class Reply {
 public:
  using Answer = std::function<void(Response)>;
  using Open = std::function<void(std::shared_ptr<EventStream>, Response)>;

  /// `answer` and `open` are called at most once, and only one of them, on the thread that answers.
  Reply(Answer answer, Open open, std::size_t most_unsent = 4);
  Reply(Reply&& other) noexcept;
  Reply& operator=(Reply&& other) noexcept;
  ~Reply();

  void operator()(Response response);

  /// Answers with text/event-stream (and the headers given). `on_close` is called once, on the network
  /// thread, when the reader is gone, the server stops or there are too many streams (which is then answered
  /// 429 or 503); that may be before this returns. It must not block.
  std::shared_ptr<EventStream> stream(EventStream::OnClose on_close = {},
                                      std::vector<std::pair<std::string, std::string>> headers = {});

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace steelyard::field::http
