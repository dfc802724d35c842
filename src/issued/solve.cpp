#include "issued/solve.hpp"

#include <algorithm>

#include "reconcile/reconcile.hpp"
#include "reports/result/result_json.hpp"

namespace steelyard::issued {

std::string engine_version() {
  return STEELYARD_VERSION;
}

namespace {

bool is_close(assess::Outcome outcome) {
  return outcome == assess::Outcome::conditional_pass || outcome == assess::Outcome::conditional_fail;
}

}  // namespace

Solved solve(const rig::Session& session) {
  const reconcile::Reconciliation reconciliation(session);
  Solved solved{session, reconciliation.findings(), {}};
  solved.assessment = assess::assess(solved.session, solved.findings);
  for (assess::Row& row : solved.assessment.rows)
    if (is_close(row.outcome) && row.compared) {
      row.next_reading = reconciliation.settle(*row.compared);
      // Of a mass against a declared one the row holds the ratio.
      if (row.next_reading) row.next_reading->after *= *row.u / row.compared->u;
    }
  return solved;
}

std::string Solved::json() const {
  return reports::result_json(session, findings, assessment, engine_version(),
                              monte_carlo ? &*monte_carlo : nullptr);
}

bool Solved::worrying() const {
  return !findings.suspects.empty() ||
         std::any_of(assessment.rows.begin(), assessment.rows.end(), [](const assess::Row& row) {
           return !row.advice && row.outcome != assess::Outcome::pass;
         });
}

}  // namespace steelyard::issued
