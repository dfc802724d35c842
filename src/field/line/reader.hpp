// Loads off a serial or pseudo-terminal device, read in a thread of its own.
//
// The device is opened for reading only: no command is ever sent to it. Where it cannot be opened, or goes
// away, that is told and opening it is tried again every second until stop(). Its settings are put back when
// it is closed. Units: loads as sent, with their unit; times of the computer's clock. Errors: the constructor
// throws std::invalid_argument with the first of option_faults(); start() throws std::system_error where no
// thread can be had; all else is told through the callback.
#pragma once

#include <chrono>
#include <functional>
#include <memory>
#include <string>
#include <variant>

#include "field/line/options.hpp"

namespace steelyard::field {

struct LineLoad {
  double load = 0;
  units::LoadUnit unit = units::LoadUnit::kilogram;
  bool stable = false;
  std::chrono::system_clock::time_point time = {};
};

/// From now on no load is known, until the next LineLoad.
struct LineTrouble {
  enum class Kind {
    closed,          ///< the device cannot be opened or went away; tried again every second
    silent,          ///< nothing heard for 5 s
    not_understood,  ///< bytes are heard, but no load in them for 5 s, or the pattern takes too long
    not_taken        ///< a load is heard, but none to take for 1 s: another unit, no unit, not a number
  };
  Kind kind = Kind::closed;
  std::string what = {};  ///< a sentence with the remedy
  std::chrono::system_clock::time_point time = {};
};

using LineNews = std::variant<LineLoad, LineTrouble>;

/// Called in the reader's thread, one call at a time, never after stop() has returned: it must not throw,
/// wait for long, or call stop(). Loads come at once where stability changes, else ten times a second at
/// most, the latest always; a trouble comes once.
using LineCallback = std::function<void(const LineNews&)>;

struct LineTimes {
  std::chrono::milliseconds silence{5000};
  std::chrono::milliseconds reopen{1000};
  std::chrono::milliseconds pace{100};
  std::chrono::milliseconds pause{1000};  ///< no line goes on after it
};

class LineReader {
 public:
  LineReader(LineOptions options, LineCallback callback, LineTimes times = {});
  ~LineReader();  ///< stops
  LineReader(const LineReader&) = delete;
  LineReader& operator=(const LineReader&) = delete;

  void start();  ///< nothing where it runs already
  void stop();   ///< at once, whatever the thread waits for; nothing where it does not run

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace steelyard::field
