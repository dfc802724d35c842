#include "reports/words/checking.hpp"

#include <algorithm>

namespace steelyard::reports {

std::vector<Lacking> lacking(const reconcile::Findings& findings) {
  std::vector<Lacking> all;
  for (const reconcile::Quantity& quantity : findings.quantities) {
    if (quantity.determinable || !quantity.needs) continue;
    const std::string& text = quantity.needs->text;
    auto found = std::find_if(all.begin(), all.end(), [&](const Lacking& one) { return one.needs == text; });
    if (found == all.end()) found = all.insert(all.end(), {text, {}});
    found->quantities.push_back(&quantity);
  }
  return all;
}

Reach reach_of(const reconcile::Findings& findings) {
  Reach reach;
  for (const reconcile::Observation& observation : findings.observations) {
    if (observation.kind != reconcile::ObservationKind::reading) continue;
    if (observation.smallest_detectable)
      reach.noticed.push_back(*observation.smallest_detectable);
    else
      reach.unchecked.push_back(observation.id.value_or("?"));
  }
  std::sort(reach.noticed.begin(), reach.noticed.end());
  return reach;
}

}  // namespace steelyard::reports
