#include "reports/words/region.hpp"

#include <algorithm>

namespace steelyard::reports {

std::string_view region_code(Region region) {
  switch (region) {
    case Region::australia:
      return "au";
    case Region::europe:
      return "uk";
    case Region::north_america:
      return "us";
    case Region::southern_africa:
      return "za";
    case Region::plain:
      break;
  }
  return "plain";
}

std::optional<Region> parse_region(std::string_view code) {
  const auto found = std::find_if(all_regions.begin(), all_regions.end(),
                                  [code](Region region) { return region_code(region) == code; });
  return found == all_regions.end() ? std::nullopt : std::optional(*found);
}

std::string_view region_title(Region region) {
  switch (region) {
    case Region::australia:
      return "Australia and New Zealand";
    case Region::europe:
      return "United Kingdom and Europe";
    case Region::north_america:
      return "North America";
    case Region::southern_africa:
      return "Southern Africa";
    case Region::plain:
      break;
  }
  return "plain words";
}

std::optional<ShownUnits> units_of(Region region) {
  if (region == Region::plain) return std::nullopt;
  if (region == Region::north_america) return ShownUnits{units::LoadUnit::pound, units::LengthUnit::inch};
  return ShownUnits{};
}

}  // namespace steelyard::reports
