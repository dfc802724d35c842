// Readings without any error, of a true rig: what scales that never err would show.
//
// For tests that ask what a weighing could tell. Loads in kg, with all their digits; lengths in mm.
#pragma once

#include <vector>

#include "simulator/loads.hpp"

namespace steelyard::simulator {

/// A state to weigh and where. Its readings are taken in the order of `positions`.
struct Wanted {
  rig::State state;  // its arrangement, height and slope are taken as true; its readings do not count
  std::vector<rig::Position> positions;
  std::vector<std::vector<std::string>> scales;  // of each position; empty: none is named
};

/// The states with readings r1, r2 … Groups and wheel ends share evenly; heights act through S from the
/// reference state's, slopes through h. `restoration`: the part of the front axle's loss that bars give back.
/// An unhitched nose without a support in the state rests on a stand under the coupling. Errors:
/// std::out_of_range for a position that the rig does not have.
std::vector<rig::State> weigh_exactly(const TrueRig& rig, const std::vector<Wanted>& wanted,
                                      double restoration = 0.5);

/// The moment that gives the front axle back this part of what the coupling load took from it, kg·mm.
double bars_for(const TrueTrailer& trailer, double restoration);

}  // namespace steelyard::simulator
