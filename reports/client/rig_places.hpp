// Where things are along the rig, for its picture.
//
// Units: mm behind the front group's centre. What was not measured stands where the reconciliation model's
// defaults put it (model, section 4) and is marked as assumed.
#pragma once

#include <vector>

#include "reports/client/content.hpp"

namespace steelyard::reports::client {

struct Places {
  std::vector<double> tow_axles, trailer_axles;
  double wheelbase = 0, coupling = 0, trailer_group = 0;
  double front_end = 0, rear_end = 0, trailer_end = 0;
  bool trailer = false, lever = false;  // a trailer; one whose nose rests on the tow vehicle
  bool coupling_assumed = false, trailer_assumed = false;
  double px = 1;  // mm of the rig that a pixel of the picture stands for

  [[nodiscard]] double coupling_height() const { return coupling < wheelbase && lever ? 1150 : 520; }
};

Places places_of(const Source& source);

}  // namespace steelyard::reports::client
