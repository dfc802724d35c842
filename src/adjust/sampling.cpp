#include "adjust/sampling.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

namespace steelyard::adjust {
namespace {

constexpr std::size_t bin_count = 8192;
constexpr double fine_within = 4;  // widths; beyond, bins grow with the square of the distance

std::seed_seq sequence(std::uint64_t seed, std::uint64_t stream) {
  constexpr std::uint64_t low = 0xffffffff;
  return {seed & low, seed >> 32, stream & low, stream >> 32};
}

}  // namespace

Deviates::Deviates(std::uint64_t seed, std::uint64_t stream) {
  std::seed_seq mixed = sequence(seed, stream);
  generator_.seed(mixed);
}

double Deviates::uniform() {
  return (static_cast<double>(generator_() >> 11) + 1) * 0x1p-53;
}

double Deviates::normal() {
  waiting_ = !waiting_;
  if (!waiting_) return second_;
  const double length = std::sqrt(-2 * std::log(uniform()));
  const double angle = 2 * std::numbers::pi * uniform();
  second_ = length * std::sin(angle);
  return length * std::cos(angle);
}

Tally::Tally(double centre, double width) : centre_(centre), width_(width), bins_(bin_count) {
  if (!(width > 0) || !std::isfinite(width) || !std::isfinite(centre))
    throw std::invalid_argument("tally: the width must be finite and above 0, the centre finite");
}

void Tally::add(double value) {
  const double t = (value - centre_) / width_;
  if (!std::isfinite(t)) throw std::invalid_argument("tally: values must be finite");
  sum_ += t;
  squares_ += t * t;
  ++count_;
  // −1 … 1 for minus infinity … infinity
  const double squeezed = t / (fine_within + std::abs(t));
  const double place = (squeezed + 1) / 2 * static_cast<double>(bin_count);
  ++bins_[static_cast<std::size_t>(std::clamp(place, 0.0, static_cast<double>(bin_count) - 1))];
}

double Tally::mean() const {
  if (count_ < 1) throw std::invalid_argument("tally: there is no value");
  return centre_ + width_ * sum_ / static_cast<double>(count_);
}

double Tally::deviation() const {
  if (count_ < 2) throw std::invalid_argument("tally: a deviation needs two values");
  const auto n = static_cast<double>(count_);
  return width_ * std::sqrt(std::max(squares_ - sum_ * sum_ / n, 0.0) / (n - 1));
}

double Tally::edge(double bin) const {
  const double squeezed = 2 * bin / static_cast<double>(bin_count) - 1;
  return centre_ + width_ * fine_within * squeezed / (1 - std::abs(squeezed));
}

double Tally::at_rank(double rank, std::size_t& bin, double& below) const {
  while (bin + 1 < bin_count && below + bins_[bin] < rank) below += bins_[bin++];
  const double part = bins_[bin] > 0 ? std::clamp((rank - below) / bins_[bin], 0.0, 1.0) : 0;
  // The outermost bins end at infinity; what lies there is put at their inner ends.
  const double place = std::clamp(static_cast<double>(bin) + part, 1.0, static_cast<double>(bin_count) - 1);
  return edge(place);
}

std::pair<double, double> Tally::symmetric(double p) const {
  if (count_ < 2) throw std::invalid_argument("tally: an interval needs two values");
  const double beside = (1 - p) / 2 * static_cast<double>(count_);
  std::size_t bin = 0;
  double below = 0;
  const double low = at_rank(beside, bin, below);
  return {low, at_rank(static_cast<double>(count_) - beside, bin, below)};
}

std::pair<double, double> Tally::shortest(double p) const {
  if (count_ < 2) throw std::invalid_argument("tally: an interval needs two values");
  const double inside = p * static_cast<double>(count_), beside = static_cast<double>(count_) - inside;
  std::size_t low_bin = 0, high_bin = 0;
  double low_below = 0, high_below = 0, least = std::numeric_limits<double>::infinity();
  std::pair<double, double> out = symmetric(p);
  constexpr int places = 400;  // of the lower end's rank
  for (int i = 0; i <= places; ++i) {
    const double rank = beside * i / places;
    const double low = at_rank(rank, low_bin, low_below), high = at_rank(rank + inside, high_bin, high_below);
    if (high - low < least) {
      least = high - low;
      out = {low, high};
    }
  }
  return out;
}

}  // namespace steelyard::adjust
