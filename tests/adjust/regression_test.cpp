// Straight lines, polynomials and worse, against certified values.
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <string>

#include "published.hpp"
#include "support.hpp"

namespace {

using namespace steelyard;
using test::Index;
using test::Matrix;
using test::Vector;

Matrix powers(const Vector& x, Index lowest, Index highest) {
  Matrix out(x.size(), highest - lowest + 1);
  for (Index k = lowest; k <= highest; ++k) out.col(k - lowest) = x.array().pow(static_cast<double>(k));
  return out;
}

/// NIST Statistical Reference Datasets, linear regression: certified estimates, their standard deviations and
/// the residual standard deviation, which is the u of every observation here.
void check_certified(const std::string& name, Index lowest_power, Index highest_power,
                     adjust::Algorithm algorithm, double tolerance) {
  const test::Published data("nist_strd_linear");
  const std::string place = "/" + name;
  const Matrix table = test::to_matrix(data.table(place + "/X"));
  const Vector y = test::to_vector(data.numbers(place + "/y"));
  const Matrix design = highest_power ? powers(table.col(0), lowest_power, highest_power) : table;
  const Vector scale = design.cwiseAbs().colwise().maxCoeff().cwiseInverse().transpose();
  const double rsd = data.number(place + "/certified_rsd");
  const auto solution = test::solve({design, Matrix(0, design.cols()), Vector(0), scale},
                                    test::independent(y, Vector::Constant(y.size(), rsd)), algorithm);
  BOOST_TEST_REQUIRE(solution.converged);
  BOOST_TEST(solution.rank == design.cols());
  const auto estimates = data.numbers(place + "/certified_b"),
             deviations = data.numbers(place + "/certified_sd");
  BOOST_TEST_REQUIRE(static_cast<Index>(estimates.size()) == design.cols());
  for (Index i = 0; i < design.cols(); ++i) BOOST_TEST_CONTEXT(name << ", coefficient " << i) {
      const auto at = static_cast<std::size_t>(i);
      const double u = solution.uncertainty(Vector::Unit(design.cols(), i));
      BOOST_TEST(std::abs(solution.unknowns[i] / estimates[at] - 1) < tolerance);
      BOOST_TEST(std::abs(u / deviations[at] - 1) < tolerance);
    }
  // The residual standard deviation makes χ² its number of degrees of freedom.
  const auto freedom = static_cast<double>(y.size() - design.cols());
  BOOST_TEST(std::abs(solution.chi_square / freedom - 1) < tolerance);
  BOOST_TEST(static_cast<double>(solution.degrees_of_freedom) == freedom);
}

/// JCGM 100:2008 (GUM) H.3: corrections b of a thermometer against temperature t, b = y1 + y2·(t − 20).
struct Thermometer {
  test::Published data{"gum_h2_h3"};
  Vector t = test::to_vector(data.numbers("/H3/t")), b = test::to_vector(data.numbers("/H3/b"));
  double s = data.number("/H3/computed/s");

  [[nodiscard]] Matrix design() const { return powers(t.array() - data.number("/H3/t0"), 0, 1); }
  [[nodiscard]] adjust::Solution solve(double u) const {
    return test::solve({design(), Matrix(0, 2), Vector(0), Vector::Constant(2, 0.1)},
                       test::independent(b, Vector::Constant(b.size(), u)));
  }
  [[nodiscard]] double computed(const std::string& name) const { return data.number("/H3/computed/" + name); }
  [[nodiscard]] double printed(const std::string& name) const { return data.number("/H3/printed/" + name); }
};

}  // namespace

BOOST_AUTO_TEST_SUITE(regression)

BOOST_AUTO_TEST_CASE(nist_norris) {
  check_certified("Norris", 0, 1, adjust::Algorithm::null_space, 1e-12);
}

BOOST_AUTO_TEST_CASE(nist_pontius) {
  check_certified("Pontius", 0, 2, adjust::Algorithm::null_space, 1e-11);
}

BOOST_AUTO_TEST_CASE(nist_no_intercept) {
  check_certified("NoInt1", 1, 1, adjust::Algorithm::null_space, 1e-12);
}

// Columns nearly alike on purpose: condition number 4e4 after scaling, 5e9 before.
BOOST_AUTO_TEST_CASE(nist_longley) {
  check_certified("Longley", 0, 0, adjust::Algorithm::null_space, 1e-9);
}

BOOST_AUTO_TEST_CASE(nist_by_the_augmented_system) {
  check_certified("Norris", 0, 1, adjust::Algorithm::augmented, 1e-9);
  check_certified("NoInt1", 1, 1, adjust::Algorithm::augmented, 1e-9);
}

BOOST_FIXTURE_TEST_CASE(thermometer_line_as_printed, Thermometer) {
  const auto solution = solve(s);
  const Vector first = Vector::Unit(2, 0), second = Vector::Unit(2, 1);
  const Vector at_30 = (Vector(2) << 1, 10).finished();
  const double correlation =
      solution.covariance(first, second) / solution.uncertainty(first) / solution.uncertainty(second);
  // Within half of the last printed digit.
  BOOST_TEST(std::abs(solution.unknowns[0] - printed("y1")) < 0.5e-4);
  BOOST_TEST(std::abs(solution.unknowns[1] - printed("y2")) < 0.5e-5);
  BOOST_TEST(std::abs(solution.uncertainty(first) - printed("s_y1")) < 0.5e-4);
  BOOST_TEST(std::abs(solution.uncertainty(second) - printed("s_y2")) < 0.5e-5);
  BOOST_TEST(std::abs(correlation - printed("r")) < 0.5e-2);
  BOOST_TEST(std::abs(at_30.dot(solution.unknowns) - printed("b30")) < 0.5e-4);
  BOOST_TEST(std::abs(solution.uncertainty(at_30) - printed("u_b30")) < 0.5e-4);
  // With all digits, recomputed from the table.
  BOOST_TEST(std::abs(solution.unknowns[0] / computed("y1") - 1) < 1e-12);
  BOOST_TEST(std::abs(solution.uncertainty(second) / computed("u2") - 1) < 1e-11);
  BOOST_TEST(std::abs(correlation / computed("r") - 1) < 1e-12);
  BOOST_TEST(std::abs(solution.uncertainty(at_30) / computed("u_b30") - 1) < 1e-12);
}

// With u = 1 the sum of squares is χ² itself and s² = χ²/(n − 2), equation (H.13f).
BOOST_FIXTURE_TEST_CASE(thermometer_scatter_from_the_fit, Thermometer) {
  const auto solution = solve(1);
  BOOST_TEST(solution.degrees_of_freedom == 9);
  BOOST_TEST(std::abs(solution.chi_square / computed("SSR") - 1) < 1e-10);
  BOOST_TEST(std::abs(std::sqrt(solution.chi_square / 9) - printed("s")) < 0.5e-4);
  BOOST_TEST(std::abs(s * solution.uncertainty(Vector::Unit(2, 0)) / computed("u1") - 1) < 1e-4);
}

// H.3.6: an error common to all corrections, known to 0.005: one more unknown with one more observation, like
// a scale's gain. It widens the intercept alone, and nothing checks it.
BOOST_FIXTURE_TEST_CASE(thermometer_with_a_common_error, Thermometer) {
  const Index n = b.size();
  Matrix with_error = Matrix::Zero(n + 1, 3);
  with_error.topLeftCorner(n, 2) = design();
  with_error.col(2).setOnes();
  Vector observed = Vector::Zero(n + 1), u = Vector::Constant(n + 1, s);
  observed.head(n) = b;
  u[n] = 0.005;
  const auto solution = test::solve({with_error, Matrix(0, 3), Vector(0), Vector::Constant(3, 0.1)},
                                    test::independent(observed, u));
  const auto published = [&](const char* name) {
    return data.number(std::string("/systematic_variant/") + name);
  };
  BOOST_TEST(std::abs(solution.unknowns[0] / published("intercept") - 1) < 1e-11);
  BOOST_TEST(std::abs(solution.unknowns[1] / published("slope") - 1) < 1e-11);
  BOOST_TEST(std::abs(solution.uncertainty(Vector::Unit(3, 0)) / published("u") - 1) < 1e-11);
  BOOST_TEST(std::abs(solution.uncertainty(Vector::Unit(3, 1)) / published("u_slope") - 1) < 1e-11);
  BOOST_TEST(solution.degrees_of_freedom == 9);
  BOOST_TEST(solution.redundancy[n] < 1e-13);
}

BOOST_AUTO_TEST_SUITE_END()
