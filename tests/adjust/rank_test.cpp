// What the observations leave free, and what they do not.
#include <boost/test/unit_test.hpp>
#include <cmath>

#include "support.hpp"

namespace {

using namespace steelyard;
using test::Index;
using test::Matrix;
using test::Vector;

Vector column(std::initializer_list<double> values) {
  return test::to_vector(values);
}

/// Three height differences around a triangle that closes to 0.3; nobody says how high any point is.
struct Levelling {
  Matrix design{3, 3};
  adjust::Observed observed = test::independent(column({1.1, 2.1, -2.9}), Vector::Ones(3));
  Levelling() { design << -1, 1, 0, 0, -1, 1, 1, 0, -1; }

  [[nodiscard]] adjust::Solution solve(const Matrix& constraint, const Vector& closes_to, const Vector& start,
                                       const Vector& scale = Vector::Ones(3)) const {
    return adjust::solve(adjust::LinearModel(design, constraint, closes_to), observed, start, scale);
  }
  void check_differences(const adjust::Solution& solution) const {
    // By hand: a third of 0.3 off each difference; χ² = 3·0.1²; each redundancy 1/3.
    BOOST_TEST_REQUIRE(solution.converged);
    BOOST_TEST(test::apart(solution.fitted, column({1, 2, -3})) < 1e-13);
    BOOST_TEST(std::abs(solution.chi_square - 0.03) < 1e-13);
    BOOST_TEST(solution.rank == 2);
    BOOST_TEST(solution.degrees_of_freedom == 1);
    BOOST_TEST(test::apart(solution.redundancy, Vector::Constant(3, 1 / 3.0)) < 1e-13);
    BOOST_TEST(solution.determinable(column({-1, 1, 0})));
    BOOST_TEST(std::abs(solution.uncertainty(column({-1, 1, 0})) - std::sqrt(2 / 3.0)) < 1e-13);
  }
};

}  // namespace

BOOST_AUTO_TEST_SUITE(rank)

BOOST_FIXTURE_TEST_CASE(heights_without_a_datum, Levelling) {
  const auto solution = solve(Matrix(0, 3), Vector(0), Vector::Zero(3));
  check_differences(solution);
  BOOST_TEST(solution.free_directions.cols() == 1);
  BOOST_TEST(test::apart(solution.free_directions.cwiseAbs(), Vector::Constant(3, 1 / std::sqrt(3.0))) <
             1e-13);
  for (Index i = 0; i < 3; ++i) BOOST_TEST(!solution.determinable(Vector::Unit(3, i)));
  BOOST_TEST(!solution.determinable(column({-1, 1, 1e-5})));
  // The step of least norm moves no height in common.
  BOOST_TEST(test::apart(solution.unknowns, column({-4 / 3.0, -1 / 3.0, 5 / 3.0})) < 1e-13);
}

BOOST_FIXTURE_TEST_CASE(least_norm_is_measured_from_the_start, Levelling) {
  const auto solution = solve(Matrix(0, 3), Vector(0), column({100, 110, 90}));  // mean 100 stays
  check_differences(solution);
  BOOST_TEST(test::apart(solution.unknowns, column({100 - 4 / 3.0, 100 - 1 / 3.0, 100 + 5 / 3.0})) < 1e-13);
}

// Scaled by s, the shortest step is the one with Σ h/s² = 0: the heavy-scaled point gives way most.
BOOST_FIXTURE_TEST_CASE(least_norm_is_measured_in_scaled_unknowns, Levelling) {
  const auto solution = solve(Matrix(0, 3), Vector(0), Vector::Zero(3), column({1, 1, 10}));
  check_differences(solution);
  BOOST_TEST(std::abs(solution.unknowns[0] + solution.unknowns[1] + solution.unknowns[2] / 100) < 1e-12);
}

BOOST_FIXTURE_TEST_CASE(a_constraint_gives_the_datum, Levelling) {
  const auto solution = solve(Matrix::Ones(1, 3), column({30}), Vector::Zero(3));
  check_differences(solution);
  BOOST_TEST(solution.free_directions.cols() == 0);
  BOOST_TEST(test::apart(solution.unknowns, column({10 - 4 / 3.0, 10 - 1 / 3.0, 10 + 5 / 3.0})) < 1e-13);
  for (Index i = 0; i < 3; ++i) BOOST_TEST(solution.determinable(Vector::Unit(3, i)));
}

BOOST_FIXTURE_TEST_CASE(a_repeated_constraint_changes_nothing, Levelling) {
  Matrix constraint(3, 3);
  constraint << 1, 1, 1, 2, 2, 2, 1, 1, 1;
  const auto once = solve(Matrix::Ones(1, 3), column({30}), Vector::Zero(3));
  const auto thrice = solve(constraint, column({30, 60, 30}), Vector::Zero(3));
  check_differences(thrice);
  BOOST_TEST(test::apart(once.unknowns, thrice.unknowns) < 1e-13);
  BOOST_TEST(test::apart(test::covariance_of_unknowns(once), test::covariance_of_unknowns(thrice)) < 1e-12);
}

BOOST_AUTO_TEST_CASE(an_unknown_nobody_mentions_is_free) {
  Matrix design(2, 3);
  design << 1, 0, 0, 1, 0, 0;
  const auto solution = test::solve({design, Matrix(0, 3), Vector(0), Vector()},
                                    test::independent(column({4, 6}), Vector::Ones(2)));
  BOOST_TEST(solution.rank == 1);
  BOOST_TEST(solution.free_directions.cols() == 2);
  BOOST_TEST(solution.determinable(column({1, 0, 0})));
  BOOST_TEST(!solution.determinable(column({0, 1, 0})));
  BOOST_TEST(!solution.determinable(column({1, 0, 1e-6})));
  BOOST_TEST(solution.determinable(column({1, 0, 1e-8})));  // 1e-7 of the gradient's length is the line
  BOOST_TEST(std::abs(solution.unknowns[0] - 5) < 1e-14);
  BOOST_TEST(solution.unknowns.tail(2).cwiseAbs().maxCoeff() == 0);
}

// Rank is decided at 1e-9 of the largest singular value of the weighted design, singular values here 1 and ε.
BOOST_AUTO_TEST_CASE(rank_tolerance) {
  for (const auto& [small, rank] : {std::pair{1e-6, 2}, {3e-9, 2}, {3e-10, 1}, {1e-14, 1}}) {
    Matrix design(2, 2);
    design << 0.6, -0.8 * small, 0.8, 0.6 * small;  // a turned diag(1, ε)
    const auto solution = test::solve({design, Matrix(0, 2), Vector(0), Vector()},
                                      test::independent(column({1, 2}), Vector::Ones(2)));
    BOOST_TEST_CONTEXT("smallest singular value " << small) {
      BOOST_TEST(solution.rank == rank);
      BOOST_TEST(solution.determinable(column({0, 1})) == (rank == 2));
      BOOST_TEST(solution.determinable(column({1, 0})));
    }
  }
}

// Waits for src/adjust: the spread asks a decomposition that was never made, which may crash.
BOOST_AUTO_TEST_CASE(constraints_may_leave_nothing_to_adjust) {
  const auto solution =
      test::solve({Matrix::Identity(2, 2), Matrix::Identity(2, 2), column({3, 4}), Vector()},
                  test::independent(column({3.5, 3}), column({0.5, 1})));
  BOOST_TEST_REQUIRE(solution.converged);
  BOOST_TEST(test::apart(solution.unknowns, column({3, 4})) < 1e-14);
  BOOST_TEST(solution.rank == 0);
  BOOST_TEST(solution.degrees_of_freedom == 2);
  BOOST_TEST(std::abs(solution.chi_square - 2) < 1e-13);
  BOOST_TEST(test::apart(solution.redundancy, Vector::Ones(2)) < 1e-14);
  BOOST_TEST(test::apart(solution.normalised_residual, column({1, -1})) < 1e-13);
  BOOST_TEST(solution.uncertainty(column({1, 1})) == 0);
}

// Exact: a constraint holds to rounding however good the observation against it.
BOOST_AUTO_TEST_CASE(constraints_hold_exactly_against_strong_observations) {
  const auto solution = test::solve(
      {Matrix::Identity(2, 2), (Matrix(1, 2) << 1, -1).finished(), column({0}), column({1000, 1000})},
      test::independent(column({1000, 1003}), Vector::Constant(2, 1e-6)));
  BOOST_TEST(std::abs(solution.unknowns[0] - solution.unknowns[1]) < 1e-9);
  BOOST_TEST(std::abs(solution.unknowns[0] - 1001.5) < 1e-9);
}

BOOST_AUTO_TEST_SUITE_END()
