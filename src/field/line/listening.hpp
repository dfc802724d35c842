// What is told of the bytes that a line sends: loads, and why there are none. No device and no thread: the
// time is given.
//
// Errors: std::invalid_argument for a pattern that will not do; afterwards none.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

#include "field/line/cutting.hpp"
#include "field/line/pattern.hpp"
#include "field/line/reader.hpp"
#include "field/line/steadiness.hpp"

namespace steelyard::field {

class LineListening {
 public:
  using Instant = std::chrono::steady_clock::time_point;

  LineListening(const LineOptions& options, LineCallback callback, LineTimes times);

  /// As for the first time: every trouble is told again.
  void begin() { trouble_.reset(); }

  void opened(Instant now);
  void closed(std::string what);
  void heard(std::string_view bytes, Instant now);

  /// Tells what has become due, while the device is open.
  void look(Instant now);

  /// When look() has something to do at the earliest, if nothing is heard before.
  [[nodiscard]] std::optional<Instant> next() const;

 private:
  void take_line(std::string_view line, Instant now);
  void missed(const LineMiss& miss, Instant now);
  void tell(LineTrouble::Kind kind, std::string what);
  [[nodiscard]] bool told_of_nothing_heard() const;
  [[nodiscard]] std::string not_understood_text();

  LineCallback callback_;
  LineTimes times_;
  LinePattern pattern_;
  LineCutter cutter_;
  SteadyRule steady_;
  Pace<LineLoad> pace_;

  std::optional<LineTrouble> trouble_ = {};  // as told last, while no load has come since
  std::string last_miss_ = {};
  Instant last_heard_ = {};
  Instant last_load_ = {};
  std::optional<Instant> heard_without_load_ = {};  // since when
  Instant deaf_until_ = {};
};

}  // namespace steelyard::field
