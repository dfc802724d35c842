#include "field/line/reader.hpp"

#include <poll.h>
#include <sys/eventfd.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cerrno>
#include <climits>
#include <cstdint>
#include <optional>
#include <stdexcept>
#include <system_error>
#include <thread>
#include <utility>

#include "field/line/listening.hpp"
#include "field/line/serial.hpp"

namespace steelyard::field {
namespace {

using Steady = std::chrono::steady_clock;

/// Wakes a thread that waits in poll().
class Bell {
 public:
  Bell() : handle_(eventfd(0, EFD_CLOEXEC | EFD_NONBLOCK)) {
    if (handle_ < 0) throw std::system_error(errno, std::generic_category(), "waiting for a serial line");
  }
  ~Bell() { ::close(handle_); }
  Bell(const Bell&) = delete;
  Bell& operator=(const Bell&) = delete;

  [[nodiscard]] int handle() const { return handle_; }
  void ring() const { eventfd_write(handle_, 1); }
  void silence() const {
    eventfd_t rung = 0;
    eventfd_read(handle_, &rung);
  }

 private:
  int handle_;
};

int milliseconds_until(std::optional<Steady::time_point> instant) {
  if (!instant) return -1;
  const auto left = std::chrono::ceil<std::chrono::milliseconds>(*instant - Steady::now()).count();
  return static_cast<int>(std::clamp<std::int64_t>(left, 0, INT_MAX));
}

}  // namespace

struct LineReader::Impl {
  LineOptions options;
  LineTimes times;
  LineListening listening;
  SerialDevice device = {};
  Bell bell = {};
  std::atomic<bool> stopping = false;
  std::thread thread = {};

  void run() {
    while (!stopping) {
      if (device.is_open())
        listen_once();
      else
        open_once();
    }
    device.close();
  }

  void open_once() {
    if (auto fault = device.open(options)) {
      listening.closed(*fault + "; tried again every second");
      wait_to_reopen();
    } else {
      listening.opened(Steady::now());
    }
  }

  void wait_to_reopen() {
    const auto until = Steady::now() + times.reopen;
    pollfd rung{.fd = bell.handle(), .events = POLLIN, .revents = 0};
    while (!stopping && Steady::now() < until) poll(&rung, 1, milliseconds_until(until));
  }

  void listen_once() {
    std::array<pollfd, 2> waiting{{{.fd = device.handle(), .events = POLLIN, .revents = 0},
                                   {.fd = bell.handle(), .events = POLLIN, .revents = 0}}};
    const int ready = poll(waiting.data(), waiting.size(), milliseconds_until(listening.next()));
    if (stopping) return;
    if (ready > 0 && waiting[0].revents != 0) {
      const auto bytes = device.read_some();
      const bool hung_up = (waiting[0].revents & (POLLHUP | POLLERR | POLLNVAL)) != 0;
      if (!bytes || (bytes->empty() && hung_up)) return gone();
      if (!bytes->empty()) listening.heard(*bytes, Steady::now());
    }
    listening.look(Steady::now());
  }

  void gone() {
    device.close();
    listening.closed(options.device +
                     ": unplugged or switched off; plug it in again, it is tried every second");
    wait_to_reopen();
  }
};

LineReader::LineReader(LineOptions options, LineCallback callback, LineTimes times) {
  const auto faults = option_faults(options);
  if (!faults.empty()) throw std::invalid_argument(faults.front());
  LineListening listening(options, std::move(callback), times);
  impl_.reset(new Impl{.options = std::move(options), .times = times, .listening = std::move(listening)});
}

LineReader::~LineReader() {
  stop();
}

void LineReader::start() {
  if (impl_->thread.joinable()) return;
  impl_->stopping = false;
  impl_->bell.silence();
  impl_->listening.begin();
  impl_->thread = std::thread([this] { impl_->run(); });
}

void LineReader::stop() {
  if (!impl_->thread.joinable()) return;
  impl_->stopping = true;
  impl_->bell.ring();
  impl_->thread.join();
}

}  // namespace steelyard::field
