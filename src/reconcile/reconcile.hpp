// The rig's readings, reconciled with its statics.
//
// Takes a checked Session (src/sheet, src/store), writes it as a weighted least-squares problem with exact
// constraints (src/adjust) and gives the Findings. Struck readings take no part. Nothing is guessed: a
// quantity that the readings leave free is reported as not determinable, with what to weigh. Errors:
// NotSolved, naming the session, when no solution converges even with the overhang held. Source:
// reconciliation model, sections 1 to 6.
#pragma once

#include <stdexcept>

#include "reconcile/findings.hpp"
#include "rig/session.hpp"

namespace steelyard::reconcile {

class NotSolved : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

Findings reconcile(const rig::Session& session);

}  // namespace steelyard::reconcile
