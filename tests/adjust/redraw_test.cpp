// Other observations of one problem: Redraw against solving each from the start.
#include "adjust/redraw.hpp"

#include <boost/test/unit_test.hpp>
#include <cmath>
#include <stdexcept>

#include "adjust/sampling.hpp"
#include "support.hpp"

namespace {

using namespace steelyard;
using test::Index;
using test::Matrix;
using test::Vector;

/// A triangle on the ground: three sides and three angles observed (mm, radians), the unknowns are all six,
/// and c² = a² + b² − 2ab·cos γ round the triangle holds them together; curved enough to tell a linearisation
/// apart.
class Triangle final : public adjust::Model {
 public:
  [[nodiscard]] Index observations() const override { return 6; }
  [[nodiscard]] Index unknowns() const override { return 6; }
  [[nodiscard]] Index constraints() const override { return 3; }
  void linearise(const Vector& z, adjust::Linearised& out) const override {
    out.design.setIdentity();
    for (Index i = 0; i < 3; ++i) {
      const Index j = (i + 1) % 3, k = (i + 2) % 3;
      const double cosine = std::cos(z[3 + i]), sine = std::sin(z[3 + i]);
      out.constraint(i, i) = 2 * z[i];
      out.constraint(i, j) = -2 * z[j] + 2 * z[k] * cosine;
      out.constraint(i, k) = -2 * z[k] + 2 * z[j] * cosine;
      out.constraint(i, 3 + i) = -2 * z[j] * z[k] * sine;
    }
    values(z, out.fitted, out.misclosure);
  }
  void values(const Vector& z, Vector& fitted, Vector& misclosure) const override {
    fitted = z;
    for (Index i = 0; i < 3; ++i) {
      const double b = z[(i + 1) % 3], c = z[(i + 2) % 3];
      misclosure[i] = z[i] * z[i] - b * b - c * c + 2 * b * c * std::cos(z[3 + i]);
    }
  }
};

/// 3, 4, 5 with its right angle, and uncertainties of a few per cent.
struct Observed345 {
  Observed345() {
    const double alpha = std::atan2(3, 4);
    observed = test::independent(test::to_vector({3, 4, 5, alpha, std::acos(0.0) - alpha, std::acos(0.0)}),
                                 test::to_vector({0.1, 0.1, 0.15, 0.05, 0.04, 0.05}));
    solution = adjust::solve(model, observed, observed.value, scale);
  }
  Triangle model;
  adjust::Observed observed;
  Vector scale = Vector::Ones(6);
  adjust::Solution solution;
};

}  // namespace

BOOST_AUTO_TEST_SUITE(redraw)

BOOST_FIXTURE_TEST_CASE(every_draw_is_solved_as_from_the_start, Observed345) {
  BOOST_TEST_REQUIRE(solution.converged);
  adjust::Redraw again(model, observed, solution);
  adjust::Deviates deviates(11);
  double curvature = 0;
  for (int i = 0; i < 500; ++i) {
    adjust::Observed drawn = observed;
    for (Index k = 0; k < 6; ++k) drawn.value[k] += drawn.u[k] * deviates.normal();
    const auto fast = again.solve(drawn.value);
    const auto slow = adjust::solve(model, drawn, drawn.value, scale);
    BOOST_TEST_REQUIRE((fast.has_value() && slow.converged));
    BOOST_TEST(test::apart(*fast, slow.unknowns) < 1e-8);
    // The first-order answer, covariance·P·(drawn − observed), is another.
    const Vector change = (drawn.value - observed.value).cwiseQuotient(observed.u.cwiseAbs2());
    const Vector linear =
        solution.unknowns + solution.covariance_root * (solution.covariance_root.transpose() * change);
    curvature = std::max(curvature, test::apart(linear, slow.unknowns));
  }
  BOOST_TEST(curvature > 1e-3);
  BOOST_TEST(again.taken_over() < 25);
}

BOOST_FIXTURE_TEST_CASE(far_off_solve_takes_over, Observed345) {
  adjust::Redraw again(model, observed, solution);
  adjust::Observed far = observed;
  far.value = test::to_vector({3, 7, 5, 0.4, 1.9, 0.9});
  const auto fast = again.solve(far.value);
  const auto slow = adjust::solve(model, far, solution.unknowns, scale);
  BOOST_TEST(fast.has_value() == slow.converged);
  BOOST_TEST_REQUIRE(fast.has_value());
  BOOST_TEST(test::apart(*fast, slow.unknowns) < 1e-8);
}

BOOST_AUTO_TEST_CASE(linear_problems_with_free_directions_keep_to_what_is_determined) {
  std::mt19937_64 generator(3);
  Matrix design = test::random_matrix(8, 5, generator);
  design.col(4) = design.col(3);  // only their sum is determined
  Matrix constraint = test::random_matrix(1, 5, generator);
  constraint(0, 4) = constraint(0, 3);
  const adjust::LinearModel model(design, constraint, Vector::Ones(1));
  auto observed = test::independent(test::random_vector(8, generator), Vector::Constant(8, 0.5));
  const Vector scale = Vector::Ones(5);
  const auto near = adjust::solve(model, observed, Vector::Zero(5), scale);
  BOOST_TEST(near.free_directions.cols() == 1);
  adjust::Redraw again(model, observed, near);
  observed.value = test::random_vector(8, generator);
  const auto fast = again.solve(observed.value);
  const auto slow = adjust::solve(model, observed, Vector::Zero(5), scale);
  BOOST_TEST_REQUIRE(fast.has_value());
  BOOST_TEST(test::apart(design * *fast, slow.fitted) < 1e-10);
  BOOST_TEST(again.taken_over() == 0);
  // Along the free direction nothing moves.
  BOOST_TEST(std::abs(near.free_directions.col(0).dot(*fast - near.unknowns)) < 1e-12);
}

BOOST_FIXTURE_TEST_CASE(what_is_refused, Observed345) {
  adjust::Observed aside = observed;
  aside.set_aside = {0};
  BOOST_CHECK_THROW(adjust::Redraw(model, aside, solution), std::invalid_argument);
  BOOST_CHECK_THROW(adjust::Redraw(model, observed, adjust::Solution{}), std::invalid_argument);
}

BOOST_AUTO_TEST_SUITE_END()
