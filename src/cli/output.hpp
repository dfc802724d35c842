// Where results and messages go: results to standard output, all else to standard error.
//
// A result that could not be written is a failure (full device, closed pipe): Output throws OutputFailed, and
// main answers with exit code 1. Output keeps what it is given in a buffer and writes it when that is full,
// at flush(), and never in its destructor, where an error could not be told.
#pragma once

#include <stdexcept>
#include <string>
#include <string_view>

namespace steelyard::cli {

class OutputFailed : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Standard output.
class Output {
 public:
  void write(std::string_view text);
  void line(std::string_view text);
  void flush();
  [[nodiscard]] bool is_terminal() const;

 private:
  std::string buffer_;
};

/// Standard error, for people: "steelyard: …". Texts are made printable, so that a hostile name stays a name.
/// A message that cannot be written has nobody left to be told to.
class Messages {
 public:
  void say(std::string_view text);
  /// "steelyard: warning: …": something to know that changes neither the result nor the exit code.
  void warn(std::string_view text);
  /// Written as it is, without a name or a line end: progress on a terminal.
  void raw(std::string_view text);
  [[nodiscard]] bool is_terminal() const;
};

struct Streams {
  Output out;
  Messages err;
};

}  // namespace steelyard::cli
