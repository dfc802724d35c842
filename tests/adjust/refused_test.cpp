// What is refused before anything is computed.
#include <boost/test/unit_test.hpp>
#include <limits>
#include <stdexcept>

#include "support.hpp"

namespace {

using namespace steelyard;
using test::Matrix;
using test::Vector;

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double infinity = std::numeric_limits<double>::infinity();

/// Three observations of two unknowns that solve well; each test spoils one thing.
struct Sound {
  Matrix design = (Matrix(3, 2) << 1, 0, 0, 1, 1, 1).finished();
  adjust::Observed observed = test::independent(test::to_vector({1, 2, 4}), Vector::Ones(3));
  Vector start = Vector::Zero(2), scale = Vector::Ones(2);

  [[nodiscard]] adjust::Solution solve() const {
    return adjust::solve(adjust::LinearModel(design, Matrix(0, 2), Vector(0)), observed, start, scale);
  }
  void refused() const { BOOST_CHECK_THROW(solve(), std::invalid_argument); }
};

}  // namespace

BOOST_AUTO_TEST_SUITE(refused)

BOOST_FIXTURE_TEST_CASE(nothing_where_all_is_sound, Sound) {
  BOOST_TEST(solve().converged);
}

BOOST_FIXTURE_TEST_CASE(sizes_of_observations, Sound) {
  observed.value = Vector::Ones(4);
  refused();
}

BOOST_FIXTURE_TEST_CASE(sizes_of_uncertainties, Sound) {
  observed.u = Vector::Ones(2);
  refused();
}

BOOST_FIXTURE_TEST_CASE(size_of_the_start, Sound) {
  start = Vector::Zero(3);
  refused();
}

BOOST_FIXTURE_TEST_CASE(size_of_the_scale, Sound) {
  scale = Vector::Ones(1);
  refused();
}

BOOST_FIXTURE_TEST_CASE(uncertainties_not_above_zero, Sound) {
  for (const double u : {0.0, -1.0, not_a_number, infinity}) {
    observed.u[1] = u;
    refused();
  }
}

BOOST_FIXTURE_TEST_CASE(scales_not_above_zero, Sound) {
  for (const double size : {0.0, -1.0, not_a_number}) {
    scale[1] = size;
    refused();
  }
}

BOOST_FIXTURE_TEST_CASE(start_not_finite, Sound) {
  for (const double at : {not_a_number, infinity}) {
    start[0] = at;
    refused();
  }
}

BOOST_FIXTURE_TEST_CASE(observations_not_finite, Sound) {
  for (const double at : {not_a_number, -infinity}) {
    observed.value[0] = at;
    refused();
  }
}

BOOST_FIXTURE_TEST_CASE(covariance_of_wrong_size, Sound) {
  observed.covariance = Matrix::Identity(2, 2);
  refused();
}

BOOST_FIXTURE_TEST_CASE(covariance_not_positive_definite, Sound) {
  Matrix covariance = Matrix::Identity(3, 3);
  covariance(0, 1) = covariance(1, 0) = 1;  // one error in two observations: singular
  observed.covariance = covariance;
  refused();
  covariance(0, 1) = covariance(1, 0) = 1.5;  // correlation above 1
  observed.covariance = covariance;
  refused();
  observed.covariance = -Matrix::Identity(3, 3);
  refused();
}

// Waits for src/adjust: Cholesky does not notice what is not finite, and an infinite variance even
// "converges".
BOOST_FIXTURE_TEST_CASE(covariance_not_finite, Sound) {
  for (const double variance : {not_a_number, infinity}) {
    Matrix covariance = Matrix::Identity(3, 3);
    covariance(2, 2) = variance;
    observed.covariance = covariance;
    refused();
  }
}

BOOST_AUTO_TEST_CASE(constraints_that_do_not_fit) {
  const Matrix design = Matrix::Identity(3, 2);
  BOOST_CHECK_THROW(adjust::LinearModel(design, Matrix::Ones(1, 3), Vector::Ones(1)), std::invalid_argument);
  BOOST_CHECK_THROW(adjust::LinearModel(design, Matrix::Ones(1, 2), Vector::Ones(2)), std::invalid_argument);
  BOOST_CHECK_THROW(adjust::LinearModel(design, Matrix(0, 2), Vector::Ones(1)), std::invalid_argument);
}

BOOST_AUTO_TEST_CASE(nothing_to_solve) {
  const adjust::LinearModel model(Matrix(0, 2), Matrix(0, 2), Vector(0));
  BOOST_CHECK_THROW(
      adjust::solve(model, {Vector(0), Vector(0), std::nullopt}, Vector::Zero(2), Vector::Ones(2)),
      std::invalid_argument);
}

BOOST_AUTO_TEST_SUITE_END()
