// The cautions that every report carries. Source: the trade's list of them, in the project's own words.
#pragma once

#include <string>
#include <vector>

#include "reports/client/content.hpp"

namespace steelyard::reports::client {

std::vector<std::string> cautions(const Source& source);

}  // namespace steelyard::reports::client
