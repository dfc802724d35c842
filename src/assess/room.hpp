// What else may be loaded and where: the most mass that can be added at a place before a limit binds, and
// which.
//
// Units: kg, mm. A place on the tow vehicle is behind the front group's centre, on the trailer behind the
// coupling. Only the travelling state decides. Suppositions:
// - The addition stands on the centre line and low: level shift, heights and the weight distribution's moment
//   stay as they were found.
// - Where a group has several axles they share the addition as they share their load now, and so do the wheel
//   ends of an axle; every bound that rests on this has `supposed`. A trailer on its own axles: likewise,
//   over all of them, wherever on it the mass goes. A side difference stays what it is while the axle's load
//   grows.
// - `sure` keeps each limit's own U = 2u in hand. How well the place or the added mass is known is not
//   included, nor that the effect rests on lengths with an uncertainty of their own.
// Nothing throws. Source: reconciliation model, sections 2, 3 and 8.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "assess/assessment.hpp"

namespace steelyard::assess {

struct Place {
  rig::Vehicle vehicle = rig::Vehicle::tow;
  double at_mm = 0;
  std::string name;  // "over the rear axle", "nose of the trailer"

  bool operator==(const Place&) const = default;
};

/// Over the axle groups, between them and at the coupling; nose, middle, axles and tail of the trailer; then
/// where the sheet says something was fitted. A length that nobody gave makes no place.
std::vector<Place> places_to_load(const rig::Session& session, const reconcile::Findings& findings);

/// Where a limit ends what may be added.
struct Bound {
  double kg = 0;
  std::size_t limit = 0, row = 0;  // indices into session.rig.limits and Assessment::rows
  bool supposed = false;           // rests on how axles or wheel ends share the addition
};

/// A rating that is outside before anything is added.
struct Outside {
  std::size_t limit = 0, row = 0;
  bool mends = false;                    // mass at this place brings it nearer to its rating
  std::optional<double> inside_from_kg;  // and from here on within it
  bool supposed = false;
};

/// A limit that the room says nothing of, and why.
struct LeftOut {
  std::size_t limit = 0, row = 0;
  std::string reason;
};

/// Where everything outside mends: within all ratings from `from_kg` until `until` (nothing: no end).
struct Mended {
  double from_kg = 0;
  std::optional<Bound> until;
};

struct Room {
  Place place;
  std::optional<Bound> most;    // a rating's margin is 0 there; 0 kg where one is outside already
  std::optional<Bound> sure;    // until here every rating that the room knows of stays a `pass`
  std::optional<Bound> advice;  // as `most`, of the limits that are guidance only
  bool already_outside = false;
  std::vector<Outside> outside;
  std::optional<Mended> mended;  // only where already outside
  bool unlimited = false;        // ratings were looked at, and none of them ever binds at this place
  std::vector<LeftOut> left_out;
  std::string reason;  // why neither `most` nor `unlimited`; else empty
};

/// One Room a place, in their order.
std::vector<Room> room_to_load(const rig::Session& session, const reconcile::Findings& findings,
                               const Assessment& assessment, const std::vector<Place>& places);

}  // namespace steelyard::assess
