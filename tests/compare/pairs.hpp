// Sessions for these tests: the sample pair, and any sheet, reconciled and assessed.
#pragma once

#include <string>

#include "compare/compare.hpp"
#include "reconcile/reconcile.hpp"
#include "rig/session.hpp"

namespace steelyard::test {

/// Fails the test where a sheet has faults.
rig::Session read_sheet(const std::string& text);
rig::Session sample(const std::string& name);
rig::Session before_springs();
rig::Session after_springs();

/// A session with all that a comparison asks of it.
class Weighed {
 public:
  explicit Weighed(rig::Session session)
      : session_(std::move(session)),
        reconciliation_(session_, reconcile::Search::first_set),
        assessment_(assess::assess(session_, reconciliation_.findings())) {}

  [[nodiscard]] compare::Side side() const { return {session_, reconciliation_, assessment_}; }
  [[nodiscard]] const rig::Session& session() const { return session_; }
  [[nodiscard]] const reconcile::Reconciliation& reconciliation() const { return reconciliation_; }
  [[nodiscard]] const reconcile::Findings& findings() const { return reconciliation_.findings(); }

 private:
  rig::Session session_;
  reconcile::Reconciliation reconciliation_;
  assess::Assessment assessment_;
};

compare::Comparison compared(const rig::Session& before, const rig::Session& after);

}  // namespace steelyard::test
