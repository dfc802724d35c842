// Counts with their sampling error, and two tests of whether numbers are spread evenly over 0 … 1.
//
// Critical values from Boost.Math at 1 %: Pearson's chi-square over ten bins, and Kolmogorov's limit law of
// √n·D.
#pragma once

#include <vector>

namespace steelyard::proof {

struct Count {
  int of = 0;
  int hits = 0;

  void add(bool hit) {
    ++of;
    hits += hit ? 1 : 0;
  }
  [[nodiscard]] double share() const { return of == 0 ? 0 : static_cast<double>(hits) / of; }
  /// Standard error were `expected` true.
  [[nodiscard]] double standard_error(double expected) const;
  [[nodiscard]] double deviation(double expected) const;  // share − expected in standard errors
};

/// How far from what is claimed a count may be by chance; where it is too small for a normal law, the exact
/// binomial tail of the same probability decides.
inline constexpr double standard_errors = 3;

// True where a count does not speak against a share of at least, at most, just `claimed`. Of nothing: false.
bool at_least(const Count& count, double claimed);
bool at_most(const Count& count, double claimed);
bool near(const Count& count, double claimed);

struct Evenness {
  int of = 0;
  double chi_square = 0, chi_square_critical = 0;
  double kolmogorov = 0, kolmogorov_critical = 0;  // greatest distance from the diagonal
  [[nodiscard]] bool even() const {
    return chi_square <= chi_square_critical && kolmogorov <= kolmogorov_critical;
  }
};
Evenness evenness(std::vector<double> values);

}  // namespace steelyard::proof
