#include "field/line/cutting.hpp"

#include <utility>

namespace steelyard::field {

void LineCutter::start_again() {
  line_.clear();
  whole_ = false;
  after_cr_ = false;
}

bool LineCutter::was_too_long() {
  return std::exchange(too_long_, false);
}

/// Whether a line ends with this byte; a CR before the LF is then in the line still.
bool LineCutter::ends(char byte) {
  const bool pair = std::exchange(after_cr_, byte == '\r') && byte == '\n';
  switch (end_) {
    case LineEnd::cr:
      return byte == '\r';
    case LineEnd::lf:
      return byte == '\n';
    case LineEnd::crlf:
      return pair;
    case LineEnd::any:
      break;
  }
  return byte == '\r' || byte == '\n';
}

void LineCutter::feed(std::string_view bytes, const std::function<void(std::string_view)>& take) {
  for (const char byte : bytes) {
    if (ends(byte)) {
      std::string_view line = line_;
      if (end_ == LineEnd::crlf && line.ends_with('\r')) line.remove_suffix(1);
      if (whole_ && !line.empty()) take(line);
      line_.clear();
      whole_ = true;
      continue;
    }
    const bool cr_of_a_pair = end_ == LineEnd::crlf && byte == '\r';
    if (line_.size() < longest_line + (cr_of_a_pair ? 1 : 0)) {
      line_ += byte;
      continue;
    }
    too_long_ = true;
    whole_ = false;
  }
}

}  // namespace steelyard::field
