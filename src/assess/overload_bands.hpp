// Overload bands: how far over its rating a load is, in the steps of whoever sorts by them.
//
// None is built in: an operator, an auditor or a law gives them, and each set carries its source. A band begins where the
// value is above the rating (times `from_ratio`) and above the rating plus `from_over`, whichever is the higher; the last
// band that has begun is the one. Units: from_ratio a plain ratio of 1 or more, from_over in kg. Only loads with an upper
// rating have bands. Errors: none here; check_bands says what is wrong with a set.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "assess/assessment.hpp"

namespace steelyard::assess {

struct OverloadBand {
  std::string name;
  double from_ratio = 1;  // of the rating
  double from_over = 0;   // kg above the rating
  bool operator==(const OverloadBand&) const = default;
};

struct OverloadBands {
  std::vector<OverloadBand> bands;  // the lowest first
  std::string source, edition, jurisdiction;
  bool operator==(const OverloadBands&) const = default;
};

/// What is wrong with a set, with the remedy; empty where nothing is.
std::string check_bands(const OverloadBands& bands);

/// Where a band begins for that rating, kg.
double begins_at(const OverloadBand& band, double rating);

/// The band that a value is in; nothing where it is not above its rating, or above it by less than the first band asks.
const OverloadBand* band_of(const OverloadBands& bands, double value, double rating);

}  // namespace steelyard::assess
