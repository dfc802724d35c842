// Propagation of distributions by Monte Carlo: what is drawn, and what is kept of a quantity that is drawn
// many times.
//
// Pure numbers without units. The same seed and stream give the same draws whatever the number of threads.
// Source: JCGM 101:2008 (supplement 1 to the GUM), 6.4 (normal by Box and Muller's transform), 7.6 (mean and
// standard deviation), 7.7 and 5.3.4 (probabilistically symmetric and shortest coverage interval).
// Errors: std::invalid_argument where a tally has no width or too few values for what is asked.
#pragma once

#include <cstdint>
#include <random>
#include <utility>
#include <vector>

namespace steelyard::adjust {

/// Random deviates. Streams of one seed are separate generators.
class Deviates {
 public:
  explicit Deviates(std::uint64_t seed, std::uint64_t stream = 0);
  double uniform();  // above 0, up to 1
  double normal();   // mean 0, deviation 1

 private:
  std::mt19937_64 generator_;
  double second_ = 0;
  bool waiting_ = false;  // Box and Muller's transform makes two at a time
};

/// Mean, deviation and coverage intervals of values that come one by one, in memory that does not grow: the
/// values are counted in bins that are finest about `centre` and reach to infinity. Within ten widths of the
/// centre a bin is under 0.05 widths wide, within two under 0.0025, and the ends of intervals are
/// interpolated inside it.
class Tally {
 public:
  /// `width` above 0: a standard deviation as expected. It decides how fine the bins are and nothing else.
  Tally(double centre, double width);
  void add(double value);  // finite

  [[nodiscard]] long count() const { return count_; }
  [[nodiscard]] double mean() const;
  [[nodiscard]] double deviation() const;  // of at least two values
  /// The ends that leave (1 − p)/2 of the values on either side.
  [[nodiscard]] std::pair<double, double> symmetric(double p) const;
  [[nodiscard]] std::pair<double, double> shortest(double p) const;

 private:
  /// The place below which `rank` of the values lie; `bin` and `below` go on from the last one asked for.
  [[nodiscard]] double at_rank(double rank, std::size_t& bin, double& below) const;
  [[nodiscard]] double edge(double bin) const;
  double centre_, width_;
  double sum_ = 0, squares_ = 0;  // of (value − centre)/width
  long count_ = 0;
  std::vector<std::uint32_t> bins_;
};

}  // namespace steelyard::adjust
