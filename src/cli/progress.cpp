#include "cli/progress.hpp"

#include <utility>

namespace steelyard::cli {

namespace {
constexpr std::chrono::milliseconds interval{
    100};  // more often than the eye follows costs more than it tells
}

Progress::Progress(Messages& messages, std::string what, std::size_t total)
    : messages_(messages), what_(std::move(what)), total_(total), active_(messages.is_terminal()) {}

void Progress::reach(std::size_t done) {
  done_ = done;
  if (!active_) return;
  const auto now = std::chrono::steady_clock::now();
  if (now < next_) return;
  next_ = now + interval;
  std::string text = '\r' + what_ + ": " + std::to_string(done_);
  if (total_ > 0) text += " of " + std::to_string(total_);
  messages_.raw(text);
  shown_ = true;
}

void Progress::clear() {
  if (shown_) messages_.raw("\r\x1b[K");
  shown_ = false;
}

}  // namespace steelyard::cli
