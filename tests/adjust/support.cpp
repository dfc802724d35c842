#include "support.hpp"

#include <cmath>
#include <stdexcept>
#include <utility>

namespace steelyard::test {

Vector to_vector(const std::vector<double>& values) {
  Vector out(static_cast<Index>(values.size()));
  for (Index i = 0; i < out.size(); ++i) out[i] = values[static_cast<std::size_t>(i)];
  return out;
}

Matrix to_matrix(const std::vector<std::vector<double>>& rows) {
  Matrix out(static_cast<Index>(rows.size()), static_cast<Index>(rows.at(0).size()));
  for (Index i = 0; i < out.rows(); ++i)
    out.row(i) = to_vector(rows[static_cast<std::size_t>(i)]).transpose();
  return out;
}

Matrix inverse(const Matrix& square) {
  using Wide = Eigen::Matrix<long double, Eigen::Dynamic, Eigen::Dynamic>;
  const Index n = square.rows();
  Wide work(n, 2 * n);
  work << square.cast<long double>(), Wide::Identity(n, n);
  for (Index k = 0; k < n; ++k) {
    Index pivot = k;
    for (Index i = k + 1; i < n; ++i)
      if (std::abs(work(i, k)) > std::abs(work(pivot, k))) pivot = i;
    if (work(pivot, k) == 0) throw std::runtime_error("test matrix is singular");
    work.row(k).swap(work.row(pivot));
    work.row(k) /= work(k, k);
    for (Index i = 0; i < n; ++i)
      if (i != k) work.row(i) -= work(i, k) * work.row(k);
  }
  return work.rightCols(n).cast<double>();
}

double apart(const Matrix& one, const Matrix& other, double floor) {
  if (one.rows() != other.rows() || one.cols() != other.cols()) throw std::runtime_error("sizes differ");
  if (!one.allFinite() || !other.allFinite()) return INFINITY;
  const double largest = std::max({one.cwiseAbs().maxCoeff(), other.cwiseAbs().maxCoeff(), floor});
  return (one - other).cwiseAbs().maxCoeff() / largest;
}

Matrix covariance_of_unknowns(const adjust::Solution& solution) {
  const Index n = solution.unknowns.size();
  Matrix out(n, n);
  for (Index i = 0; i < n; ++i)
    for (Index j = 0; j < n; ++j) out(i, j) = solution.covariance(Vector::Unit(n, i), Vector::Unit(n, j));
  return out;
}

adjust::Solution solve(const Linear& problem, const adjust::Observed& observed, adjust::Algorithm algorithm) {
  const Index n = problem.design.cols();
  const adjust::LinearModel model(problem.design, problem.constraint, problem.closes_to);
  adjust::Options options;
  options.algorithm = algorithm;
  const Vector scale = problem.scale.size() ? problem.scale : Vector::Ones(n);
  return adjust::solve(model, observed, Vector::Zero(n), scale, options);
}

adjust::Observed independent(Vector value, Vector u) {
  return {std::move(value), std::move(u), std::nullopt};
}

adjust::Observed correlated(Vector value, Matrix covariance) {
  return {std::move(value), Vector(), std::move(covariance)};
}

Matrix random_matrix(Index rows, Index cols, std::mt19937_64& generator) {
  Matrix out(rows, cols);
  for (Index i = 0; i < rows; ++i)
    for (Index j = 0; j < cols; ++j) out(i, j) = static_cast<double>(generator() >> 11) * 0x1p-52 - 1;
  return out;
}

Vector random_vector(Index size, std::mt19937_64& generator) {
  return random_matrix(size, 1, generator);
}

}  // namespace steelyard::test
