#include "cli/output.hpp"

#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <utility>

#include "reports/words/terminal_text.hpp"

namespace steelyard::cli {
namespace {

constexpr std::size_t buffer_size = 64 * 1024;

/// 0, or the errno of the write that failed.
int write_all(int descriptor, std::string_view text) {
  while (!text.empty()) {
    const ssize_t written = ::write(descriptor, text.data(), text.size());
    if (written >= 0)
      text.remove_prefix(static_cast<std::size_t>(written));
    else if (errno != EINTR)
      return errno;
  }
  return 0;
}

}  // namespace

void Output::write(std::string_view text) {
  buffer_ += text;
  if (buffer_.size() >= buffer_size) flush();
}

void Output::line(std::string_view text) {
  buffer_ += text;
  buffer_ += '\n';
  if (buffer_.size() >= buffer_size) flush();
}

void Output::flush() {
  const std::string waiting = std::exchange(buffer_, {});
  if (const int error = write_all(STDOUT_FILENO, waiting))
    throw OutputFailed(std::string("the result could not be written: ") + std::strerror(error));
}

bool Output::is_terminal() const {
  return isatty(STDOUT_FILENO) == 1;
}

void Messages::say(std::string_view text) {
  write_all(STDERR_FILENO, "steelyard: " + reports::printable_lines(text) + '\n');
}

void Messages::warn(std::string_view text) {
  say(std::string("warning: ").append(text));
}

void Messages::raw(std::string_view text) {
  write_all(STDERR_FILENO, text);
}

bool Messages::is_terminal() const {
  return isatty(STDERR_FILENO) == 1;
}

}  // namespace steelyard::cli
