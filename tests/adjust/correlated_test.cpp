// Correlated observations against formulas with P = Q⁻¹ written out.
#include <boost/test/unit_test.hpp>
#include <cmath>

#include "support.hpp"

namespace {

using namespace steelyard;
using test::Index;
using test::Matrix;
using test::Vector;

/// Five observations of two unknowns; Q = L·Lᵀ with L chosen by hand.
struct Correlated {
  Matrix root{5, 5}, design{5, 2};
  Vector value = test::to_vector({2.1, 2.9, 4.2, 4.8, 6.3});
  Matrix covariance;

  Correlated() {
    root << 2, 0, 0, 0, 0,  //
        0.5, 1, 0, 0, 0,    //
        0, 0.25, 2, 0, 0,   //
        0, 0, 0.5, 1.5, 0,  //
        0.25, 0, 0, 0.5, 3;
    design << 1, 1, 1, 2, 1, 3, 1, 4, 1, 5;
    covariance = root * root.transpose();
  }
  [[nodiscard]] test::Linear problem() const { return {design, Matrix(0, 2), Vector(0), Vector()}; }
};

}  // namespace

BOOST_AUTO_TEST_SUITE(correlated)

// Whitened by hand, L⁻¹·y = L⁻¹·A·z with unit variances, it is the same problem.
BOOST_FIXTURE_TEST_CASE(same_as_whitened_by_hand, Correlated) {
  const auto one = test::solve(problem(), test::correlated(value, covariance));
  const Matrix whiten = test::inverse(root);
  const auto other = test::solve({whiten * design, Matrix(0, 2), Vector(0), Vector()},
                                 test::independent(whiten * value, Vector::Ones(5)));
  BOOST_TEST(test::apart(one.unknowns, other.unknowns) < 1e-13);
  BOOST_TEST(test::apart(test::covariance_of_unknowns(one), test::covariance_of_unknowns(other)) < 1e-13);
  BOOST_TEST(std::abs(one.chi_square / other.chi_square - 1) < 1e-12);
  BOOST_TEST(one.degrees_of_freedom == other.degrees_of_freedom);
}

// A second algorithm: z = N·AᵀP·y, N = (AᵀPA)⁻¹, Q_vv = Q − A·N·Aᵀ.
BOOST_FIXTURE_TEST_CASE(same_as_normal_equations, Correlated) {
  const Matrix weight = test::inverse(covariance);
  const Matrix normal = test::inverse(design.transpose() * weight * design);
  const Vector z = normal * design.transpose() * weight * value;
  const Vector v = value - design * z;
  const Matrix of_v = covariance - design * normal * design.transpose();
  const Vector pv = weight * v;
  const Matrix pqp = weight * of_v * weight;
  for (const auto algorithm : {adjust::Algorithm::null_space, adjust::Algorithm::augmented}) {
    const auto solution = test::solve(problem(), test::correlated(value, covariance), algorithm);
    BOOST_TEST(test::apart(solution.unknowns, z) < 1e-12);
    BOOST_TEST(test::apart(solution.residuals, v) < 1e-11);
    BOOST_TEST(test::apart(test::covariance_of_unknowns(solution), normal) < 1e-12);
    BOOST_TEST(std::abs(solution.chi_square / v.dot(pv) - 1) < 1e-11);
    for (Index i = 0; i < 5; ++i) {
      BOOST_TEST(std::abs(solution.normalised_residual[i] - pv[i] / std::sqrt(pqp(i, i))) < 1e-10);
      BOOST_TEST(std::abs(solution.redundancy[i] - (of_v * weight)(i, i)) < 1e-12);
    }
    BOOST_TEST(std::abs(solution.redundancy.sum() - 3) < 1e-12);  // the degrees of freedom
  }
}

BOOST_FIXTURE_TEST_CASE(diagonal_covariance_is_no_correlation, Correlated) {
  const Vector u = test::to_vector({1, 0.5, 2, 1.5, 1});
  const auto one = test::solve(problem(), test::independent(value, u));
  const auto other = test::solve(problem(), test::correlated(value, u.cwiseAbs2().asDiagonal()));
  BOOST_TEST(test::apart(one.unknowns, other.unknowns) < 1e-14);
  BOOST_TEST(test::apart(one.redundancy, other.redundancy) < 1e-13);
  BOOST_TEST(test::apart(one.normalised_residual, other.normalised_residual) < 1e-12);
  BOOST_TEST(std::abs(one.chi_square / other.chi_square - 1) < 1e-13);
}

// Two readings of one thing that share an error of variance c: the mean, with (1 + c)/… by hand u² = ½ + c.
BOOST_AUTO_TEST_CASE(shared_error_does_not_average_out) {
  const double shared = 4;
  Matrix covariance(2, 2);
  covariance << 1 + shared, shared, shared, 1 + shared;
  const auto solution = test::solve({Matrix::Ones(2, 1), Matrix(0, 1), Vector(0), Vector()},
                                    test::correlated(test::to_vector({10, 12}), covariance));
  BOOST_TEST(std::abs(solution.unknowns[0] - 11) < 1e-13);
  BOOST_TEST(std::abs(solution.uncertainty(Vector::Ones(1)) - std::sqrt(0.5 + shared)) < 1e-13);
  // Their difference is free of it: χ² = 2²/2.
  BOOST_TEST(std::abs(solution.chi_square - 2) < 1e-12);
}

BOOST_AUTO_TEST_SUITE_END()
