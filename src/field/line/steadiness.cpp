#include "field/line/steadiness.hpp"

#include <algorithm>
#include <cmath>

namespace steelyard::field {
namespace {

constexpr std::chrono::duration<double> shortest_silence{2};
constexpr std::size_t least_readings = 3;
// A fast line over the longest time; older ones are thinned out, which cannot make an unlike one like.
constexpr std::size_t most_readings = 4096;
// Figures as 0.1 and 0.3 are not exact in binary; a division of a scale is never this small.
constexpr double rounding = 1e-9;

}  // namespace

SteadyRule::SteadyRule(const LineOptions& options) : for_(options.stable_for), within_(options.within) {}

bool SteadyRule::stable(const LineFigure& figure, Instant now) {
  if (figure.stable) {
    heard_.clear();
    return *figure.stable;
  }
  if (for_.count() <= 0) return true;
  if (!heard_.empty() &&
      (heard_.back().figure.unit != figure.unit || now - heard_.back().at > std::max(shortest_silence, for_)))
    heard_.clear();

  // From the latest unlike one back, nothing can stand in a run of like ones with this.
  double least = figure.figure;
  double most = figure.figure;
  std::size_t like = 0;
  for (auto at = heard_.rbegin(); at != heard_.rend(); ++at, ++like) {
    least = std::min(least, at->figure.figure);
    most = std::max(most, at->figure.figure);
    if (most - least > within_ + rounding) break;
  }
  heard_.erase(heard_.begin(), heard_.end() - static_cast<std::ptrdiff_t>(like));
  heard_.push_back({.figure = figure, .at = now});
  // The second oldest is old enough too: the oldest is no longer wanted.
  while (heard_.size() > least_readings && now - heard_[1].at >= for_) heard_.pop_front();
  if (heard_.size() > most_readings) heard_.erase(heard_.begin() + 1);
  return heard_.size() >= least_readings && now - heard_.front().at >= for_;
}

}  // namespace steelyard::field
