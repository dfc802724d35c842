// The rig's readings, reconciled with its statics.
//
// Takes a checked Session (src/sheet, src/store), writes it as a weighted least-squares problem with exact
// constraints (src/adjust) and gives the Findings. Struck readings take no part. Nothing is guessed: a
// quantity that the readings leave free is reported as not determinable, with what to weigh. Errors:
// NotSolved, naming the session, when no solution converges even with the overhang held. Source:
// reconciliation model, sections 1 to 6.
#pragma once

#include <memory>
#include <optional>
#include <stdexcept>
#include <vector>

#include "reconcile/findings.hpp"
#include "rig/session.hpp"

namespace steelyard::reconcile {

class NotSolved : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// How far to look where the readings do not agree; where they do it makes no difference.
enum class Search {
  first_set,  // the first suspect set and no more
  whole,      // every suspect set, what explains each and which reading would tell more
};

/// A session reconciled, with what further questions need. Keeps a copy of the session.
class Reconciliation {
 public:
  /// Errors: NotSolved.
  explicit Reconciliation(rig::Session session, Search search = Search::whole);
  Reconciliation(Reconciliation&&) noexcept;
  Reconciliation& operator=(Reconciliation&&) noexcept;
  ~Reconciliation();

  [[nodiscard]] const Findings& findings() const;

  /// The one further reading, or the tape, that most reduces the u of a quantity; `after` is the u it would
  /// then have. Nothing where the quantity is not determinable, or is not one that its name, state and
  /// position find in the findings. One rank-one update for each candidate.
  [[nodiscard]] std::optional<NextReading> settle(const Quantity& quantity) const;

  /// dq/dyᵢ of a quantity for every observation of findings().observations, in their order: what an error of
  /// that observation does to it, from the linear problem at the solution. 0 for an observation that takes no
  /// part in it (the tape in what the weights alone say). Unit: the quantity's by the observation's. Nothing
  /// where the quantity is not determinable or not found by name, state and position. With the observations
  /// independent, Σ(dq/dyᵢ·uᵢ)² is the square of the quantity's u.
  [[nodiscard]] std::optional<std::vector<double>> sensitivities(const Quantity& quantity) const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

Findings reconcile(const rig::Session& session, Search search = Search::whole);

}  // namespace steelyard::reconcile
