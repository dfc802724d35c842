// What to read next while the rig stands there: one place, and why.
//
// In this order: what would tell suspect readings apart; what has not been read in the state being weighed; what is
// missing in the other states; a second reading where nothing checks the first ones. Within a state the walk goes from
// the front of the rig to its end, left then right, the nose's support last. Common practice, no source. Only a
// proposal: any place can be read at any time. No errors.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "reconcile/findings.hpp"
#include "rig/session.hpp"

namespace steelyard::field {

struct NextPlace {
  std::string state;
  rig::Position at;
  std::string why;  // a clause: "so that the coupling load can be told"
};

/// The places that a state has, in the order of the walk. `usual`: wheel ends and the support; the others are whole axles
/// and whole vehicles.
struct Place {
  rig::Position at;
  bool usual = true;
};
std::vector<Place> places_of(const rig::Rig& rig, const rig::State& state);

/// Nothing where there is nothing left that would tell more. `findings`: null before the first solution.
std::optional<NextPlace> next_place(const rig::Session& session, const reconcile::Findings* findings);

}  // namespace steelyard::field
