// Which loads are stable where the line itself does not say so, and which news are told when.
//
// Units: `within` is in the unit of the loads. Errors: none.
#pragma once

#include <chrono>
#include <deque>
#include <optional>
#include <utility>

#include "field/line/options.hpp"
#include "field/line/pattern.hpp"

namespace steelyard::field {

/// The rule of like readings (LineOptions::stable_for, within). Another unit, or a silence of 2 s and of more
/// than `stable_for`, begins anew: between two loads far apart nobody knows what the scale showed.
class SteadyRule {
 public:
  using Instant = std::chrono::steady_clock::time_point;

  explicit SteadyRule(const LineOptions& options);

  bool stable(const LineFigure& figure, Instant now);
  void start_again() { heard_.clear(); }

 private:
  struct Heard {
    LineFigure figure = {};
    Instant at = {};
  };
  std::chrono::duration<double> for_;
  double within_;
  std::deque<Heard> heard_ = {};  // like one another, the oldest first
};

/// Ten times a second at most, but each change of stability at once and the latest always.
template <class News>
class Pace {
 public:
  using Instant = std::chrono::steady_clock::time_point;

  explicit Pace(std::chrono::milliseconds least) : least_(least) {}

  /// The news, where they are to be told now; else they are kept until due().
  std::optional<News> offer(News news, bool stable, Instant now) {
    if (told_ && stable_ == stable && now - *told_ < least_) {
      kept_ = std::move(news);
      return {};
    }
    kept_.reset();
    told_ = now;
    stable_ = stable;
    return news;
  }

  /// When what is kept is to be told; nothing where nothing is.
  [[nodiscard]] std::optional<Instant> due() const {
    return kept_ ? std::optional(*told_ + least_) : std::nullopt;
  }

  std::optional<News> take(Instant now) {
    if (!kept_ || now < *due()) return {};
    told_ = now;
    return std::exchange(kept_, std::nullopt);
  }

  void start_again() {
    kept_.reset();
    told_.reset();
  }

 private:
  std::chrono::milliseconds least_;
  std::optional<News> kept_ = {};
  std::optional<Instant> told_ = {};
  bool stable_ = false;
};

}  // namespace steelyard::field
