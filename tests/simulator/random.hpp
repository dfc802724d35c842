// Random numbers that are the same on every machine.
//
// std::mt19937_64 and std::seed_seq are defined bit by bit by the C++ standard; its distributions are not, so
// the transforms are here. The normal one is the ratio of uniforms with quadratic bounds (J. L. Leva, ACM
// Trans. Math. Softw. 18 (1992) 449, algorithm 712): its deviates come out of one division, so that no
// mathematical library has a say in them.
#pragma once

#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <random>

namespace steelyard::simulator {

/// Both ends of what is drawn evenly.
struct Range {
  double low = 0, high = 0;
};

class Random {
 public:
  /// The stream of one session: what is drawn in one does not move another.
  Random(std::uint64_t seed, std::uint64_t session, std::uint64_t purpose = 0);

  double uniform();  // 0 <= x < 1
  double uniform(Range range) { return range.low + (range.high - range.low) * uniform(); }
  double normal(double mean, double u);
  bool chance(double probability) { return uniform() < probability; }
  std::size_t below(std::size_t count);  // 0 … count − 1; count > 0
  template <class T>
  T pick(std::initializer_list<T> all) {
    return *(all.begin() + below(all.size()));
  }

 private:
  std::mt19937_64 bits_;
};

}  // namespace steelyard::simulator
