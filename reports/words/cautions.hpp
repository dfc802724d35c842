// Cautions that every report carries alike. Source: the trade's list of them, in the project's own words.
#pragma once

namespace steelyard::reports::caution {

inline constexpr const char* no_trade_weighing =
    "This is no weighing for trade or for enforcement unless the scales are verified for it.";
inline constexpr const char* who_changes_a_rating =
    "Only the maker, a licensed engineer or the approved certifier of the place can change a rating.";
inline constexpr const char* over_a_rating =
    "A rig that is over a rating is not to be towed until the load is corrected and the rig weighed again. What the "
    "authorities tolerate is no allowance.";

}  // namespace steelyard::reports::caution
