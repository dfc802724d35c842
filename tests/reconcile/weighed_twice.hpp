// A rig of round invented figures, every position of it read twice: what the blunder tests put blunders into.
//
// Loads come from tests/simulator/loads.cpp, a second implementation of the statics by moments; the scales'
// errors are drawn once, from a fixed seed, as their sheet declares them. Units: kg, mm, kg·mm.
#pragma once

#include <string>
#include <vector>

#include "reconcile/findings.hpp"
#include "rig/session.hpp"
#include "simulator/draw.hpp"

namespace steelyard::test {

/// "apart" (coupling on scale N1) and "together" (hitched, no bars), wheel by wheel on scales P1 to P4: axle
/// 1 of either vehicle on P1 and P2, axle 2 on P3 and P4, left first. Readings r1 to r34 in the order of the
/// sheet. `seed`: of the scales' errors; the rig is the same for every seed.
simulator::Simulation weighed_twice(std::uint64_t seed = 1);

/// The sheet as it would be had state k truly stood like `truly`; the scales err as they did.
rig::Session weighed_as(const simulator::Simulation& weighed, std::size_t k,
                        const simulator::TrueState& truly);

/// The reading `id`; the test fails where there is none.
rig::Reading& reading(rig::Session& session, const std::string& id);
/// Its row among the observations; the test fails where there is none.
std::size_t row_of(const reconcile::Findings& findings, const std::string& id);
/// "reading r3", "overhang", "level together", "gain P1": one word for each observation of a session.
std::string key_of(const reconcile::Observation& observation);
/// Keys of a set's members, sorted.
std::vector<std::string> keys_of(const reconcile::Findings& findings, const reconcile::SuspectSet& set);

/// The member of that key; null where the set has none.
const reconcile::SuspectMember* member(const reconcile::Findings& findings, const reconcile::SuspectSet& set,
                                       const std::string& key);
std::string likeliest(const reconcile::Findings& findings, const reconcile::SuspectSet& set);

/// One reading made so much too high, in the unit it was entered in.
rig::Session off(rig::Session session, const std::string& id, double by);
/// weighed_twice() with r3, of the tow vehicle apart, 70 kg too high and r29, of the trailer together, 120 kg
/// too low.
rig::Session two_blunders();
rig::Session strike(rig::Session session, const std::string& id);

/// Every load and length of the rig, the scales and the readings in pounds and inches.
rig::Session in_pounds_and_inches(rig::Session session);

/// P(χ² > x) by the finite sums of M. Abramowitz, I. Stegun, Handbook of Mathematical Functions
/// (1964), 26.4.4 and 26.4.5; the engine takes Boost.Math's.
double upper_tail(double x, int freedom);

}  // namespace steelyard::test
