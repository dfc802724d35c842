// What the tests of explanations share: finding the one that was made, and what the sheet put right would
// give.
#pragma once

#include <set>
#include <string>

#include "reconcile/findings.hpp"
#include "rig/session.hpp"

namespace steelyard::test {

using Ids = std::set<std::string>;

/// r21 of weighed_twice(): the left rear wheel of the tow vehicle, together, 765 kg or so.
inline constexpr const char* rear_wheel = "r21";

Ids ids_of(const reconcile::Findings& findings, const reconcile::Explanation& explanation);
/// The readings of one state that were taken on one scale.
Ids readings_on(const rig::Session& session, const std::string& state, const std::string& scale);

/// The loads of two readings exchanged.
rig::Session exchanged(rig::Session session, const std::string& one, const std::string& other);

/// The explanation of that kind among those tied for first; the test fails where there is none. `where`: the
/// readings that it puts right, or else the state.
const reconcile::Explanation& tied(const reconcile::Findings& findings, reconcile::Blunder kind,
                                   const Ids& where);

/// At least 2.5 %, and as chi-square and freedom have it by upper_tail().
void check_p(const reconcile::Explanation& one);
/// What was explained is what the sheet put right gives.
void same_as(const reconcile::Explanation& one, const rig::Session& put_right);
/// The sheet with every reading as it is said to have been meant.
rig::Session corrected(rig::Session session, const reconcile::Findings& findings,
                       const reconcile::Explanation& one);

}  // namespace steelyard::test
