#include "adjust/redraw.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace steelyard::adjust {
namespace {

constexpr double step_tolerance = 1e-9;  // of a scaled unknown, as in Options but for many draws
constexpr int most_steps = 25;           // a chord that needs more is slower than solving anew

}  // namespace

Redraw::Redraw(const Model& model, Observed observed, const Solution& near)
    : model_(model), observed_(std::move(observed)), start_(near.unknowns), scale_(near.scale) {
  if (observed_.covariance || !observed_.set_aside.empty())
    throw std::invalid_argument("adjust: only uncorrelated observations, none set aside, are drawn again");
  if (!near.converged) throw std::invalid_argument("adjust: drawing again starts from a solution");
  const Index m = model.observations(), n = model.unknowns(), p = model.constraints();
  weight_ = observed_.u.cwiseAbs2().cwiseInverse();
  at_ = {Vector(m), Matrix::Zero(m, n), Vector(p), Matrix::Zero(p, n)};
  model.linearise(start_, at_);
  const Matrix design = weight_.cwiseSqrt().asDiagonal() * at_.design * scale_.asDiagonal();
  Matrix constraint = at_.constraint * scale_.asDiagonal();
  row_length_ = constraint.rowwise().norm();
  for (Index i = 0; i < p; ++i) row_length_[i] = row_length_[i] > 0 ? row_length_[i] : 1;
  constraint.array().colwise() /= row_length_.array();

  const Matrix root = scale_.cwiseInverse().asDiagonal() * near.covariance_root;
  along_ = root * root.transpose();
  multiplier_ = Vector::Zero(p);
  across_ = Matrix::Zero(n, p);
  between_ = Matrix::Zero(p, p);
  if (p == 0) return;
  const Matrix closing = Eigen::CompleteOrthogonalDecomposition<Matrix>(constraint).pseudoInverse();
  const Matrix normal = design.transpose() * design;
  across_ = closing - along_ * (normal * closing);
  between_ = closing.transpose() * (normal * across_);
  const Vector residual = weight_.cwiseProduct(observed_.value - at_.fitted);
  const Vector pull = scale_.cwiseProduct(at_.design.transpose() * residual);
  multiplier_ = closing.transpose() * pull;
}

bool Redraw::settle(const Vector& values, Vector& z) {
  Vector multiplier = multiplier_;
  double last = INFINITY;
  for (int step = 0; step < most_steps; ++step) {
    at_.design.setZero();
    at_.constraint.setZero();
    model_.linearise(z, at_);
    const Vector residual = weight_.cwiseProduct(values - at_.fitted);
    const Vector closing = at_.misclosure.cwiseQuotient(row_length_);
    const Vector miss =
        scale_.cwiseProduct(at_.design.transpose() * residual -
                            at_.constraint.transpose() * multiplier.cwiseQuotient(row_length_));
    const Vector move = along_ * miss - across_ * closing;
    multiplier += across_.transpose() * miss + between_ * closing;
    z += scale_.cwiseProduct(move);
    const double length = move.lpNorm<Eigen::Infinity>();
    if (!(length < 2 * last)) return false;
    if (length <= step_tolerance * std::max(1.0, z.cwiseQuotient(scale_).lpNorm<Eigen::Infinity>())) {
      model_.values(z, at_.fitted, at_.misclosure);
      return at_.fitted.allFinite();  // the end may lie out of bounds
    }
    last = length;
  }
  return false;
}

std::optional<Vector> Redraw::solve(const Vector& values) {
  Vector z = start_;
  if (settle(values, z)) return z;
  ++taken_over_;
  observed_.value = values;
  const Solution anew = adjust::solve(model_, observed_, start_, scale_);
  return anew.converged ? std::optional(anew.unknowns) : std::nullopt;
}

}  // namespace steelyard::adjust
