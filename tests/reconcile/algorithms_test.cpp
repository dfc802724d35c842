// A second algorithm: on random rigs the null-space solution and the whole system of optimality conditions
// agree.
#include <boost/test/unit_test.hpp>
#include <cmath>

#include "reconcile/rig_model.hpp"
#include "sheets.hpp"

namespace {

using namespace steelyard;

struct Problem {
  explicit Problem(const rig::Session& session)
      : layout(session,
               session.rig.tow_vehicle.overhang ? reconcile::Lever::overhang : reconcile::Lever::moment, 0),
        rows(reconcile::observe(layout, true)),
        model(layout, rows),
        observed{adjust::Vector(size()), adjust::Vector(size()), std::nullopt} {
    for (adjust::Index i = 0; i < size(); ++i) {
      observed.value[i] = rows[static_cast<std::size_t>(i)].value;
      observed.u[i] = rows[static_cast<std::size_t>(i)].u;
    }
  }
  adjust::Index size() const { return static_cast<adjust::Index>(rows.size()); }
  adjust::Solution solve(adjust::Algorithm algorithm) const {
    adjust::Options options;
    options.algorithm = algorithm;
    return adjust::solve(model, observed, reconcile::first_guess(layout), layout.scale(), options);
  }

  reconcile::Layout layout;
  std::vector<reconcile::Observation> rows;
  reconcile::RigModel model;
  adjust::Observed observed;
};

double apart(double a, double b) {
  return std::abs(a - b) / std::max({1.0, std::abs(a), std::abs(b)});
}

}  // namespace

BOOST_AUTO_TEST_SUITE(algorithms)

BOOST_AUTO_TEST_CASE(null_space_and_augmented_system_agree_on_random_rigs) {
  int compared = 0, unknowns = 0;
  for (const rig::Session& session : test::drawn("rigs")) {
    const Problem problem(session);
    const auto one = problem.solve(adjust::Algorithm::null_space),
               other = problem.solve(adjust::Algorithm::augmented);
    // Where curvature makes Gauss–Newton slow, only the first takes Newton's steps.
    if (!one.converged || !other.converged) continue;
    ++compared;
    BOOST_TEST_CONTEXT("session " << session.id) {
      BOOST_TEST(one.rank == other.rank);
      BOOST_TEST(one.misclosure < 1e-9);
      BOOST_TEST(std::abs(one.chi_square - other.chi_square) <= 1e-9 * std::max(1.0, one.chi_square));
      for (adjust::Index i = 0; i < problem.size(); ++i) {
        BOOST_TEST(apart(one.fitted[i], other.fitted[i]) < 1e-9);
        BOOST_TEST(std::abs(one.redundancy[i] - other.redundancy[i]) < 1e-9);
      }
      const double largest =
          (one.scale.cwiseInverse().asDiagonal() * one.covariance_root).rowwise().squaredNorm().maxCoeff();
      for (adjust::Index i = 0; i < problem.layout.count; ++i) {
        const adjust::Vector direction = adjust::Vector::Unit(problem.layout.count, i);
        BOOST_TEST(one.determinable(direction) == other.determinable(direction));
        if (!one.determinable(direction)) continue;
        ++unknowns;
        BOOST_TEST(apart(one.unknowns[i] / one.scale[i], other.unknowns[i] / one.scale[i]) < 1e-9);
        // Variances of scaled unknowns, against the largest: the inverse of the whole system is no better
        // than that.
        const double u = one.uncertainty(direction) / one.scale[i],
                     v = other.uncertainty(direction) / one.scale[i];
        BOOST_TEST(std::abs(u * u - v * v) <= 1e-9 * largest);
      }
    }
  }
  BOOST_TEST(compared >= 100);
  BOOST_TEST(unknowns >= 2500);
}

BOOST_AUTO_TEST_CASE(derivatives_are_those_of_the_values) {
  // Central differences against the derivatives as written, at the first guess and off it.
  for (const rig::Session& session : test::sample_fleet()) {
    const Problem problem(session);
    const adjust::Index m = problem.model.observations(), n = problem.model.unknowns(),
                        p = problem.model.constraints();
    adjust::Vector z = reconcile::first_guess(problem.layout);
    const adjust::Vector scale = problem.layout.scale();
    for (adjust::Index i = 0; i < n; ++i) z[i] += scale[i] * 0.01 * std::sin(static_cast<double>(i + 1));
    adjust::Linearised at{adjust::Vector(m), adjust::Matrix::Zero(m, n), adjust::Vector(p),
                          adjust::Matrix::Zero(p, n)};
    problem.model.linearise(z, at);
    adjust::Vector up_f(m), up_c(p), down_f(m), down_c(p);
    for (adjust::Index i = 0; i < n; ++i) {
      const double step = 1e-5 * scale[i];
      adjust::Vector up = z, down = z;
      up[i] += step;
      down[i] -= step;
      problem.model.values(up, up_f, up_c);
      problem.model.values(down, down_f, down_c);
      const adjust::Vector f = (up_f - down_f) / (2 * step) - at.design.col(i);
      const adjust::Vector c = (up_c - down_c) / (2 * step) - at.constraint.col(i);
      BOOST_TEST(f.lpNorm<Eigen::Infinity>() * scale[i] < 1e-4);
      // Moments run to 10⁷ kg·mm, so their differences carry rounding of that size.
      if (p > 0) BOOST_TEST(c.lpNorm<Eigen::Infinity>() * scale[i] < 2e-2);
    }
  }
}

BOOST_AUTO_TEST_SUITE_END()
