// One reading made wrong by so many times its smallest detectable error: is it found, and is it the one
// suspected?
#pragma once

#include "proof/coverage.hpp"

namespace steelyard::proof {

struct Power {
  Count found;   // of all sessions with a checked reading: not consistent any more
  Count in_set;  // of those found: the culprit is in the first suspect set
  Count first;   // of those found: it is the likeliest of that set
  double mean_set_size = 0;
  double median_smallest = 0;  // kg, the smallest detectable error of the readings chosen
};

/// In each session one checked reading by chance gets an error of `times` its smallest detectable error, up
/// or down by chance; up where down would leave nothing on the scale.
Power power(const Sessions& sessions, double times, const Workers& workers);

}  // namespace steelyard::proof
