#include "reports/client/rig_places.hpp"

#include <algorithm>

namespace steelyard::reports::client {
namespace {

constexpr double width_px = 760;      // what the picture is designed for
constexpr double axle_spacing = 850;  // of a trailer's group, which no sheet gives
constexpr double default_coupling_to_axles = 4000;

double group_centre(const rig::TowVehicle& tow, rig::Group group) {
  double sum = 0;
  int count = 0;
  for (const auto& axle : tow.axles)
    if (axle.group == group) sum += axle.at.mm().value(), ++count;
  return count > 0 ? sum / count : 0;
}

}  // namespace

Places places_of(const Source& source) {
  const auto& rig = source.session.rig;
  Places at;
  const double front = group_centre(rig.tow_vehicle, rig::Group::front);
  at.wheelbase = group_centre(rig.tow_vehicle, rig::Group::rear) - front;
  for (const auto& axle : rig.tow_vehicle.axles) at.tow_axles.push_back(axle.at.mm().value() - front);
  at.front_end = at.tow_axles.front() - 900;
  const auto* overhang = source.known("overhang");
  at.coupling_assumed = !overhang && !rig.tow_vehicle.overhang;
  const double taped = rig.tow_vehicle.overhang ? rig.tow_vehicle.overhang->value.mm().value() : 1200;
  at.coupling = at.wheelbase + (overhang ? overhang->value : taped);
  at.rear_end = std::max(at.coupling, at.tow_axles.back() + 900);
  at.trailer = rig.trailer.has_value();
  if (at.trailer) {
    at.lever = !rig.trailer->self_supporting;
    at.trailer_assumed = !rig.trailer->coupling_to_axles;
    const double distance = at.trailer_assumed
                                ? default_coupling_to_axles
                                : std::max(1000.0, rig.trailer->coupling_to_axles->value.mm().value());
    at.trailer_group = at.coupling + distance;
    const int count = std::max(1, rig.trailer->axles);
    for (int i = 0; i < count; ++i)
      at.trailer_axles.push_back(at.trailer_group + (i - (count - 1) / 2.0) * axle_spacing);
    at.rear_end = at.trailer_axles.back() + std::max(900.0, 0.3 * distance);
    at.trailer_end = at.rear_end - 60;
  }
  // A short rig stands in the middle of the picture and does not fill it.
  const double wanted = 9 * width_px - 500, length = at.rear_end - at.front_end;
  if (length < wanted) {
    at.front_end -= (wanted - length) / 2;
    at.rear_end += (wanted - length) / 2;
  }
  at.px = (at.rear_end - at.front_end + 500) / width_px;
  return at;
}

}  // namespace steelyard::reports::client
