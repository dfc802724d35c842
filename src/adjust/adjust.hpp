// Weighted least squares with exact equality constraints: matrices only, no word of vehicles.
//
// Solves   minimise (y − f(z))ᵀ P (y − f(z))   subject to   c(z) = 0
// for m observations y with standard uncertainties u (P = diag(1/u²)) or a covariance matrix Q (P = Q⁻¹), n
// unknowns z and p constraints, by Gauss–Newton. f and c may be nonlinear; linear problems take one step (and
// one more to see that nothing moves).
//
// WARNING. Constraints are exact: they are eliminated, never weighted. A tiny sigma in place of a constraint
// wrecks the solution while every check stays green.
//
// When the rank falls short, nothing fails: the step of least norm in scaled unknowns is taken, `rank` says
// how many combinations of the unknowns are determined, `free_directions` spans the rest, and determinable()
// tells whether a function of the unknowns has a part in them. Values and uncertainties of functions that are
// not determinable mean nothing.
//
// Units: whatever the caller's are; `scale` says one typical size of each unknown, and all rank decisions and
// the convergence test are made in unknowns divided by it. Errors: std::invalid_argument for sizes that do
// not fit, an uncertainty that is not above 0, a covariance that is not positive definite, or a start that is
// not finite. Not converging is no exception: look at `converged`.
//
// Sources: null-space method and Gauss–Newton for constrained least squares: Å. Björck, Numerical Methods for
// Least Squares Problems (1996), 5.1 and 9.2; damping: Levenberg–Marquardt; the merit is χ² plus an exact
// (ℓ1) penalty: J. Nocedal, S. Wright, Numerical Optimization (2006), 15.4 and 18.3. Redundancy numbers and
// normalised residuals: W. Baarda (1968); correlated observations: (Pv)ᵢ over its own deviation.
#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

namespace steelyard::adjust {

using Eigen::Index;
using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;

/// The problem at one place z.
struct Linearised {
  Vector fitted;      // f(z), m
  Matrix design;      // ∂f/∂z, m×n
  Vector misclosure;  // c(z), p
  Matrix constraint;  // ∂c/∂z, p×n
};

/// What a caller supplies. Sizes never change during a solution.
class Model {
 public:
  virtual ~Model() = default;
  [[nodiscard]] virtual Index observations() const = 0;
  [[nodiscard]] virtual Index unknowns() const = 0;
  [[nodiscard]] virtual Index constraints() const = 0;
  /// Fills `out`, whose members have their sizes already; the matrices come in as zeros.
  virtual void linearise(const Vector& z, Linearised& out) const = 0;
  /// f(z) and c(z) alone; anything not finite says that z is out of bounds, and the step is shortened.
  virtual void values(const Vector& z, Vector& fitted, Vector& misclosure) const = 0;
};

/// A linear problem: f = design·z, c = constraint·z − closes_to.
class LinearModel final : public Model {
 public:
  LinearModel(Matrix design, Matrix constraint, Vector closes_to);
  [[nodiscard]] Index observations() const override { return design_.rows(); }
  [[nodiscard]] Index unknowns() const override { return design_.cols(); }
  [[nodiscard]] Index constraints() const override { return constraint_.rows(); }
  void linearise(const Vector& z, Linearised& out) const override;
  void values(const Vector& z, Vector& fitted, Vector& misclosure) const override;

 private:
  Matrix design_, constraint_;
  Vector closes_to_;
};

struct Observed {
  Vector value;                      // y, m
  Vector u;                          // standard uncertainties; unused where there is a covariance
  std::optional<Matrix> covariance;  // of the observations, m×m, positive definite
  /// Rows that take no part, as if they had not been observed; they keep their places. Only of uncorrelated
  /// observations.
  std::vector<Index> set_aside = {};
};

/// Two ways to the same answer, compared with each other in the tests.
enum class Algorithm {
  null_space,  // Householder elimination of the constraints, then pivoted QR: what everything uses
  augmented,   // the whole system of optimality conditions at once, residuals and multipliers included
};

struct Options {
  Algorithm algorithm = Algorithm::null_space;
  int most_steps = 100;
  int most_tries = 40;            // of damping one step
  double step_tolerance = 1e-10;         // largest step of a scaled unknown, relative to the largest of them
  double rank_tolerance = 1e-9;          // of the largest singular value of the weighted design
  double determinable_tolerance = 1e-7;  // of the gradient's length
};

struct Solution {
  bool converged = false;
  int iterations = 0;
  Vector unknowns;   // n
  Vector fitted;     // m
  Vector residuals;  // y − fitted, m
  double chi_square = 0;
  Index rank = 0;                // of the weighted design in the constrained space
  Index degrees_of_freedom = 0;  // m − rank
  double misclosure =
      0;  // largest |c| over its gradient's length in scaled unknowns: how exactly c = 0 holds

  Vector scale;            // n, as given
  Matrix covariance_root;  // n×rank; the unknowns' covariance is covariance_root·covariance_rootᵀ
  Matrix free_directions;  // n×k, orthonormal in scaled unknowns
  /// m; they sum to the degrees of freedom. 0: nothing checks this observation, 1: fully checked; of
  /// correlated observations one may lie outside 0 … 1. 0 where set aside.
  Vector redundancy;
  /// m×rank: the weighted design times covariance_root. Two fitted values have the covariance
  /// uᵢuⱼ·(fitted_root·fitted_rootᵀ)ᵢⱼ; one and a function of gradient g, uᵢ·fitted_root.row(i)·covariance_rootᵀg.
  /// Rows set aside have theirs too. Of uncorrelated observations only.
  Matrix fitted_root;
  /// m; (Pv)ᵢ over its own deviation, for uncorrelated observations vᵢ/(uᵢ√rᵢ). 0 where nothing checks it (no
  /// freedom left in that observation): look at redundancy first.
  Vector normalised_residual;
  double determinable_tolerance = 1e-7;

  [[nodiscard]] bool determinable(const Vector& gradient) const;
  [[nodiscard]] double covariance(const Vector& a, const Vector& b) const;
  [[nodiscard]] double uncertainty(const Vector& gradient) const;  // √ of the variance
};

/// What leaving out one observation would do to a function of the unknowns, without solving again (exact where
/// the problem is linear): R. Cook, S. Weisberg, Residuals and Influence in Regression (1982), 2.2.
struct LeftOut {
  double change = 0;  // of the function's value
  double u = 0;       // of the function then
};
/// Nothing where the function would not be determinable without it. `row` must not be set aside; uncorrelated
/// observations only.
std::optional<LeftOut> leave_out(const Solution& solution, const Observed& observed, Index row,
                                 const Vector& gradient);

/// `start` is the first guess, `scale` a typical size (> 0) of each unknown.
Solution solve(const Model& model, const Observed& observed, const Vector& start, const Vector& scale,
               const Options& options = {});

/// The linear problem at z, not solved: χ², residuals and fitted values are those of the linear solution from
/// there, and everything else goes with them; `unknowns` is z and one step. For asking what would follow from
/// other observations near z. Null-space algorithm only.
Solution examine(const Model& model, const Observed& observed, const Vector& z, const Vector& scale,
                 const Options& options = {});

}  // namespace steelyard::adjust
