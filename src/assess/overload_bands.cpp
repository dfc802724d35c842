#include "assess/overload_bands.hpp"

#include <algorithm>
#include <cmath>

namespace steelyard::assess {

std::string check_bands(const OverloadBands& bands) {
  if (bands.source.empty()) return "its source is missing: who says that these are the bands?";
  for (std::size_t i = 0; i < bands.bands.size(); ++i) {
    const OverloadBand& band = bands.bands[i];
    if (band.name.empty()) return "band " + std::to_string(i + 1) + " has no name";
    if (!(band.from_ratio >= 1 && band.from_ratio <= 100))
      return "band " + band.name + " must begin at 100 % of the rating or above, and at most at 10000 %";
    if (!(band.from_over >= 0 && band.from_over <= 1e9)) return "band " + band.name + " cannot begin below the rating";
    if (i == 0) continue;
    const OverloadBand& before = bands.bands[i - 1];
    if (band.from_ratio < before.from_ratio || band == before)
      return "band " + band.name + " must begin above band " + before.name + " before it: the lowest comes first";
  }
  return {};
}

double begins_at(const OverloadBand& band, double rating) {
  return std::max(band.from_ratio * rating, rating + band.from_over);
}

const OverloadBand* band_of(const OverloadBands& bands, double value, double rating) {
  const OverloadBand* found = nullptr;
  for (const OverloadBand& band : bands.bands)
    if (value > rating && value >= begins_at(band, rating)) found = &band;
  return found;
}

}  // namespace steelyard::assess
