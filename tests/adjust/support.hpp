// Small helpers of these tests: matrices from the published tables, a second way to invert, and both
// algorithms on one linear problem.
#pragma once

#include <random>
#include <vector>

#include "adjust/adjust.hpp"

namespace steelyard::test {

using adjust::Index;
using adjust::Matrix;
using adjust::Vector;

Vector to_vector(const std::vector<double>& values);
Matrix to_matrix(const std::vector<std::vector<double>>& rows);

/// Gauss–Jordan with pivoting in long double: shares no code with the adjustment. Throws where singular.
Matrix inverse(const Matrix& square);

/// Largest difference, relative to the largest value there (at least `floor`).
double apart(const Matrix& one, const Matrix& other, double floor = 1e-300);

/// The covariance of all unknowns, as the solution gives it function by function.
Matrix covariance_of_unknowns(const adjust::Solution& solution);

struct Linear {
  Matrix design;
  Matrix constraint;
  Vector closes_to;
  Vector scale;  // empty: ones
};
adjust::Solution solve(const Linear& problem, const adjust::Observed& observed,
                       adjust::Algorithm algorithm = adjust::Algorithm::null_space);

adjust::Observed independent(Vector value, Vector u);
adjust::Observed correlated(Vector value, Matrix covariance);

/// Uniform between −1 and 1; the generator's seed is the test's.
Matrix random_matrix(Index rows, Index cols, std::mt19937_64& generator);
Vector random_vector(Index size, std::mt19937_64& generator);

}  // namespace steelyard::test
