// The ratings that the rig's outcome rests on: which of them decide it, and their table and bars on the
// Summary.
#pragma once

#include <vector>

#include "assess/deciding.hpp"
#include "reports/client/content.hpp"

namespace steelyard::reports::client {

/// Ratings of the state that the rig travels in, the governing ones of each kind, the most telling first.
std::vector<const assess::Row*> deciding(const Source& source);

using assess::nearest;

/// The table, as long as the page holds with the picture under it, and the bars beside their ratings.
void add_ratings(const Source& source, const std::vector<const assess::Row*>& all,
                 std::vector<Block>& blocks);

}  // namespace steelyard::reports::client
