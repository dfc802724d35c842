// What the readings leave open, and how far they check each other: plain values for whoever words them.
// Units: kg. Nothing is computed here that Findings does not hold. No errors; what is pointed to belongs to the findings.
#pragma once

#include <string>
#include <vector>

#include "reconcile/findings.hpp"

namespace steelyard::reports {

/// Quantities that cannot be told and lack the same weighing, in the order in which they came.
struct Lacking {
  std::string needs;  // what to weigh for them, as the engine says it
  std::vector<const reconcile::Quantity*> quantities;
};
std::vector<Lacking> lacking(const reconcile::Findings& findings);

/// From what error on a single reading shows, four times in five, of each that is checked, ascending; and the ids of those
/// that nothing checks.
struct Reach {
  std::vector<double> noticed;
  std::vector<std::string> unchecked;
};
Reach reach_of(const reconcile::Findings& findings);

}  // namespace steelyard::reports
