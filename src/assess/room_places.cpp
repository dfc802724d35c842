// Where somebody would put a load, from the rig's own lengths.
#include <algorithm>

#include "assess/room.hpp"

namespace steelyard::assess {
namespace {

using reconcile::ObservationKind;
using rig::Group;
using rig::Vehicle;

constexpr double nose_part = 0.25, tail_part = 1.25;  // of the way from the coupling to the axles

std::optional<double> fitted(const reconcile::Findings& findings, ObservationKind kind) {
  for (const reconcile::Observation& observation : findings.observations)
    if (observation.kind == kind) return observation.fitted;
  return std::nullopt;
}

std::string axle_word(const rig::Session& session, Group group) {
  const auto& axles = session.rig.tow_vehicle.axles;
  const bool several =
      std::count_if(axles.begin(), axles.end(), [group](const auto& a) { return a.group == group; }) > 1;
  return several ? "axles" : "axle";
}

/// The front group's centre, behind the first axle.
double front_centre(const rig::Session& session) {
  double sum = 0, count = 0;
  for (const rig::Axle& axle : session.rig.tow_vehicle.axles) {
    if (axle.group != Group::front) continue;
    sum += axle.at.mm().value() - session.rig.tow_vehicle.axles.front().at.mm().value();
    ++count;
  }
  return sum / count;
}

std::optional<double> overhang(const rig::Session& session, const reconcile::Findings& findings) {
  if (const auto* found = findings.find("overhang"); found && found->determinable) return found->value;
  if (session.rig.tow_vehicle.overhang) return session.rig.tow_vehicle.overhang->value.mm().value();
  return std::nullopt;
}

void on_tow(std::vector<Place>& out, const rig::Session& session, const reconcile::Findings& findings) {
  const auto wheelbase = fitted(findings, ObservationKind::wheelbase);
  if (!wheelbase) return;
  const std::string rear = axle_word(session, Group::rear);
  out.push_back({Vehicle::tow, 0, std::string("over the front ") + axle_word(session, Group::front)});
  out.push_back({Vehicle::tow, *wheelbase / 2, "between the axles"});
  out.push_back({Vehicle::tow, *wheelbase, std::string("over the rear ") + rear});
  if (const auto reach = overhang(session, findings))
    out.push_back({Vehicle::tow, *wheelbase + *reach,
                   *reach > 0 ? std::string("behind the rear ") + rear + ", at the coupling"
                              : std::string("at the coupling")});
}

void on_trailer(std::vector<Place>& out, const rig::Session& session, const reconcile::Findings& findings) {
  const rig::Trailer& trailer = *session.rig.trailer;
  if (trailer.self_supporting) return out.push_back({Vehicle::trailer, 0, "on the trailer"});
  const auto reach = fitted(findings, ObservationKind::coupling_to_axles);
  if (!reach || !trailer.coupling_to_axles)
    return out.push_back({Vehicle::trailer, 0, "at the trailer's coupling"});
  const std::string axles = trailer.axles > 1 ? "axles" : "axle";
  out.push_back({Vehicle::trailer, *reach * nose_part, "nose of the trailer"});
  out.push_back({Vehicle::trailer, *reach / 2, std::string("halfway to the trailer's ") + axles});
  out.push_back({Vehicle::trailer, *reach, std::string("over the trailer's ") + axles});
  out.push_back({Vehicle::trailer, *reach * tail_part, std::string("behind the trailer's ") + axles});
}

}  // namespace

std::vector<Place> places_to_load(const rig::Session& session, const reconcile::Findings& findings) {
  std::vector<Place> out;
  on_tow(out, session, findings);
  if (session.rig.trailer) on_trailer(out, session, findings);
  for (const rig::Modification& fitted_one : session.modifications)
    if (fitted_one.at)
      out.push_back({Vehicle::tow, fitted_one.at->mm().value() - front_centre(session),
                     std::string("where “") + fitted_one.what + "” is fitted"});
  return out;
}

}  // namespace steelyard::assess
