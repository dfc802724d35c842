// What a selection of readings will tell: the u of every aim, asked of the engine. Internal to src/plan.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "plan/candidates.hpp"
#include "reconcile/solve_rig.hpp"

namespace steelyard::plan {

/// A figure that has to stay determinable, whatever else is left out.
struct Kept {
  std::string name, state;
};

/// The aims of a rig and the figures to keep; `aims[i].once` says what every position once gives.
struct Aims {
  std::vector<Aim> aims;
  std::vector<Kept> kept;
};

/// One selection, solved.
struct Outlook {
  std::unique_ptr<rig::Session> session;  // the solution refers to it
  std::unique_ptr<reconcile::SolvedRig> solved;
  reconcile::DerivedSet derived;
  std::vector<std::optional<double>> u;  // of each aim
  std::vector<adjust::Vector> gradient;  // of each aim; empty where not determinable
  std::vector<double> redundancy;        // of each reading, in the order of weighing
  bool keeps = false;                    // every figure to keep is determinable
};

/// Nothing converges: `solved` is null and nothing is determinable.
Outlook look(rig::Session session, const Aims& aims);

/// The coupling load, every limit that counts where the rig travels (or, where none of its rows does, in any
/// state), and the figures that a plan must not lose. `full`: everything weighed once.
Aims find_aims(const Candidates& candidates, const rig::Session& full, const Wanted& wanted);

/// Which kind of observation makes the most of what variance is left in an aim, and its part of it.
std::pair<reconcile::ObservationKind, double> governing(const Outlook& outlook, std::size_t aim);

}  // namespace steelyard::plan
