// The problem at one place, weighted and scaled, and the steps that lead on from there. Internal to
// src/adjust, and for adjust.cpp alone: every decomposition of Eigen is in here, and they take half a minute
// to compile.
//
// "Scaled" unknowns are divided by their typical size, "whitened" observations have unit variance and no
// correlation, constraint rows have unit length in scaled unknowns.
#pragma once

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <Eigen/QR>
#include <Eigen/SVD>
#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>
#include <utility>

#include "adjust/adjust.hpp"

namespace steelyard::adjust {

// Constraints whose gradients differ by less than this from a combination of the others repeat them.
inline constexpr double constraint_rank_tolerance = 1e-12;

using Decomposition = Eigen::CompleteOrthogonalDecomposition<Matrix>;

/// Turns observations into independent ones of unit variance.
class Whitening {
 public:
  explicit Whitening(const Observed& observed) {
    if (!observed.covariance) {
      if (!(observed.u.array() > 0).all() || !observed.u.allFinite())
        throw std::invalid_argument("adjust: every standard uncertainty must be finite and above 0");
      weight_ = observed.u.cwiseInverse();
      return;
    }
    if (!observed.covariance->allFinite() ||
        !observed.covariance->isApprox(observed.covariance->transpose(), 1e-9))
      throw std::invalid_argument("adjust: the covariance of the observations must be finite and symmetric");
    Eigen::LLT<Matrix> cholesky(*observed.covariance);
    if (cholesky.info() != Eigen::Success)
      throw std::invalid_argument("adjust: the covariance of the observations is not positive definite");
    root_ = cholesky.matrixL();
  }

  [[nodiscard]] bool correlated() const { return root_.has_value(); }
  [[nodiscard]] const Vector& weight() const { return weight_; }

  template <class Derived>
  void apply(Eigen::MatrixBase<Derived>& rows) const {
    if (root_)
      root_->triangularView<Eigen::Lower>().solveInPlace(rows);
    else
      rows.array().colwise() *= weight_.array();
  }

  /// L⁻ᵀ·rows: carries whitened quantities to those multiplied by P.
  template <class Derived>
  void apply_transposed(Eigen::MatrixBase<Derived>& rows) const {
    if (root_)
      root_->triangularView<Eigen::Lower>().transpose().solveInPlace(rows);
    else
      rows.array().colwise() *= weight_.array();
  }

 private:
  Vector weight_;
  std::optional<Matrix> root_;
};

/// The problem at one place, weighted and scaled, and the step from there.
struct Step {
  Vector move;            // scaled unknowns, n
  double multiplier = 0;  // largest |Lagrange multiplier| of a constraint row of unit length
  Index rank = 0;
};

/// What both algorithms leave behind for the covariances; everything in scaled unknowns.
struct Spread {
  Matrix root;      // n×rank
  Matrix free;      // n×k
  Matrix leverage;  // m×rank: orthonormal basis of the weighted design's columns
  std::optional<Matrix>
      residual_cofactor;  // m×m, of the whitened residuals, where it is known without the basis
};

class Workspace {
 public:
  Workspace(const Model& model, const Observed& observed, const Vector& scale, const Options& options)
      : model_(model), observed_(observed), scale_(scale), options_(options), whitening_(observed) {
    const Index m = model.observations(), p = model.constraints();
    at_.fitted.resize(m);
    at_.misclosure.resize(p);
    trial_fitted_.resize(m);
    trial_misclosure_.resize(p);
  }

  void linearise(const Vector& z) {
    const Index m = model_.observations(), n = model_.unknowns(), p = model_.constraints();
    at_.design.setZero(m, n);
    at_.constraint.setZero(p, n);
    model_.linearise(z, at_);
    residual_ = observed_.value - at_.fitted;
    whitening_.apply(residual_);
    at_.design *= scale_.asDiagonal();
    whitening_.apply(at_.design);
    aside_.resize(static_cast<Index>(observed_.set_aside.size()), n);
    for (Index k = 0; k < aside_.rows(); ++k) {
      const Index row = observed_.set_aside[static_cast<std::size_t>(k)];
      aside_.row(k) = at_.design.row(row);
      at_.design.row(row).setZero();
    }
    silence(residual_);
    at_.constraint *= scale_.asDiagonal();
    row_length_ = at_.constraint.rowwise().norm();
    for (Index i = 0; i < p; ++i) row_length_[i] = row_length_[i] > 0 ? row_length_[i] : 1;
    at_.constraint.array().colwise() /= row_length_.array();
    at_.misclosure.array() /= row_length_.array();
    if (p == 0) return;
    constraints_.setThreshold(constraint_rank_tolerance);
    constraints_.compute(at_.constraint.transpose());
    held_ = constraints_.rank();
  }

  [[nodiscard]] double chi_square() const { return residual_.squaredNorm(); }
  [[nodiscard]] double misclosure_sum() const { return at_.misclosure.lpNorm<1>(); }
  /// Where it last looked.
  [[nodiscard]] double largest_misclosure() const {
    return trial_misclosure_.size() ? trial_misclosure_.lpNorm<Eigen::Infinity>() : 0;
  }

  /// χ² and Σ|c| at another place, constraints measured as at the last linearisation. Infinite where not
  /// finite.
  std::pair<double, double> look(const Vector& z) {
    model_.values(z, trial_fitted_, trial_misclosure_);
    trial_fitted_ = observed_.value - trial_fitted_;
    whitening_.apply(trial_fitted_);
    silence(trial_fitted_);
    trial_misclosure_.array() /= row_length_.array();
    return {trial_fitted_.squaredNorm(), trial_misclosure_.lpNorm<1>()};
  }

  /// Carries a trial place back onto the constraints, along their gradients at the last linearisation, and
  /// looks at it. Without this their curvature lets a good step seem bad (the second-order correction of
  /// Nocedal & Wright, 18.3).
  std::pair<double, double> restore(Vector& z) {
    std::pair<double, double> seen = look(z);
    for (int round = 0; round < 8 && std::isfinite(seen.second) && seen.second > 1e-14; ++round) {
      Vector back = across(trial_misclosure_);
      back.applyOnTheLeft(constraints_.householderQ());
      const Vector nearer = z + back.cwiseProduct(scale_);
      const auto then = look(nearer);
      if (!(then.second < 0.9 * seen.second)) return look(z);
      z = nearer;
      seen = then;
    }
    return seen;
  }

  Step step(double damping) {
    return options_.algorithm == Algorithm::null_space ? null_space_step(damping) : augmented_step(damping);
  }

  /// Newton's step: Gauss–Newton's with the curvature of f and c besides, which counts where residuals are
  /// large (a gross blunder). Directions of negative curvature are turned round, those of none are left
  /// alone.
  Step newton_step(const Vector& z) {
    // Differences leave noise of about 1e-13 of the largest curvature; a step along noise never ends.
    constexpr double flat = 1e-11;
    const Index n = model_.unknowns(), rest = n - held_;
    Matrix hessian = at_.design.transpose() * at_.design;
    const Vector gradient = -(at_.design.transpose() * residual_);
    hessian += curvature(z, multipliers(gradient));
    Step step;
    step.move = across(at_.misclosure);
    Vector slope = gradient;
    if (held_ > 0) {
      hessian.applyOnTheLeft(constraints_.householderQ().adjoint());
      hessian.applyOnTheRight(constraints_.householderQ());
      slope.applyOnTheLeft(constraints_.householderQ().adjoint());
    }
    const Matrix corner = hessian.bottomRightCorner(rest, rest);
    const Eigen::SelfAdjointEigenSolver<Matrix> parts((corner + corner.transpose()) / 2);
    const Vector pull = slope.tail(rest) + hessian.bottomLeftCorner(rest, held_) * step.move.head(held_);
    const Vector size = parts.eigenvalues().cwiseAbs();
    Vector along = parts.eigenvectors().transpose() * pull;
    for (Index i = 0; i < rest; ++i) along[i] = size[i] > flat * size.maxCoeff() ? -along[i] / size[i] : 0;
    step.move.tail(rest) = parts.eigenvectors() * along;
    if (held_ > 0) step.move.applyOnTheLeft(constraints_.householderQ());
    step.multiplier = held_ > 0 ? 2 * multipliers(gradient).lpNorm<Eigen::Infinity>() : 0;
    return step;
  }

  [[nodiscard]] Spread spread() const {
    return options_.algorithm == Algorithm::null_space ? null_space_spread() : augmented_spread();
  }

  /// The weighted design times the covariances' root, rows set aside included.
  [[nodiscard]] Matrix fitted_root(const Spread& spread) const {
    Matrix out = options_.algorithm == Algorithm::null_space ? spread.leverage : at_.design * spread.root;
    for (Index k = 0; k < aside_.rows(); ++k)
      out.row(observed_.set_aside[static_cast<std::size_t>(k)]) = aside_.row(k) * spread.root;
    return out;
  }

  /// Residuals of the linear problem solved, not whitened any more.
  [[nodiscard]] Vector linear_residuals(const Step& step) const {
    Vector out = residual_ - at_.design * step.move;
    for (Index k = 0; k < aside_.rows(); ++k) {
      const Index row = observed_.set_aside[static_cast<std::size_t>(k)];
      out[row] = (observed_.value[row] - at_.fitted[row]) / observed_.u[row] - aside_.row(k) * step.move;
    }
    return out.cwiseProduct(observed_.u);
  }

  /// Redundancy and (Pv)ᵢ over its deviation, from the residuals as they are and the weighted design's basis.
  void trust(const Vector& residuals, const Spread& known, Solution& out) const {
    Vector weighted = residuals;
    whitening_.apply(weighted);
    silence(weighted);
    const Index m = weighted.size();
    out.redundancy.resize(m);
    out.normalised_residual.setZero(m);
    if (!whitening_.correlated()) {
      for (Index i = 0; i < m; ++i) {
        const double left = known.residual_cofactor ? (*known.residual_cofactor)(i, i)
                                                    : 1 - known.leverage.row(i).squaredNorm();
        out.redundancy[i] = std::clamp(left, 0.0, 1.0);
        if (out.redundancy[i] > 0) out.normalised_residual[i] = weighted[i] / std::sqrt(out.redundancy[i]);
      }
      for (const Index row : observed_.set_aside) out.redundancy[row] = out.normalised_residual[row] = 0;
      return;
    }
    // I − BBᵀ is the covariance of the whitened residuals; P·Q_vv·P follows from it.
    Matrix pqp = known.residual_cofactor
                     ? *known.residual_cofactor
                     : Matrix(Matrix::Identity(m, m) - known.leverage * known.leverage.transpose());
    whitening_.apply_transposed(pqp);
    Matrix turned = pqp.transpose();
    whitening_.apply_transposed(turned);
    whitening_.apply_transposed(weighted);
    // diag(Q_vv·P) = diag(Q·(P·Q_vv·P)).
    out.redundancy = (*observed_.covariance * turned).diagonal();
    for (Index i = 0; i < m; ++i)
      if (turned(i, i) > 0) out.normalised_residual[i] = weighted[i] / std::sqrt(turned(i, i));
  }

 private:
  /// What is set aside has no residual that counts.
  void silence(Vector& rows) const {
    for (const Index row : observed_.set_aside) rows[row] = 0;
  }

  /// The shortest step that closes `misclosure`, in the basis of constraints_: their gradients, then the null
  /// space.
  [[nodiscard]] Vector across(const Vector& misclosure) const {
    Vector along = Vector::Zero(model_.unknowns());
    const Index held = held_;
    if (held == 0) return along;
    const Vector order = -(constraints_.colsPermutation().transpose() * misclosure);
    along.head(held) = constraints_.matrixR()
                           .topLeftCorner(held, held)
                           .template triangularView<Eigen::Upper>()
                           .transpose()
                           .solve(order.head(held));
    return along;
  }

  /// Of the constraint rows of unit length, for half of χ².
  [[nodiscard]] Vector multipliers(const Vector& gradient) const {
    Vector out = Vector::Zero(model_.constraints());
    if (held_ == 0) return out;
    Vector turned = gradient;
    turned.applyOnTheLeft(constraints_.householderQ().adjoint());
    out.head(held_) = -constraints_.matrixR()
                           .topLeftCorner(held_, held_)
                           .template triangularView<Eigen::Upper>()
                           .solve(turned.head(held_));
    return constraints_.colsPermutation() * out;
  }

  /// ∂/∂z of the Lagrangian's gradient with residuals and multipliers held, by central differences.
  [[nodiscard]] Matrix curvature(const Vector& z, const Vector& multiplier) const {
    constexpr double apart = 1e-4;  // of a scaled unknown; f and c are nearly bilinear, so rounding decides
    const Index m = model_.observations(), n = model_.unknowns(), p = model_.constraints();
    Vector pull = residual_;
    whitening_.apply_transposed(pull);
    const Vector push = multiplier.cwiseQuotient(row_length_);
    Linearised there{Vector(m), Matrix(m, n), Vector(p), Matrix(p, n)};
    Matrix out(n, n);
    for (Index i = 0; i < n; ++i) {
      Vector difference = Vector::Zero(n);
      for (const double sign : {1.0, -1.0}) {
        Vector moved = z;
        moved[i] += sign * apart * scale_[i];
        there.design.setZero();
        there.constraint.setZero();
        model_.linearise(moved, there);
        difference += sign * (there.constraint.transpose() * push - there.design.transpose() * pull);
      }
      out.col(i) = scale_.asDiagonal() * difference / (2 * apart);
    }
    return (out + out.transpose()) / 2;
  }

  /// Rows of the weighted design carried to the orthonormal basis [constraint gradients | their null space].
  Step null_space_step(double damping) {
    const Index n = model_.unknowns(), held = held_;
    turned_ = at_.design;
    if (held > 0) turned_.applyOnTheRight(constraints_.householderQ());

    Vector along = across(at_.misclosure);
    const Vector wanted = residual_ - turned_.leftCols(held) * along.head(held);
    Step step;
    if (held < n) {
      const auto rest = turned_.rightCols(n - held);
      decompose(rest, damping);
      Vector padded = Vector::Zero(reduced_.rows());
      padded.head(wanted.size()) = wanted;
      along.tail(n - held) = reduced_.solve(padded);
      step.rank = reduced_.rank();
    }
    if (held > 0) {
      const Vector left = turned_ * along - residual_;
      const Vector pull = 2 * (turned_.leftCols(held).transpose() * left);
      step.multiplier = constraints_.matrixR()
                            .topLeftCorner(held, held)
                            .template triangularView<Eigen::Upper>()
                            .solve(pull)
                            .template lpNorm<Eigen::Infinity>();
      step.move = along;
      step.move.applyOnTheLeft(constraints_.householderQ());
    } else {
      step.move = along;
    }
    return step;
  }

  void decompose(const Eigen::Ref<const Matrix>& rest, double damping) {
    reduced_.setThreshold(options_.rank_tolerance);
    if (damping > 0) {
      Matrix damped = Matrix::Zero(rest.rows() + rest.cols(), rest.cols());
      damped.topRows(rest.rows()) = rest;
      damped.bottomRows(rest.cols()).diagonal().setConstant(std::sqrt(damping));
      reduced_.compute(damped);
      return;
    }
    reduced_.compute(rest);
    const auto diagonal = reduced_.matrixQTZ().diagonal().cwiseAbs();
    const Index rank = reduced_.rank();
    // Pivoted QR shows the rank plainly unless a pivot lies near the tolerance; singular values decide there.
    const double largest = diagonal.size() ? diagonal.maxCoeff() : 0;
    const bool near = (rank > 0 && diagonal[rank - 1] < 1e3 * options_.rank_tolerance * largest) ||
                      (rank < diagonal.size() && diagonal[rank] > 1e-3 * options_.rank_tolerance * largest);
    if (!near) return;
    const Eigen::JacobiSVD<Matrix> singular(rest);
    const auto& values = singular.singularValues();
    const Index wanted = (values.array() > options_.rank_tolerance * values[0]).count();
    if (wanted == rank || wanted == 0) return;
    const double between =
        wanted < diagonal.size()
            ? std::sqrt(diagonal[wanted - 1] * std::max(diagonal[wanted], 1e-300)) / largest
            : diagonal[wanted - 1] / largest / 2;
    reduced_.setThreshold(between);
    reduced_.compute(rest);
  }

  [[nodiscard]] Spread null_space_spread() const {
    const Index n = model_.unknowns(), held = held_, cols = n - held;
    const Index rank = cols > 0 ? reduced_.rank() : 0;
    Spread spread;
    spread.root = Matrix::Zero(n, rank);
    spread.free = Matrix::Zero(n, cols - rank);
    spread.leverage = Matrix::Zero(model_.observations(), rank);
    if (cols == 0) return spread;
    spread.leverage.topLeftCorner(rank, rank).setIdentity();
    spread.leverage.applyOnTheLeft(reduced_.householderQ());
    Matrix inner = Matrix::Zero(cols, rank);
    inner.topRows(rank) = reduced_.matrixT()
                              .topLeftCorner(rank, rank)
                              .template triangularView<Eigen::Upper>()
                              .solve(Matrix::Identity(rank, rank));
    if (rank < cols) {
      const Matrix turn = reduced_.matrixZ().transpose();
      spread.free.bottomRows(cols) = reduced_.colsPermutation() * turn.rightCols(cols - rank);
      inner = (turn.leftCols(rank) * inner.topRows(rank)).eval();
    }
    spread.root.bottomRows(cols) = reduced_.colsPermutation() * inner;
    if (held > 0) {
      spread.root.applyOnTheLeft(constraints_.householderQ());
      spread.free.applyOnTheLeft(constraints_.householderQ());
    }
    return spread;
  }

  [[nodiscard]] Matrix augmented_matrix(double damping) const {
    const Index m = model_.observations(), n = model_.unknowns(), p = model_.constraints();
    Matrix whole = Matrix::Zero(m + n + p, m + n + p);
    whole.topLeftCorner(m, m).setIdentity();
    whole.block(0, m, m, n) = at_.design;
    whole.block(m, 0, n, m) = at_.design.transpose();
    whole.block(m, m, n, n).diagonal().setConstant(-damping);
    whole.block(m, m + n, n, p) = at_.constraint.transpose();
    whole.block(m + n, m, p, n) = at_.constraint;
    return whole;
  }

  Step augmented_step(double damping) {
    const Index m = model_.observations(), n = model_.unknowns(), p = model_.constraints();
    whole_.setThreshold(1e-13);
    whole_.compute(augmented_matrix(damping));
    Vector right = Vector::Zero(m + n + p);
    right.head(m) = residual_;
    right.tail(p) = -at_.misclosure;
    const Vector all = whole_.solve(right);
    Step step;
    step.move = all.segment(m, n);
    step.multiplier = p > 0 ? 2 * all.tail(p).lpNorm<Eigen::Infinity>() : 0;
    return step;
  }

  /// The inverse's block of the unknowns is minus their covariance, that of the residuals their cofactor
  /// matrix.
  [[nodiscard]] Spread augmented_spread() const {
    const Index m = model_.observations(), n = model_.unknowns();
    const Matrix inverse = Decomposition(augmented_matrix(0)).setThreshold(1e-13).pseudoInverse();
    const Matrix covariance = -inverse.block(m, m, n, n);
    Matrix both(at_.design.rows() + at_.constraint.rows(), n);
    both << at_.design, at_.constraint * at_.design.norm();
    const Eigen::JacobiSVD<Matrix> singular(both, Eigen::ComputeFullV);
    const Index seen = (singular.singularValues().array() > 1e-12 * singular.singularValues()[0]).count();
    Spread spread;
    spread.free = singular.matrixV().rightCols(n - seen);
    const Eigen::JacobiSVD<Matrix> parts((covariance + covariance.transpose()) / 2, Eigen::ComputeFullU);
    const Index rank = (parts.singularValues().array() > 1e-22 * parts.singularValues()[0]).count();
    spread.root = parts.matrixU().leftCols(rank) * parts.singularValues().head(rank).cwiseSqrt().asDiagonal();
    spread.residual_cofactor = inverse.topLeftCorner(m, m);
    augmented_rank_ = seen - held_;
    return spread;
  }

 public:
  [[nodiscard]] Index rank(const Spread& spread) const {
    return options_.algorithm == Algorithm::null_space ? spread.root.cols() : augmented_rank_;
  }

 private:
  const Model& model_;
  const Observed& observed_;
  const Vector& scale_;
  const Options& options_;
  Whitening whitening_;
  Linearised at_;
  Matrix aside_;  // rows of the weighted design that are set aside
  Vector residual_, row_length_, trial_fitted_, trial_misclosure_;
  Eigen::ColPivHouseholderQR<Matrix> constraints_;
  Decomposition reduced_, whole_;
  Matrix turned_;
  Index held_ = 0;  // constraints that say something of their own
  mutable Index augmented_rank_ = 0;
};

}  // namespace steelyard::adjust
