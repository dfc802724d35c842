// What does not fit, in the words of somebody who stands beside the rig: suspects, blunders, what to weigh.
//
// Units: the reader's. Texts may hold names from the sheet as they came; whoever shows them makes them
// harmless for the terminal or the workbook. Nothing is computed here.
#pragma once

#include <string>
#include <vector>

#include "reconcile/findings.hpp"
#include "reports/words/wording.hpp"

namespace steelyard::reports {

/// "reading r21, tow vehicle axle 2, left, in “together”"; "the tape on the overhang"; "the ground in “apart”
/// less level than said".
std::string suspect_name(const reconcile::Observation& observation, const Wording& wording = {});
/// In what an observation of that kind is measured; a coupling height by what it is worth in load.
reconcile::Measure measure_of(reconcile::ObservationKind kind);
/// ", about 63 kg too low" of a reading, ", off by about 40 mm" of a length, nothing of others.
std::string suspect_size(const reconcile::Observation& observation, double error, const ShownUnits& shown);

/// "two digits swapped in reading r21: 707 kg read, 770 kg meant".
std::string explanation_words(const reconcile::Findings& findings, const reconcile::Explanation& explanation,
                              const Wording& wording);

/// "tow vehicle axle 2, left, in “together”, again, on scale P3".
std::string next_reading_words(const reconcile::NextReading& next, const Wording& wording = {});

}  // namespace steelyard::reports
