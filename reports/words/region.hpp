// The regions whose words and units a report can be shown in, one at a time.
//
// Source of the words: the trade's table of words by region. `plain` is the project's own: canonical words,
// and the sheet's units. No errors; a code that is not known gives nothing.
#pragma once

#include <array>
#include <optional>
#include <string_view>

#include "reports/words/figures.hpp"

namespace steelyard::reports {

enum class Region { plain, australia, europe, north_america, southern_africa };

inline constexpr std::array all_regions{Region::plain, Region::australia, Region::europe,
                                        Region::north_america, Region::southern_africa};

/// au, uk, us, za; plain.
std::string_view region_code(Region region);
std::optional<Region> parse_region(std::string_view code);
/// "Australia and New Zealand", "United Kingdom and Europe", …; "plain words".
std::string_view region_title(Region region);
/// lb and in for North America, kg and mm for the others; nothing for plain: the sheet's own.
std::optional<ShownUnits> units_of(Region region);

}  // namespace steelyard::reports
