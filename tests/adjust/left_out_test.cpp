// Observations set aside and left out, and a linear problem examined without being solved: each against the
// same problem written without those rows, or solved.
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <stdexcept>

#include "support.hpp"

namespace {

using namespace steelyard;
using test::Index;
using test::Matrix;
using test::Vector;

constexpr Index rows = 12, unknowns = 6, constraints = 2;

/// A random linear problem with constraints; with `loose`, row 0 alone sees the last unknown.
struct Random {
  explicit Random(unsigned seed, bool loose = false) : generator(seed) {
    if (loose) {
      problem.design.col(unknowns - 1).setZero();
      problem.constraint.col(unknowns - 1).setZero();
      problem.design(0, unknowns - 1) = 1;
    }
  }
  [[nodiscard]] test::Linear without(Index row) const {
    test::Linear out = problem;
    out.design.resize(rows - 1, unknowns);
    out.design << problem.design.topRows(row), problem.design.bottomRows(rows - 1 - row);
    return out;
  }
  [[nodiscard]] adjust::Observed observed_without(Index row) const {
    const auto cut = [row](const Vector& all) {
      Vector out(rows - 1);
      out << all.head(row), all.tail(rows - 1 - row);
      return out;
    };
    return test::independent(cut(observed.value), cut(observed.u));
  }

  std::mt19937_64 generator;
  test::Linear problem{test::random_matrix(rows, unknowns, generator),
                       test::random_matrix(constraints, unknowns, generator),
                       test::random_vector(constraints, generator), Vector::Constant(unknowns, 2)};
  adjust::Observed observed = test::independent(
      test::random_vector(rows, generator), (test::random_vector(rows, generator).array() + 1.5).matrix());
  Vector gradient = test::random_vector(unknowns, generator);
};

void alike(double one, double other) {
  BOOST_TEST(std::abs(one - other) <= 1e-10 * std::max(1.0, std::abs(other)), one << " is not " << other);
}

}  // namespace

BOOST_AUTO_TEST_SUITE(left_out)

BOOST_AUTO_TEST_CASE(leaving_out_is_solving_again_without_the_row) {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    const Random random(seed);
    const auto whole = test::solve(random.problem, random.observed);
    for (Index row = 0; row < rows; ++row) {
      const auto again = test::solve(random.without(row), random.observed_without(row));
      const auto found = adjust::leave_out(whole, random.observed, row, random.gradient);
      BOOST_TEST_REQUIRE(found.has_value());
      alike(found->change, random.gradient.dot(again.unknowns - whole.unknowns));
      alike(found->u, again.uncertainty(random.gradient));
    }
  }
}

BOOST_AUTO_TEST_CASE(nothing_where_the_row_is_all_that_tells) {
  const Random random(5, true);
  const auto whole = test::solve(random.problem, random.observed);
  const Vector last = Vector::Unit(unknowns, unknowns - 1);
  BOOST_TEST(whole.determinable(last));
  BOOST_TEST(!adjust::leave_out(whole, random.observed, 0, last));
  const auto again = test::solve(random.without(0), random.observed_without(0));
  BOOST_TEST(!again.determinable(last));
}

BOOST_AUTO_TEST_CASE(set_aside_is_a_problem_without_the_row) {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    const Random random(seed);
    for (const Index row : {Index{0}, Index{5}, rows - 1}) {
      adjust::Observed aside = random.observed;
      aside.set_aside = {row};
      const auto found = test::solve(random.problem, aside);
      const auto again = test::solve(random.without(row), random.observed_without(row));
      BOOST_TEST_REQUIRE((found.converged && again.converged));
      BOOST_TEST(test::apart(found.unknowns, again.unknowns) < 1e-12);
      alike(found.chi_square, again.chi_square);
      BOOST_TEST(found.rank == again.rank);
      BOOST_TEST(found.degrees_of_freedom == again.degrees_of_freedom);
      alike(found.uncertainty(random.gradient), again.uncertainty(random.gradient));
      BOOST_TEST(found.redundancy[row] == 0);
      for (Index i = 0, j = 0; i < rows; ++i) {
        if (i == row) continue;
        alike(found.redundancy[i], again.redundancy[j]);
        alike(found.normalised_residual[i], again.normalised_residual[j]);
        alike(found.residuals[i], again.residuals[j]);
        ++j;
      }
      // The row's own residual is what the others say of it, and so is its part of fitted_root.
      alike(found.residuals[row],
           random.observed.value[row] - random.problem.design.row(row).dot(again.unknowns));
      alike(found.fitted_root.row(row).norm() * random.observed.u[row],
           again.uncertainty(random.problem.design.row(row).transpose()));
    }
  }
}

BOOST_AUTO_TEST_CASE(examining_a_linear_problem_is_solving_it) {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    Random random(seed);
    if (seed % 2 == 0) random.observed.set_aside = {3, 7};
    const auto solved = test::solve(random.problem, random.observed);
    const adjust::LinearModel model(random.problem.design, random.problem.constraint,
                                    random.problem.closes_to);
    const Vector far = 100 * test::random_vector(unknowns, random.generator);
    const auto seen = adjust::examine(model, random.observed, far, random.problem.scale);
    BOOST_TEST_REQUIRE((seen.converged && solved.converged));
    BOOST_TEST(test::apart(seen.unknowns, solved.unknowns) < 1e-11);
    BOOST_TEST(test::apart(seen.residuals, solved.residuals) < 1e-11);
    alike(seen.chi_square, solved.chi_square);
    BOOST_TEST(seen.rank == solved.rank);
    BOOST_TEST(seen.degrees_of_freedom == solved.degrees_of_freedom);
    BOOST_TEST(test::apart(seen.redundancy, solved.redundancy) < 1e-12);
    BOOST_TEST(test::apart(seen.normalised_residual, solved.normalised_residual) < 1e-10);
    BOOST_TEST(test::apart(test::covariance_of_unknowns(seen), test::covariance_of_unknowns(solved)) < 1e-12);
  }
}

BOOST_AUTO_TEST_CASE(what_cannot_be_set_aside_or_examined) {
  Random random(1);
  random.observed.set_aside = {rows};
  BOOST_CHECK_THROW(test::solve(random.problem, random.observed), std::invalid_argument);
  adjust::Observed correlated = test::correlated(random.observed.value, Matrix::Identity(rows, rows));
  const adjust::LinearModel model(random.problem.design, random.problem.constraint, random.problem.closes_to);
  BOOST_CHECK_THROW(adjust::examine(model, correlated, Vector::Zero(unknowns), random.problem.scale),
                    std::invalid_argument);
  correlated.set_aside = {0};
  BOOST_CHECK_THROW(test::solve(random.problem, correlated), std::invalid_argument);
}

BOOST_AUTO_TEST_SUITE_END()
