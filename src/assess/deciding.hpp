// Which ratings decide the outcome of a rig, and which of them is nearest.
//
// Plain questions to an Assessment, asked alike by the client's report and by an audit, so that both name the same rating.
// Units: none; `used` is a plain ratio. No errors. The rows pointed to belong to the assessment.
#pragma once

#include <vector>

#include "assess/assessment.hpp"

namespace steelyard::assess {

/// 0 outside, 1 outside but too close to be sure, 2 within but too close, 3 not assessed, 4 within.
int severity(Outcome outcome);

/// How much of the rating is used up; of a minimum, how much of the value the rating takes. 0 where either is missing; 1e9
/// where there is nothing to divide by.
double used(const Row& row);

/// Ratings of the state that the rig travels in, the governing ones of each kind and those not assessed, the most telling
/// first: by severity, then the most used up.
std::vector<const Row*> deciding(const Assessment& assessment);

/// The one that decides the outcome: the worst, then the most used up; null where none has a value.
const Row* nearest(const std::vector<const Row*>& rows);

}  // namespace steelyard::assess
