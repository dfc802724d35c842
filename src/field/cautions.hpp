// What is said before a rig is weighed, on the first screen of every session.
// Source: the trade's list of cautions, in the project's own words. They defer to the makers and to local law.
#pragma once

#include <string>
#include <vector>

#include "reports/words/wording.hpp"

namespace steelyard::field {

std::vector<std::string> cautions_before_weighing(const reports::Wording& wording);

}  // namespace steelyard::field
