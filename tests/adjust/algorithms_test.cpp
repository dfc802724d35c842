// A second algorithm: elimination of the constraints against the whole system of optimality conditions, on
// random constrained problems with fixed seeds.
#include <boost/test/unit_test.hpp>
#include <cmath>

#include "support.hpp"

namespace {

using namespace steelyard;
using test::Index;
using test::Matrix;
using test::Vector;

struct Shape {
  Index observations, unknowns, constraints;
  Index seen;  // combinations of the unknowns that observations and constraints see together
};

constexpr double agreement = 1e-9;

struct Pair {
  test::Linear problem;
  Matrix gradients;  // columns: functions of the unknowns that observations and constraints determine
  Vector blind;      // one that they do not, where there is one
  adjust::Observed observed;
  adjust::Solution one, other;
  test::Linear within;  // the same problem in coordinates of that subspace, where nothing is free
  Matrix functions;     // `gradients` in those coordinates
};

/// Observations and constraints lie in one random subspace of `seen` dimensions.
Pair draw(const Shape& shape, bool correlations, std::mt19937_64& generator) {
  Pair pair;
  const Index m = shape.observations, n = shape.unknowns, p = shape.constraints;
  const Matrix subspace =
      shape.seen < n ? test::random_matrix(shape.seen, n, generator) : Matrix::Identity(n, n);
  test::Linear& problem = pair.problem;
  pair.within.design = test::random_matrix(m, shape.seen, generator);
  pair.within.constraint = test::random_matrix(p, shape.seen, generator);
  problem.design = pair.within.design * subspace;
  problem.constraint = pair.within.constraint * subspace;
  problem.closes_to = pair.within.closes_to = problem.constraint * test::random_vector(n, generator);
  problem.scale = (0.3 * test::random_vector(n, generator)).array().exp();
  const Vector value = test::random_vector(m, generator);
  const Vector u = (0.5 * test::random_vector(m, generator)).array().exp();
  if (correlations) {
    Matrix root = 0.1 * test::random_matrix(m, m, generator);
    root.diagonal() += u;
    pair.observed = test::correlated(value, root * root.transpose());
  } else {
    pair.observed = test::independent(value, u);
  }
  pair.functions = test::random_matrix(shape.seen, 3, generator);
  pair.gradients = subspace.transpose() * pair.functions;
  pair.blind = test::random_vector(n, generator);
  pair.one = test::solve(problem, pair.observed, adjust::Algorithm::null_space);
  pair.other = test::solve(problem, pair.observed, adjust::Algorithm::augmented);
  return pair;
}

void compare(const Pair& pair, const Shape& shape) {
  const adjust::Solution &one = pair.one, &other = pair.other;
  BOOST_TEST_REQUIRE(one.converged);
  BOOST_TEST_REQUIRE(other.converged);
  BOOST_TEST(one.rank == shape.seen - shape.constraints);
  BOOST_TEST(other.rank == one.rank);
  BOOST_TEST(one.degrees_of_freedom == shape.observations - one.rank);
  BOOST_TEST(test::apart(one.fitted, other.fitted) < agreement);
  BOOST_TEST(std::abs(one.chi_square - other.chi_square) < agreement * one.chi_square);
  BOOST_TEST(one.misclosure < 1e-13);
  BOOST_TEST(one.iterations == 2);  // one step, and one to see that nothing moves
  const Matrix &g = pair.gradients, first = one.covariance_root.transpose() * g,
               second = other.covariance_root.transpose() * g;
  BOOST_TEST(test::apart(g.transpose() * one.unknowns, g.transpose() * other.unknowns) < agreement);
  BOOST_TEST(test::apart(first.transpose() * first, second.transpose() * second) < agreement);
  for (Index i = 0; i < g.cols(); ++i) {
    BOOST_TEST(one.determinable(g.col(i)));
    BOOST_TEST(other.determinable(g.col(i)));
  }
  const bool all = shape.seen == shape.unknowns;
  BOOST_TEST(one.determinable(pair.blind) == all);
  BOOST_TEST(other.determinable(pair.blind) == all);
  BOOST_TEST(one.free_directions.cols() == shape.unknowns - shape.seen);
  BOOST_TEST(other.free_directions.cols() == shape.unknowns - shape.seen);
  BOOST_TEST((one.redundancy - other.redundancy).cwiseAbs().maxCoeff() < agreement);
  BOOST_TEST(test::apart(one.normalised_residual, other.normalised_residual) < agreement);
}

void compare_all(const std::vector<Shape>& shapes, bool correlations, unsigned seed) {
  std::mt19937_64 generator(seed);
  for (const Shape& shape : shapes)
    for (int turn = 0; turn < 5; ++turn)
      BOOST_TEST_CONTEXT(shape.observations << " observations, " << shape.unknowns << " unknowns, "
                                            << shape.constraints << " constraints, " << shape.seen
                                            << " seen, turn " << turn) {
        const Pair pair = draw(shape, correlations, generator);
        compare(pair, shape);
        if (!correlations)
          BOOST_TEST(std::abs(pair.one.redundancy.sum() - static_cast<double>(pair.one.degrees_of_freedom)) <
                     1e-11);
      }
}

const std::vector<Shape> full_rank{
    {4, 2, 0, 2}, {6, 5, 2, 5}, {12, 9, 3, 9}, {30, 20, 8, 20}, {45, 40, 15, 40}};
const std::vector<Shape> deficient{
    {6, 5, 1, 3}, {12, 9, 3, 7}, {30, 25, 8, 18}, {40, 45, 10, 30}, {20, 30, 0, 12}};

}  // namespace

BOOST_AUTO_TEST_SUITE(algorithms)

BOOST_AUTO_TEST_CASE(agree_at_full_rank) {
  compare_all(full_rank, false, 20480);
}

BOOST_AUTO_TEST_CASE(agree_where_the_rank_falls_short) {
  compare_all(deficient, false, 20481);
}

BOOST_AUTO_TEST_CASE(agree_on_correlated_observations) {
  compare_all(full_rank, true, 20482);
}

BOOST_AUTO_TEST_CASE(agree_on_correlated_observations_where_the_rank_falls_short) {
  compare_all(deficient, true, 20483);
}

// A problem that leaves directions free is one without them, seen from more unknowns.
BOOST_AUTO_TEST_CASE(agree_with_the_same_problem_in_fewer_unknowns) {
  std::mt19937_64 generator(20485);
  for (const Shape& shape : deficient) {
    const Pair pair = draw(shape, true, generator);
    const auto within = test::solve(pair.within, pair.observed);
    BOOST_TEST(within.free_directions.cols() == 0);
    BOOST_TEST(within.rank == pair.one.rank);
    BOOST_TEST(test::apart(within.residuals, pair.one.residuals) < agreement);
    BOOST_TEST(test::apart(within.normalised_residual, pair.one.normalised_residual) < agreement);
    BOOST_TEST(test::apart(pair.functions.transpose() * within.unknowns,
                           pair.gradients.transpose() * pair.one.unknowns) < agreement);
    for (Index i = 0; i < 3; ++i) {
      const double u = within.uncertainty(pair.functions.col(i));
      BOOST_TEST(std::abs(pair.one.uncertainty(pair.gradients.col(i)) / u - 1) < agreement);
    }
  }
}

// Normal equations with the constraints bordered, by Gauss–Jordan in long double: a third algorithm at full
// rank.
BOOST_AUTO_TEST_CASE(agree_with_bordered_normal_equations) {
  std::mt19937_64 generator(20484);
  for (const Shape& shape : full_rank) {
    const Pair pair = draw(shape, true, generator);
    const Index n = shape.unknowns, p = shape.constraints;
    const Matrix weight = test::inverse(*pair.observed.covariance), &design = pair.problem.design;
    Matrix bordered = Matrix::Zero(n + p, n + p);
    bordered.topLeftCorner(n, n) = design.transpose() * weight * design;
    bordered.topRightCorner(n, p) = pair.problem.constraint.transpose();
    bordered.bottomLeftCorner(p, n) = pair.problem.constraint;
    Vector right(n + p);
    right << design.transpose() * weight * pair.observed.value, pair.problem.closes_to;
    const Matrix solved = test::inverse(bordered);
    BOOST_TEST(test::apart(pair.one.unknowns, (solved * right).head(n)) < 1e-8);
    BOOST_TEST(test::apart(test::covariance_of_unknowns(pair.one), solved.topLeftCorner(n, n)) < 1e-8);
  }
}

BOOST_AUTO_TEST_SUITE_END()
