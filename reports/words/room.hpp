// What may still be loaded and where, in sentences.
//
// Units: the reader's. Mass that may be added is rounded down to a whole one, mass that is needed up. Texts
// hold names from the sheet as they came; whoever shows them makes them harmless. Nothing is computed here.
#pragma once

#include <string>

#include "assess/room.hpp"
#include "reports/words/figures.hpp"
#include "reports/words/terms.hpp"

namespace steelyard::reports {

/// "tow vehicle, over the rear axle", "nose of the trailer"; of a place without a name its distance:
/// "trailer, 2000 mm behind the coupling".
std::string place_name_words(const assess::Place& place, const rig::Rig& rig, const ShownUnits& shown);

/// "up to 85 kg, then trailer mass (trailer plate) binds; up to 79 kg every rating is surely kept"; "nothing:
/// rear axle load (plate) is over already"; with what was supposed, what guidance says and what was not
/// looked at.
std::string room_words(const assess::Room& room, const rig::Session& session,
                       const assess::Assessment& assessment, const ShownUnits& shown, Region region);

/// What the rooms leave out of account, once for all of them.
std::string room_method_words();

}  // namespace steelyard::reports
