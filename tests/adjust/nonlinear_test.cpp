// Nonlinear observations and constraints whose answers can be derived by hand.
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <functional>
#include <limits>

#include "published.hpp"
#include "support.hpp"

namespace {

using namespace steelyard;
using test::Index;
using test::Matrix;
using test::Vector;

/// A model from a function that fills everything; NaN says out of bounds.
class Given final : public adjust::Model {
 public:
  using Fill = std::function<void(const Vector&, adjust::Linearised&)>;
  Given(Index observations, Index unknowns, Index constraints, Fill fill)
      : sizes_{observations, unknowns, constraints}, fill_(std::move(fill)) {}
  [[nodiscard]] Index observations() const override { return sizes_[0]; }
  [[nodiscard]] Index unknowns() const override { return sizes_[1]; }
  [[nodiscard]] Index constraints() const override { return sizes_[2]; }
  void linearise(const Vector& z, adjust::Linearised& out) const override { fill_(z, out); }
  void values(const Vector& z, Vector& fitted, Vector& misclosure) const override {
    adjust::Linearised all{Vector(sizes_[0]), Matrix::Zero(sizes_[0], sizes_[1]), Vector(sizes_[2]),
                           Matrix::Zero(sizes_[2], sizes_[1])};
    fill_(z, all);
    fitted = all.fitted;
    misclosure = all.misclosure;
  }

 private:
  Index sizes_[3];
  Fill fill_;
};

Vector vector(std::initializer_list<double> values) {
  return test::to_vector(values);
}

/// The two coordinates are observed.
void observe_itself(const Vector& z, adjust::Linearised& out) {
  out.fitted = z;
  out.design = Matrix::Identity(z.size(), z.size());
}

/// JCGM 100:2008 (GUM) H.2: voltage, current and phase give resistance, reactance and impedance,
/// R·I = V·cos φ, X·I = V·sin φ, Z·I = V.
void impedance(const Vector& z, adjust::Linearised& out) {
  const double v = z[0], i = z[1], phi = z[2], cosine = std::cos(phi), sine = std::sin(phi);
  out.misclosure << z[3] * i - v * cosine, z[4] * i - v * sine, z[5] * i - v;
  out.constraint << -cosine, z[3], v * sine, i, 0, 0,  //
      -sine, z[4], -v * cosine, 0, i, 0,               //
      -1, z[5], 0, 0, 0, i;
}

/// The five sets of readings of Table H.2, current in A, and their means and covariance by hand.
struct Circuit {
  test::Published data{"gum_h2_h3"};
  Matrix readings{5, 3};
  Vector mean{3};
  Matrix sample_covariance;  // of one set
  Vector start = vector({5, 0.02, 1, 100, 200, 250}), scale = vector({1, 0.01, 1, 100, 100, 100});

  Circuit() {
    readings.col(0) = test::to_vector(data.numbers("/H2/V"));
    readings.col(1) = test::to_vector(data.numbers("/H2/I_mA")) / 1000;
    readings.col(2) = test::to_vector(data.numbers("/H2/phi"));
    mean = readings.colwise().mean();
    const Matrix deviation = readings.rowwise() - mean.transpose();
    sample_covariance = deviation.transpose() * deviation / 4;
  }

  void check(const adjust::Solution& solution, double tolerance) const {
    const Index n = solution.unknowns.size();
    const auto y = data.numbers("/H2/computed_approach1/y"), u = data.numbers("/H2/computed_approach1/u"),
               r = data.numbers("/H2/computed_approach1/r");
    const auto of = [n](Index k) -> Vector { return Vector::Unit(n, 3 + k); };
    for (Index k = 0; k < 3; ++k) {
      const auto at = static_cast<std::size_t>(k);
      BOOST_TEST(std::abs(solution.unknowns[3 + k] / y[at] - 1) < tolerance);
      BOOST_TEST(std::abs(solution.uncertainty(of(k)) / u[at] - 1) < 1e-6);
    }
    const auto correlation = [&](Index a, Index b) {
      return solution.covariance(of(a), of(b)) / solution.uncertainty(of(a)) / solution.uncertainty(of(b));
    };
    BOOST_TEST(std::abs(correlation(0, 1) - r[0]) < 1e-9);
    BOOST_TEST(std::abs(correlation(0, 2) - r[1]) < 1e-9);
    BOOST_TEST(std::abs(correlation(1, 2) - r[2]) < 1e-9);
  }
};

}  // namespace

BOOST_AUTO_TEST_SUITE(nonlinear)

BOOST_FIXTURE_TEST_CASE(impedance_from_means, Circuit) {
  const Given model(3, 6, 3, [](const Vector& z, adjust::Linearised& out) {
    out.fitted = z.head(3);
    out.design.leftCols(3).setIdentity();
    impedance(z, out);
  });
  const auto solution = adjust::solve(model, test::correlated(mean, sample_covariance / 5), start, scale);
  BOOST_TEST_REQUIRE(solution.converged);
  check(solution, 1e-10);
  BOOST_TEST(solution.degrees_of_freedom == 0);
  BOOST_TEST(solution.redundancy.maxCoeff() < 1e-10);
  const auto printed = [&](const char* name) { return data.number(std::string("/H2/printed/") + name); };
  BOOST_TEST(std::abs(solution.unknowns[3] - printed("R")) < 0.5e-3);
  BOOST_TEST(std::abs(solution.unknowns[4] - printed("X")) < 0.5e-3);
  BOOST_TEST(std::abs(solution.unknowns[5] - printed("Z")) < 0.5e-3);
  BOOST_TEST(std::abs(solution.uncertainty(Vector::Unit(6, 3)) - printed("uR")) < 0.5e-3);
  // The print rounds on the way: 0.29558 and 0.23634 with all digits stand as 0.295 and 0.236.
  BOOST_TEST(std::abs(solution.uncertainty(Vector::Unit(6, 4)) - printed("uX")) < 1e-3);
  BOOST_TEST(std::abs(solution.uncertainty(Vector::Unit(6, 5)) - printed("uZ")) < 0.5e-3);
}

// All fifteen readings, each set with the sample covariance S: by hand the estimate is the mean with
// covariance S/5, and χ² = Σ dᵀS⁻¹d = tr(S⁻¹·4S) = 12, exactly its degrees of freedom.
BOOST_FIXTURE_TEST_CASE(impedance_from_all_readings, Circuit) {
  const Given model(15, 6, 3, [](const Vector& z, adjust::Linearised& out) {
    for (Index k = 0; k < 5; ++k) {
      out.fitted.segment(3 * k, 3) = z.head(3);
      out.design.block(3 * k, 0, 3, 3).setIdentity();
    }
    impedance(z, out);
  });
  Matrix covariance = Matrix::Zero(15, 15);
  Vector observed(15);
  for (Index k = 0; k < 5; ++k) {
    covariance.block(3 * k, 3 * k, 3, 3) = sample_covariance;
    observed.segment(3 * k, 3) = readings.row(k).transpose();
  }
  const auto solution = adjust::solve(model, test::correlated(observed, covariance), start, scale);
  BOOST_TEST_REQUIRE(solution.converged);
  check(solution, 1e-10);
  BOOST_TEST(solution.degrees_of_freedom == 12);
  BOOST_TEST(std::abs(solution.chi_square - 12) < 1e-8);
  for (Index i = 0; i < 15; ++i) BOOST_TEST(std::abs(solution.redundancy[i] - 0.8) < 1e-9);  // 1 − 1/5
}

// Three angles of a plane triangle, misclosure w = Σ − 180°: each takes −w·u²/Σu²; χ² = w²/Σu²; every |w|
// alike.
BOOST_AUTO_TEST_CASE(triangle_angles) {
  const Vector u = vector({1, 2, 2}), y = vector({50, 60, 73});  // w = 3, Σu² = 9
  const auto solution =
      test::solve({Matrix::Identity(3, 3), Matrix::Ones(1, 3), vector({180}), vector({100, 100, 100})},
                  test::independent(y, u));
  BOOST_TEST(test::apart(solution.unknowns, vector({50 - 3 / 9.0, 60 - 12 / 9.0, 73 - 12 / 9.0})) < 1e-14);
  BOOST_TEST(std::abs(solution.chi_square - 1) < 1e-12);
  BOOST_TEST(solution.degrees_of_freedom == 1);
  BOOST_TEST(test::apart(solution.redundancy, vector({1 / 9.0, 4 / 9.0, 4 / 9.0})) < 1e-14);
  BOOST_TEST(test::apart(solution.normalised_residual, vector({1, 1, 1})) < 1e-12);
  BOOST_TEST(std::abs(solution.uncertainty(vector({1, 0, 0})) - std::sqrt(1 - 1 / 9.0)) < 1e-14);
}

// The nearest point of a circle lies on the ray: r·p/|p|, χ² = ((|p| − r)/u)², and only the tangent stays
// uncertain.
BOOST_AUTO_TEST_CASE(point_on_a_circle) {
  const double radius = 10, u = 0.5;
  const Given model(2, 2, 1, [radius](const Vector& z, adjust::Linearised& out) {
    observe_itself(z, out);
    out.misclosure << z.squaredNorm() - radius * radius;
    out.constraint = 2 * z.transpose();
  });
  const auto observed = test::independent(vector({9, 12}), Vector::Constant(2, u));  // |p| = 15
  for (const auto algorithm : {adjust::Algorithm::null_space, adjust::Algorithm::augmented}) {
    adjust::Options options;
    options.algorithm = algorithm;
    const auto solution = adjust::solve(model, observed, vector({9, 12}), Vector::Constant(2, 10), options);
    BOOST_TEST_REQUIRE(solution.converged);
    BOOST_TEST(test::apart(solution.unknowns, vector({6, 8})) < 1e-10);
    BOOST_TEST(std::abs(solution.chi_square - 100) < 1e-7);
    BOOST_TEST(std::abs(solution.unknowns.norm() - radius) < 1e-13);
    BOOST_TEST(solution.misclosure < 1e-10);
    // The covariance is that of where the last step, shorter than 1e-10 of the unknowns' sizes, began.
    BOOST_TEST(solution.uncertainty(vector({0.6, 0.8})) < 1e-7);
    BOOST_TEST(std::abs(solution.uncertainty(vector({-0.8, 0.6})) - u) < 1e-9);
    BOOST_TEST(test::apart(solution.redundancy, vector({0.36, 0.64})) < 1e-9);
  }
}

// The point of y = x² nearest to (0, k), k > ½: x² = k − ½, χ² = x² + ¼. For k near ½ the residual curves the
// problem so much that Gauss–Newton alone gains a factor of 0.7 a step: this is the way of a gross blunder.
BOOST_AUTO_TEST_CASE(point_on_a_parabola_with_a_large_residual) {
  const Given model(2, 2, 1, [](const Vector& z, adjust::Linearised& out) {
    observe_itself(z, out);
    out.misclosure << z[1] - z[0] * z[0];
    out.constraint << -2 * z[0], 1;
  });
  for (const double k : {0.6, 0.51, 2.0, 30.0}) {
    const auto solution = adjust::solve(model, test::independent(vector({0, k}), Vector::Ones(2)),
                                        vector({1, 1}), Vector::Ones(2));
    BOOST_TEST_CONTEXT("k = " << k) {
      BOOST_TEST_REQUIRE(solution.converged);
      BOOST_TEST(std::abs(std::abs(solution.unknowns[0]) - std::sqrt(k - 0.5)) < 1e-8);
      BOOST_TEST(std::abs(solution.unknowns[1] - (k - 0.5)) < 1e-8);
      BOOST_TEST(std::abs(solution.chi_square - (k - 0.25)) < 1e-9);
      BOOST_TEST(solution.iterations <= 40);
      // χ² has no slope along the parabola: the residual stands square on its tangent (1, 2x).
      const Vector tangent = vector({1, 2 * solution.unknowns[0]});
      BOOST_TEST(std::abs(solution.residuals.dot(tangent)) < 1e-9);
    }
  }
}

// f = (z + 1, λz² + z − 1) observed as (0, 0). By hand: χ²' = 2z(2λ²z² + 3λz + 2 − 2λ), whose bracket has no
// real root for λ < 7/16, so z = 0 is the only minimum: v = (−1, 1), χ² = 2; the design (1, 1) gives u = 1/√2
// and redundancy ½. Near 0 Gauss–Newton multiplies z by λ each step: at −0.9 it would need 200 steps, at −3
// and −20 it leads away. Only steps that know the curvature arrive within the hundred allowed.
BOOST_AUTO_TEST_CASE(large_residual_needs_the_curvature) {
  for (const double lambda : {0.4, -0.9, -3.0, -20.0}) {
    const Given model(2, 1, 0, [lambda](const Vector& z, adjust::Linearised& out) {
      out.fitted << z[0] + 1, lambda * z[0] * z[0] + z[0] - 1;
      out.design << 1, 2 * lambda * z[0] + 1;
    });
    const auto solution =
        adjust::solve(model, test::independent(Vector::Zero(2), Vector::Ones(2)), vector({1}), vector({1}));
    BOOST_TEST_CONTEXT("lambda = " << lambda) {
      BOOST_TEST_REQUIRE(solution.converged);
      const double z = solution.unknowns[0];
      BOOST_TEST(std::abs(z) < 1e-9);
      const double slope = 2 * (z + 1) + 2 * (lambda * z * z + z - 1) * (2 * lambda * z + 1);  // of χ²
      BOOST_TEST(std::abs(slope) < 1e-9);
      BOOST_TEST(std::abs(solution.chi_square - 2) < 1e-12);
      BOOST_TEST(test::apart(solution.residuals, vector({-1, 1})) < 1e-9);
      BOOST_TEST(std::abs(solution.uncertainty(vector({1})) - std::sqrt(0.5)) < 1e-9);
      BOOST_TEST(test::apart(solution.redundancy, vector({0.5, 0.5})) < 1e-9);
    }
  }
}

// y = ln z ± u gives z = exp y with u·z. The first step from z = 10 leads below 0, where there is no
// logarithm.
BOOST_AUTO_TEST_CASE(step_out_of_bounds_is_shortened) {
  const Given model(1, 1, 0, [](const Vector& z, adjust::Linearised& out) {
    const double x = z[0];
    out.fitted << (x > 0 ? std::log(x) : std::numeric_limits<double>::quiet_NaN());
    out.design << 1 / x;
  });
  const auto solution =
      adjust::solve(model, test::independent(vector({0.5}), vector({0.01})), vector({10}), vector({1}));
  BOOST_TEST_REQUIRE(solution.converged);
  BOOST_TEST(std::abs(solution.unknowns[0] / std::exp(0.5) - 1) < 1e-9);
  BOOST_TEST(std::abs(solution.uncertainty(vector({1})) / (0.01 * std::exp(0.5)) - 1) < 1e-8);
}

// z² = −1 has no solution: that is said, not thrown, and no number is made of it.
BOOST_AUTO_TEST_CASE(contradiction_does_not_converge) {
  const Given model(1, 1, 1, [](const Vector& z, adjust::Linearised& out) {
    observe_itself(z, out);
    out.misclosure << z[0] * z[0] + 1;
    out.constraint << 2 * z[0];
  });
  const auto solution =
      adjust::solve(model, test::independent(vector({3}), vector({1})), vector({3}), vector({1}));
  BOOST_TEST(!solution.converged);
}

// Linear problems take one step and one more to see that nothing moves.
BOOST_AUTO_TEST_CASE(linear_takes_two_steps) {
  const auto solution = test::solve({Matrix::Ones(3, 1), Matrix(0, 1), Vector(0), Vector()},
                                    test::independent(vector({1, 2, 6}), Vector::Ones(3)));
  BOOST_TEST(solution.iterations == 2);
  BOOST_TEST(std::abs(solution.unknowns[0] - 3) < 1e-14);  // the mean
  BOOST_TEST(std::abs(solution.chi_square - 14) < 1e-13);  // 4 + 1 + 9
}

BOOST_AUTO_TEST_SUITE_END()
