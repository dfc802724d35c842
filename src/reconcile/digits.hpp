// What a figure may have been before somebody mistyped it. Internal to src/reconcile.
#pragma once

#include <vector>

namespace steelyard::reconcile {

/// The figure with any two of its digits exchanged; each different figure once.
std::vector<double> digits_exchanged(double figure);
/// The figure with one digit more, at any place.
std::vector<double> digit_restored(double figure);
/// The figure with one of two equal neighbours taken out.
std::vector<double> digit_taken_out(double figure);

}  // namespace steelyard::reconcile
