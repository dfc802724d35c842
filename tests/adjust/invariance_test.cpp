// The answer does not depend on the units, on the order of the observations, or on how a constraint is
// written.
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <numeric>

#include "support.hpp"

namespace {

using namespace steelyard;
using test::Index;
using test::Matrix;
using test::Vector;

constexpr double same = 1e-11;
constexpr double pounds_per_kilogram = 1 / 0.45359237;  // exact by definition, as is the inch

/// Twelve observations of seven unknowns under two constraints.
struct Drawn {
  std::mt19937_64 generator{1959};
  test::Linear problem{test::random_matrix(12, 7, generator), test::random_matrix(2, 7, generator),
                       test::random_vector(2, generator), Vector::Ones(7)};
  Vector value = test::random_vector(12, generator);
  Vector u = Vector::Constant(12, 0.2) + 0.1 * test::random_vector(12, generator);
  adjust::Solution plain = test::solve(problem, test::independent(value, u));

  void same_trust(const adjust::Solution& solution) const {
    BOOST_TEST_REQUIRE(solution.converged);
    BOOST_TEST(std::abs(solution.chi_square / plain.chi_square - 1) < same);
    BOOST_TEST(solution.degrees_of_freedom == plain.degrees_of_freedom);
    BOOST_TEST(test::apart(solution.redundancy, plain.redundancy) < same);
    BOOST_TEST(test::apart(solution.normalised_residual, plain.normalised_residual) < same);
  }
};

}  // namespace

BOOST_AUTO_TEST_SUITE(invariance)

BOOST_FIXTURE_TEST_CASE(unit_of_the_observations, Drawn) {
  test::Linear other = problem;
  other.design *= pounds_per_kilogram;
  const auto solution =
      test::solve(other, test::independent(pounds_per_kilogram * value, pounds_per_kilogram * u));
  same_trust(solution);
  BOOST_TEST(test::apart(solution.unknowns, plain.unknowns) < same);
  BOOST_TEST(test::apart(test::covariance_of_unknowns(solution), test::covariance_of_unknowns(plain)) < same);
}

BOOST_FIXTURE_TEST_CASE(unit_of_the_unknowns, Drawn) {
  Vector unit(7);  // new unknowns = old·unit
  unit << pounds_per_kilogram, 1000, 1e-3, 1 / 25.4, 1, 1e6, pounds_per_kilogram;
  test::Linear other = problem;
  other.design *= unit.cwiseInverse().asDiagonal();
  other.constraint *= unit.cwiseInverse().asDiagonal();
  other.scale = unit;
  const auto solution = test::solve(other, test::independent(value, u));
  same_trust(solution);
  BOOST_TEST(test::apart(solution.unknowns.cwiseQuotient(unit), plain.unknowns) < same);
  const Vector turned = unit.cwiseInverse();
  const Matrix covariance =
      turned.asDiagonal() * test::covariance_of_unknowns(solution) * turned.asDiagonal();
  BOOST_TEST(test::apart(covariance, test::covariance_of_unknowns(plain)) < same);
}

// Where nothing is free, the typical sizes only steer rounding.
BOOST_FIXTURE_TEST_CASE(typical_sizes, Drawn) {
  test::Linear other = problem;
  other.scale << 10, 0.1, 3, 1, 0.5, 20, 1;
  const auto solution = test::solve(other, test::independent(value, u));
  same_trust(solution);
  BOOST_TEST(test::apart(solution.unknowns, plain.unknowns) < same);
}

BOOST_FIXTURE_TEST_CASE(order_of_the_observations, Drawn) {
  const std::vector<Index> order{7, 3, 11, 0, 5, 1, 10, 2, 9, 4, 8, 6};
  test::Linear other = problem;
  Vector turned_value(12), turned_u(12);
  for (Index i = 0; i < 12; ++i) {
    const Index from = order[static_cast<std::size_t>(i)];
    other.design.row(i) = problem.design.row(from);
    turned_value[i] = value[from];
    turned_u[i] = u[from];
  }
  const auto solution = test::solve(other, test::independent(turned_value, turned_u));
  BOOST_TEST(test::apart(solution.unknowns, plain.unknowns) < same);
  BOOST_TEST(std::abs(solution.chi_square / plain.chi_square - 1) < same);
  for (Index i = 0; i < 12; ++i) {
    const Index from = order[static_cast<std::size_t>(i)];
    BOOST_TEST(std::abs(solution.residuals[i] - plain.residuals[from]) < same);
    BOOST_TEST(std::abs(solution.redundancy[i] - plain.redundancy[from]) < same);
    BOOST_TEST(std::abs(solution.normalised_residual[i] - plain.normalised_residual[from]) < same);
  }
}

// A constraint may be written in any unit, and replaced by combinations with the others.
BOOST_FIXTURE_TEST_CASE(way_a_constraint_is_written, Drawn) {
  Matrix turn(2, 2);
  turn << 1000, 0, 3, -1e-3;
  test::Linear other = problem;
  other.constraint = turn * problem.constraint;
  other.closes_to = turn * problem.closes_to;
  const auto solution = test::solve(other, test::independent(value, u));
  BOOST_TEST(test::apart(solution.unknowns, plain.unknowns) < 1e-9);  // the rows are nearly alike: 3e6 apart
  BOOST_TEST(std::abs(solution.chi_square / plain.chi_square - 1) < 1e-9);
}

// All uncertainties twice as large: same values, covariance and χ² by 4 and 1/4, same redundancy.
BOOST_FIXTURE_TEST_CASE(common_factor_of_the_uncertainties, Drawn) {
  const auto solution = test::solve(problem, test::independent(value, 2 * u));
  BOOST_TEST(test::apart(solution.unknowns, plain.unknowns) < same);
  BOOST_TEST(test::apart(test::covariance_of_unknowns(solution), 4 * test::covariance_of_unknowns(plain)) <
             same);
  BOOST_TEST(std::abs(4 * solution.chi_square / plain.chi_square - 1) < same);
  BOOST_TEST(test::apart(solution.redundancy, plain.redundancy) < same);
}

// An error of e in one observation alone moves its residual by r·e: what the redundancy number means.
BOOST_FIXTURE_TEST_CASE(redundancy_is_the_part_of_an_error_that_shows, Drawn) {
  for (Index i = 0; i < 12; ++i) {
    Vector off = value;
    off[i] += 5;
    const auto solution = test::solve(problem, test::independent(off, u));
    BOOST_TEST(std::abs((solution.residuals[i] - plain.residuals[i]) / 5 - plain.redundancy[i]) < same);
  }
}

BOOST_AUTO_TEST_SUITE_END()
