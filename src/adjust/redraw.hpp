// The same problem solved for other observations, many times and fast.
//
// WARNING. Not a linearisation: every answer is where the optimality conditions of the nonlinear problem
// hold. What is kept from one place is only the matrix that says which way to go; where going that way does
// not settle soon, solve() of adjust.hpp takes over.
//
// At z with multipliers λ the conditions miss by g = JᵀWr − Cᵀλ and c. The step is
//     dz = A·g − B·c,   dλ = Bᵀ·g + S·c,   A = covariance, B = (I − A·H)·C⁺, S = C⁺ᵀH·B,   H = JᵀWJ
// with A, B, S of the place where the solution is: Newton's method with a matrix that stands still (the chord
// method), and Gauss–Newton's H. Free directions are not gone along. Units and scale as in adjust.hpp.
// Uncorrelated observations with none set aside, as std::invalid_argument says of others.
// Source: C. T. Kelley, Iterative Methods for Linear and Nonlinear Equations (1995), 5.4.1; J. Nocedal,
// S. Wright, Numerical Optimization (2006), 16.1 and 18.1.
#pragma once

#include <optional>

#include "adjust/adjust.hpp"

namespace steelyard::adjust {

/// Refers to the model, which must outlive it. One of these serves one thread at a time.
class Redraw {
 public:
  /// `near` is the solution for `observed`, converged.
  Redraw(const Model& model, Observed observed, const Solution& near);

  /// The unknowns that fit `values` best under the same uncertainties; nothing where it does not converge.
  std::optional<Vector> solve(const Vector& values);

  /// How many answers came from solve() of adjust.hpp.
  [[nodiscard]] long taken_over() const { return taken_over_; }

 private:
  bool settle(const Vector& values, Vector& z);
  const Model& model_;
  Observed observed_;
  Vector start_, scale_, weight_;  // unknowns; their sizes; 1/u²
  Vector row_length_, multiplier_;
  Matrix along_, across_, between_;  // A, B, S in scaled unknowns and constraint rows of unit length
  Linearised at_;
  long taken_over_ = 0;
};

}  // namespace steelyard::adjust
