// Two sessions of one tow vehicle held against each other: before and after a change, or with another trailer.
//
// Each side keeps its own values, so that every figure agrees with its session's own report; only the
// uncertainty of a difference looks at both. The covariance of a quantity before and after is
// Σ Kᵇ·Kᵃ·u² over the errors that are the same one on both sides, K being dq/dy of that observation:
//
//   gain of a scale           the same uid, calibration (date and certificate) and known gain; calibrated anew
//                             it has another error
//   wheelbase, overhang, centre of gravity's height, coupling to axles or to jockey wheel
//                             the same vehicle with the identical figure: an identical figure for one and the
//                             same length has the same error, whether taped once or taken from a drawing
//   height sensitivity        of the same trailer: what is supposed of it is wrong by the same
//   everything that stands alike in two revisions of one session: it was observed once
//
// Readings, scales without a uid, levels and coupling heights are independent. Where the two sides give one
// error different uncertainties the smaller counts as common. So u² of a difference is uᵇ² + uᵃ² − 2cov: less
// than the sum where the same scales stood under the rig, which is why they should. A vehicle is the same by
// equal VIN, else by equal uid, or for lack of a uid by equal registration; one that is not known to be the
// same shares no error.
// Source: JCGM 100:2008, 5.2 and F.1.2.3. Errors: NotOneRig.
#pragma once

#include <stdexcept>

#include "compare/comparison.hpp"
#include "reconcile/reconcile.hpp"

namespace steelyard::compare {

/// Two tow vehicles are two rigs; the message says what to do.
class NotOneRig : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// One weighing with what came of it. All three outlive the call; nothing of them is kept.
struct Side {
  const rig::Session& session;
  const reconcile::Reconciliation& reconciliation;
  const assess::Assessment& assessment;

  [[nodiscard]] const reconcile::Findings& findings() const { return reconciliation.findings(); }
};

Comparison compare(const Side& before, const Side& after);

}  // namespace steelyard::compare
