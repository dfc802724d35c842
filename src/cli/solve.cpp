#include "cli/solve.hpp"

#include <algorithm>

#include "reconcile/reconcile.hpp"
#include "reports/result/result_json.hpp"
#include "reports/table/result_table.hpp"

namespace steelyard::cli {

std::string version() {
  return STEELYARD_VERSION;
}

Solved solve(const rig::Session& session) {
  Solved solved{session, reconcile::reconcile(session), {}};
  solved.assessment = assess::assess(solved.session, solved.findings);
  return solved;
}

std::string Solved::json() const {
  return reports::result_json(session, findings, assessment, version(),
                              monte_carlo ? &*monte_carlo : nullptr);
}

std::string Solved::table() const {
  return reports::result_table(session, findings, assessment, monte_carlo ? &*monte_carlo : nullptr);
}

std::string Solved::summary() const {
  return reports::result_summary(session, findings, assessment);
}

bool Solved::worrying() const {
  return !findings.suspects.empty() ||
         std::any_of(assessment.rows.begin(), assessment.rows.end(), [](const assess::Row& row) {
           return !row.advice && row.outcome != assess::Outcome::pass;
         });
}

}  // namespace steelyard::cli
