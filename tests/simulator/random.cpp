#include "simulator/random.hpp"

#include <algorithm>
#include <cmath>

namespace steelyard::simulator {
namespace {

std::mt19937_64 seeded(std::uint64_t seed, std::uint64_t session, std::uint64_t purpose) {
  const auto low = [](std::uint64_t x) { return static_cast<std::uint32_t>(x); };
  const auto high = [](std::uint64_t x) { return static_cast<std::uint32_t>(x >> 32); };
  std::seed_seq words{low(seed), high(seed), low(session), high(session), low(purpose)};
  return std::mt19937_64(words);
}

}  // namespace

Random::Random(std::uint64_t seed, std::uint64_t session, std::uint64_t purpose)
    : bits_(seeded(seed, session, purpose)) {}

double Random::uniform() {
  constexpr double step = 0x1p-53;
  return static_cast<double>(bits_() >> 11) * step;
}

double Random::normal(double mean, double u) {
  while (true) {
    const double height = 1 - uniform();  // never 0
    const double width = 1.7156 * (uniform() - 0.5);
    const double x = height - 0.449871, y = std::abs(width) + 0.386595;
    const double q = x * x + y * (0.19600 * y - 0.25472 * x);
    const bool inside = q < 0.27597;
    if (inside || (q <= 0.27846 && width * width <= -4 * height * height * std::log(height)))
      return mean + u * (width / height);
  }
}

std::size_t Random::below(std::size_t count) {
  const auto drawn = static_cast<std::size_t>(uniform() * static_cast<double>(count));
  return std::min(drawn, count - 1);
}

}  // namespace steelyard::simulator
