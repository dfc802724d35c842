// What a limit is compared with: the found value, or why there is none. For src/assess and
// src/plan, which asks the same of readings not taken yet.
//
// Units: kg, kN or a plain ratio, as the limit. Source: reconciliation model, section 8, and the table of
// limits.
#pragma once

#include <optional>
#include <string>

#include "reconcile/findings.hpp"
#include "rig/session.hpp"

namespace steelyard::assess {

/// A value to compare, or why there is none.
struct Compared {
  const reconcile::Quantity* quantity = nullptr;
  std::optional<double> value, u;  // where it is not a quantity's own
  std::string at;
  std::string reason;
};

/// In the limit's measure; nothing where the sheet gives neither a value nor a known load index.
std::optional<double> rating_of(const rig::Limit& limit);

/// Finds the value for each limit; refers to session and findings and must not outlive them.
class Comparer {
 public:
  Comparer(const rig::Session& session, const reconcile::Findings& findings)
      : session_(session), findings_(findings) {}

  /// For a limit that knows no state: masses, shares, coupling forces.
  [[nodiscard]] Compared stateless(const rig::Limit& limit) const;
  /// For a limit that is compared state by state.
  [[nodiscard]] Compared in_state(const rig::Limit& limit, const rig::State& state) const;

 private:
  [[nodiscard]] Compared quantity(std::string_view name, const rig::State* state = nullptr,
                                  std::string_view at = {}) const;
  [[nodiscard]] Compared group(const rig::State& state, std::string_view name) const;
  [[nodiscard]] Compared axle(const rig::State& state, rig::Vehicle vehicle, int n) const;
  [[nodiscard]] Compared wheel(const rig::State& state, const rig::Limit& limit) const;
  [[nodiscard]] Compared side_difference(const rig::State& state, const rig::Limit& limit) const;
  [[nodiscard]] std::optional<double> lowest(rig::LimitKind kind) const;
  [[nodiscard]] Compared coupling_force(rig::LimitKind kind) const;

  const rig::Session& session_;
  const reconcile::Findings& findings_;
};

}  // namespace steelyard::assess
