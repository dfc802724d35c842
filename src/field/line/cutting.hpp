// Bytes to lines, however they arrive. No line is longer than `longest_line`: a longer one is thrown away up
// to the next end, and so is what is heard first, unless after a pause: it may be the rest of a line. A line
// with a pause in it is thrown away too: its second half may be another line's. Errors: none.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "field/line/options.hpp"

namespace steelyard::field {

class LineCutter {
 public:
  explicit LineCutter(LineEnd end) : end_(end) {}

  /// Calls `take` with each line that ends in these bytes, without its end; empty lines are passed over.
  void feed(std::string_view bytes, const std::function<void(std::string_view)>& take);

  /// As after opening: what comes up to the next end is thrown away.
  void start_again();

  /// Nothing has come for so long that a line would not go on after it.
  void paused() { whole_ = line_.empty(); }

  /// A line too long has been thrown away since this was asked last.
  bool was_too_long();

 private:
  bool ends(char byte);

  LineEnd end_;
  std::string line_ = {};
  bool whole_ = false;  // the line was heard from its beginning and is not too long
  bool too_long_ = false;
  bool after_cr_ = false;
};

}  // namespace steelyard::field
