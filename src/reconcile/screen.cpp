#include "reconcile/screen.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>

namespace steelyard::reconcile {
namespace {

using adjust::Matrix;
using adjust::Vector;

double kg(const units::Load& load) {
  return load.kg().value();
}

}  // namespace

Screen::Screen(const SolvedRig& solved, const Vector& near, const std::vector<Index>& aside)
    : solved_(solved), aside_(solved.observed.size(), false) {
  const RigModel model(*solved.layout, solved.observed, solved.bounded);
  adjust::Observed given = solved.given;
  given.set_aside = aside;
  at_ = adjust::examine(model, given, near, solved.layout->scale());
  if (!at_.converged) return;
  residual_ = at_.residuals.cwiseQuotient(given.u);
  Matrix root = at_.fitted_root;
  for (const Index row : aside) {
    residual_[row] = 0;
    root.row(row).setZero();
    aside_[static_cast<std::size_t>(row)] = true;
  }
  cofactor_ = -root * root.transpose();
  for (Index i = 0; i < cofactor_.rows(); ++i)
    if (!aside_[static_cast<std::size_t>(i)]) cofactor_(i, i) += 1;
}

std::optional<double> Screen::chi_square(const Hypothesis& hypothesis) const {
  const auto out = [&](Index row) { return static_cast<bool>(aside_[static_cast<std::size_t>(row)]); };
  if (hypothesis.rearranged) return 0;
  if (!hypothesis.edits.empty()) {
    for (const Hypothesis::Edit& edit : hypothesis.edits)
      if (out(edit.row)) return std::nullopt;
    return edited(hypothesis);
  }
  for (const Hypothesis::Column& column : hypothesis.columns)
    for (const auto& [row, effect] : column.effect)
      if (!out(row)) return disturbed(hypothesis);
  return std::nullopt;
}

/// The rows taken out together, and put back with what they should have been.
double Screen::edited(const Hypothesis& hypothesis) const {
  const auto count = static_cast<Index>(hypothesis.edits.size());
  Matrix among(count, count);
  Vector left(count), shift(count), old_u(count), new_u(count);
  for (Index i = 0; i < count; ++i) {
    const Hypothesis::Edit& edit = hypothesis.edits[static_cast<std::size_t>(i)];
    const rig::Reading& reading = *solved_.layout->rows[static_cast<std::size_t>(edit.row)].reading;
    const Figure then = as_observed(*solved_.layout->session, reading, kg(edit.meant));
    left[i] = residual_[edit.row];
    shift[i] = then.value - solved_.given.value[edit.row];
    old_u[i] = solved_.given.u[edit.row];
    new_u[i] = then.u;
    for (Index j = 0; j < count; ++j)
      among(i, j) = cofactor_(edit.row, hypothesis.edits[static_cast<std::size_t>(j)].row);
  }
  const Eigen::LLT<Matrix> inner(among);
  constexpr double checked_together = 1e-6;  // below it these rows are all that determines something
  if (inner.info() != Eigen::Success || inner.matrixL().nestedExpression().diagonal().minCoeff() < checked_together) {
    const Vector by = shift.cwiseQuotient(old_u);
    return at_.chi_square + 2 * left.dot(by) + by.dot(among * by);
  }
  const Vector deleted = inner.solve(left);
  const double without = at_.chi_square - left.dot(deleted);
  const Vector off = deleted.cwiseProduct(old_u) + shift;
  Matrix spread = inner.solve(Matrix::Identity(count, count)) - Matrix::Identity(count, count);
  spread = old_u.asDiagonal() * spread * old_u.asDiagonal();
  spread.diagonal() += new_u.cwiseAbs2();
  return without + off.dot(spread.ldlt().solve(off));
}

double Screen::disturbed(const Hypothesis& hypothesis) const {
  const auto count = static_cast<Index>(hypothesis.columns.size());
  Matrix effect = Matrix::Zero(residual_.size(), count);
  for (Index c = 0; c < count; ++c)
    for (const auto& [row, by] : hypothesis.columns[static_cast<std::size_t>(c)].effect)
      effect(row, c) = by / solved_.given.u[row];
  Matrix normal = effect.transpose() * cofactor_ * effect;
  const Vector pull = effect.transpose() * residual_;
  for (const Hypothesis::Prior& prior : hypothesis.priors) {
    const Vector weight = Eigen::Map<const Vector>(prior.weight.data(), count) / prior.u;
    normal += weight * weight.transpose();
  }
  const double size = normal.diagonal().maxCoeff();
  if (!(size > 0)) return at_.chi_square;
  normal.diagonal().array() += 1e-12 * size;
  return at_.chi_square - pull.dot(normal.ldlt().solve(pull));
}

}  // namespace steelyard::reconcile
