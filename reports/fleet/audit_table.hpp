// The audit's summary for a terminal: lines of at most 80 columns, names made printable. No errors.
#pragma once

#include <string>

#include "reports/fleet/fleet.hpp"

namespace steelyard::reports {

std::string audit_table(const FleetSubject& subject, const FleetOptions& options);

}  // namespace steelyard::reports
