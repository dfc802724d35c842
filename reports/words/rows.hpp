// A limit's row and an outcome in words: what was found, what is allowed, what is left, what the whole comes to.
//
// Units: the reader's, figures rounded to their uncertainty (figures.hpp). Nothing is computed here. No errors.
#pragma once

#include <string>
#include <string_view>

#include "assess/assessment.hpp"
#include "reports/words/figures.hpp"

namespace steelyard::reports {

/// "1830 kg ± 10 kg", "8.6 % ± 0.2 %"; "not determined".
std::string row_value(const assess::Row& row, const ShownUnits& shown);
/// "1850 kg", "10.0 %"; "not given".
std::string row_rating(const assess::Row& row, const ShownUnits& shown);
/// "20 kg left", "12 kg over", "30 kg above the least", "5 kg short of the least"; empty where it is not known.
std::string row_margin(const assess::Row& row, const ShownUnits& shown);

/// "Within every rating", "Outside a rating: do not tow": the headline of a rig's outcome, and what it means.
std::string verdict_headline(assess::RigOutcome outcome);
std::string verdict_meaning(assess::RigOutcome outcome);

}  // namespace steelyard::reports
