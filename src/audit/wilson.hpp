// How far a share of so many may be believed: Wilson's score interval of a proportion.
//
// Source: E. B. Wilson, Probable inference, the law of succession, and statistical inference, J. Am. Stat. Assoc. 22
// (1927) 209–212; recommended for small numbers by R. G. Newcombe, Statistics in Medicine 17 (1998) 857–872, whose
// method 3 it is (without continuity correction). It supposes independent trials: weighings of one rig again and again
// are not, and the true uncertainty is then larger. Units: plain ratios. No errors; of nothing weighed it is 0 to 1.
#pragma once

#include <cstddef>
#include <utility>

namespace steelyard::audit {

inline constexpr double normal_95 = 1.959963984540054;

/// Lower and upper end for `hits` of `trials`; hits ≤ trials.
std::pair<double, double> wilson(std::size_t hits, std::size_t trials, double z = normal_95);

}  // namespace steelyard::audit
