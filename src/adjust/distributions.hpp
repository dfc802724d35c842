// The distributions that tests of an adjustment need, and Fieller's interval of a ratio.
//
// Pure numbers without units. Errors: std::domain_error outside the ranges named.
// Sources: Boost.Math (normal, chi-squared); E. C. Fieller, J. R. Statist. Soc. B 16 (1954) 175.
#pragma once

#include <optional>
#include <utility>

namespace steelyard::adjust {

/// Half width of a two-sided 95 % interval in standard uncertainties, as the model prints it.
inline constexpr double z95 = 1.959964;

double normal_cdf(double x);
double normal_quantile(double p);                            // 0 < p < 1
double chi_square_upper(double chi_square, double freedom);  // P(χ² > chi_square); freedom > 0
double chi_square_quantile(double p, double freedom);        // 0 < p < 1

/// The interval of a/b for (a, b) jointly normal with variances `va`, `vb` and covariance `cab`; nothing
/// where it is unbounded, that is where b is not further than z standard uncertainties from zero.
std::optional<std::pair<double, double>> fieller(double a, double b, double va, double vb, double cab,
                                                 double z = z95);

}  // namespace steelyard::adjust
