#include "adjust/adjust.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "adjust/workspace.hpp"

namespace steelyard::adjust {
namespace {

/// A constraint row of unit length in scaled unknowns holds when it misses by less.
constexpr double closed_enough = 1e-6;

void check_sizes(const Model& model, const Observed& observed, const Vector& start, const Vector& scale) {
  const Index m = model.observations(), n = model.unknowns();
  const bool fits =
      observed.value.size() == m && start.size() == n && scale.size() == n &&
      (observed.covariance ? observed.covariance->rows() == m && observed.covariance->cols() == m
                           : observed.u.size() == m);
  if (!fits)
    throw std::invalid_argument("adjust: sizes of observations, start or scale do not fit the model");
  if (!observed.set_aside.empty() && observed.covariance)
    throw std::invalid_argument("adjust: correlated observations cannot be set aside");
  for (const Index row : observed.set_aside)
    if (row < 0 || row >= m) throw std::invalid_argument("adjust: no such row to set aside");
  if (n == 0 || m == 0) throw std::invalid_argument("adjust: nothing to solve");
  if (!start.allFinite() || !observed.value.allFinite())
    throw std::invalid_argument("adjust: start and observations must be finite");
  if (!(scale.array() > 0).all() || !scale.allFinite())
    throw std::invalid_argument("adjust: every scale must be finite and above 0");
}

/// Steps of Gauss–Newton that a well-behaved problem never needs.
constexpr int patience = 15;
/// Damped tries before a step is cut as a whole.
constexpr int cut_after = 6;

/// Newton's method from where Gauss–Newton grew slow; leaves the workspace as iterate() does.
bool iterate_newton(Workspace& work, Vector& z, const Vector& scale, const Options& options,
                    int& iterations) {
  double penalty = 0;
  for (; iterations <= options.most_steps; ++iterations) {
    work.linearise(z);
    const Step step = work.newton_step(z);
    if (!step.move.allFinite()) return false;
    const double size = std::max(1.0, z.cwiseQuotient(scale).lpNorm<Eigen::Infinity>());
    const double move = step.move.lpNorm<Eigen::Infinity>();
    if (move <= options.step_tolerance * size) {
      z += step.move.cwiseProduct(scale);
      work.step(0);                              // what the covariances follow from
      return std::isfinite(work.look(z).first);  // the end may lie out of bounds
    }
    penalty = std::max(penalty, 2 * step.multiplier);
    const double before = work.chi_square() + penalty * work.misclosure_sum();
    double part = 1;
    for (;; part /= 2) {
      if (part < 1e-6) return false;
      Vector next = z + part * step.move.cwiseProduct(scale);
      const auto seen = work.restore(next);
      // Near the end rounding hides the descent.
      if (seen.first + penalty * seen.second <= before * (1 + 1e-12) ||
          (move < 1e-5 * size && std::isfinite(seen.first))) {
        z = next;
        break;
      }
    }
  }
  return false;
}

/// Gauss–Newton from `z`; leaves the workspace linearised where the last step began.
bool iterate(Workspace& work, Vector& z, const Vector& scale, const Options& options, int& iterations) {
  double damping = 0, penalty = 0, last_move = INFINITY;
  Vector next;
  for (iterations = 1; iterations <= options.most_steps; ++iterations) {
    if (iterations > patience && options.algorithm == Algorithm::null_space)
      return iterate_newton(work, z, scale, options, iterations);
    work.linearise(z);
    for (int tries = 0;; ++tries) {
      const Step step = work.step(damping);
      if (!step.move.allFinite()) return false;
      const double size = z.cwiseQuotient(scale).lpNorm<Eigen::Infinity>();
      const double move = step.move.lpNorm<Eigen::Infinity>();
      // Damping shortens the step along the constraints only; one that leads away from them is cut as a
      // whole.
      const double part = tries < cut_after ? 1 : std::pow(0.5, tries - cut_after + 1);
      next = z + part * step.move.cwiseProduct(scale);
      if (move <= options.step_tolerance * std::max(1.0, size)) {
        if (damping > 0) {  // a damped step is short by itself; only a free one shows that we have arrived
          damping = 0;
          if (++tries > options.most_tries) return false;
          if (work.step(0).move.lpNorm<Eigen::Infinity>() > options.step_tolerance * std::max(1.0, size))
            return false;
        }
        z = next;
        return std::isfinite(work.look(z).first);
      }
      penalty = std::max(penalty, 2 * step.multiplier);
      const double before = work.chi_square() + penalty * work.misclosure_sum();
      const auto merit = [&](const std::pair<double, double>& seen) {
        return seen.first + penalty * seen.second;
      };
      double after = merit(work.look(next));
      if (!(after <= before)) after = merit(work.restore(next));
      // Close in, rounding and the curvature of the constraints hide the descent; steps that shrink converge.
      const bool settling =
          std::isfinite(after) && damping == 0 && move < 0.5 * last_move && move < 1e-2 * std::max(1.0, size);
      if (after <= before * (1 + 1e-12) || settling) {
        z = next;
        last_move = move;
        damping = damping > 1e-3 ? damping / 10 : 0;
        break;
      }
      if (tries == options.most_tries) return false;
      damping = damping == 0 ? 1e-2 : damping * 10;
    }
  }
  iterations = options.most_steps;
  return false;
}

/// Rank, covariances and trust; the residuals are there already.
void fill_spread(const Workspace& work, const Observed& observed, const Vector& scale, Solution& solution) {
  const Spread spread = work.spread();
  solution.rank = work.rank(spread);
  solution.degrees_of_freedom =
      observed.value.size() - static_cast<Index>(observed.set_aside.size()) - solution.rank;
  solution.covariance_root = scale.asDiagonal() * spread.root;
  solution.free_directions = spread.free;
  if (!observed.covariance) solution.fitted_root = work.fitted_root(spread);
  work.trust(solution.residuals, spread, solution);
}

}  // namespace

LinearModel::LinearModel(Matrix design, Matrix constraint, Vector closes_to)
    : design_(std::move(design)), constraint_(std::move(constraint)), closes_to_(std::move(closes_to)) {
  if (constraint_.rows() == 0) constraint_.resize(0, design_.cols());
  if (constraint_.cols() != design_.cols() || closes_to_.size() != constraint_.rows())
    throw std::invalid_argument("adjust: constraints do not fit the design");
}

void LinearModel::linearise(const Vector& z, Linearised& out) const {
  out.design = design_;
  out.constraint = constraint_;
  values(z, out.fitted, out.misclosure);
}

void LinearModel::values(const Vector& z, Vector& fitted, Vector& misclosure) const {
  fitted = design_ * z;
  misclosure = constraint_ * z - closes_to_;
}

Solution solve(const Model& model, const Observed& observed, const Vector& start, const Vector& scale,
               const Options& options) {
  check_sizes(model, observed, start, scale);
  Workspace work(model, observed, scale, options);
  Solution solution;
  solution.scale = scale;
  solution.determinable_tolerance = options.determinable_tolerance;
  solution.unknowns = start;
  solution.converged = iterate(work, solution.unknowns, scale, options, solution.iterations);
  if (!solution.converged) return solution;

  Vector misclosure(model.constraints());
  solution.fitted.resize(model.observations());
  model.values(solution.unknowns, solution.fitted, misclosure);
  solution.residuals = observed.value - solution.fitted;
  solution.chi_square = work.look(solution.unknowns).first;
  solution.misclosure = work.largest_misclosure();
  // Constraints that contradict each other leave a step of no length and are closed by none.
  solution.converged = solution.misclosure <= closed_enough;
  fill_spread(work, observed, scale, solution);
  return solution;
}

Solution examine(const Model& model, const Observed& observed, const Vector& z, const Vector& scale,
                 const Options& options) {
  check_sizes(model, observed, z, scale);
  if (observed.covariance || options.algorithm != Algorithm::null_space)
    throw std::invalid_argument("adjust: only uncorrelated observations and the null space are examined");
  Workspace work(model, observed, scale, options);
  work.linearise(z);
  const Step step = work.step(0);
  Solution solution;
  solution.scale = scale;
  solution.determinable_tolerance = options.determinable_tolerance;
  solution.unknowns = z + step.move.cwiseProduct(scale);
  solution.converged = step.move.allFinite();
  if (!solution.converged) return solution;
  solution.residuals = work.linear_residuals(step);
  solution.fitted = observed.value - solution.residuals;
  fill_spread(work, observed, scale, solution);
  const Vector weighted = solution.residuals.cwiseQuotient(observed.u);
  solution.chi_square = weighted.squaredNorm();
  for (const Index row : observed.set_aside) solution.chi_square -= weighted[row] * weighted[row];
  return solution;
}

std::optional<LeftOut> leave_out(const Solution& solution, const Observed& observed, Index row,
                                 const Vector& gradient) {
  const double left = solution.redundancy[row];
  // Below this the observation is all that determines some combination of the unknowns.
  constexpr double alone = 1e-9;
  if (!(left > alone) || !solution.determinable(gradient)) return std::nullopt;
  const Vector part = solution.covariance_root.transpose() * gradient;
  const double shared = solution.fitted_root.row(row).dot(part);
  LeftOut out;
  out.change = -shared * solution.residuals[row] / observed.u[row] / left;
  out.u = std::sqrt(part.squaredNorm() + shared * shared / left);
  return out;
}

bool Solution::determinable(const Vector& gradient) const {
  if (free_directions.cols() == 0) return true;
  const Vector scaled = gradient.cwiseProduct(scale);
  return (free_directions.transpose() * scaled).norm() <= determinable_tolerance * scaled.norm();
}

double Solution::covariance(const Vector& a, const Vector& b) const {
  return (covariance_root.transpose() * a).dot(covariance_root.transpose() * b);
}

double Solution::uncertainty(const Vector& gradient) const {
  return (covariance_root.transpose() * gradient).norm();
}

}  // namespace steelyard::adjust
