// What each limit is called for people: "tow vehicle, rear axles", "coupling load, towbar plate".
// The words are the trade's, a region's where one is chosen. Sheet texts in the result are made printable. No
// units, no errors.
#pragma once

#include <string>

#include "assess/assessment.hpp"
#include "reports/words/terms.hpp"
#include "rig/session.hpp"

namespace steelyard::reports {

std::string limit_in_words(const rig::Limit& limit, const assess::Row& row, const Wording& wording = {});

/// True where the limit's value is a share that people read as a percentage.
bool shown_as_percent(const rig::Limit& limit);

/// A position or group as people say it; what is no position comes back printable.
std::string place_in_words(const std::string& at, const Wording& wording = {});

}  // namespace steelyard::reports
