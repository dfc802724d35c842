// Rules for the two vehicles and the limits.
#include "rig/words.hpp"
#include "sheet/check.hpp"

namespace steelyard::sheet {
namespace {

void check_identity(Check& check, const Place& place, std::string_view uid, std::string_view label,
                    std::string_view registration) {
  check.text(place["uid"], uid, TextKind::name);
  check.text(place["label"], label, TextKind::line);
  check.text(place["registration"], registration, TextKind::line);
}

double group_centre_mm(const rig::TowVehicle& vehicle, rig::Group group) {
  double sum = 0, count = 0;
  for (const rig::Axle& axle : vehicle.axles) {
    if (axle.group != group) continue;
    sum += axle.at.mm().value();
    ++count;
  }
  return sum / count;
}

void check_axles(Check& check, const Place& axles, const rig::TowVehicle& vehicle) {
  const auto most = static_cast<std::size_t>(rig::most_axles);
  if (vehicle.axles.size() > most)
    check.fault(axles, "must be at most " + std::to_string(most) + " axles, are " +
                           std::to_string(vehicle.axles.size()));
  bool front = false, rear = false, in_order = true;
  for (std::size_t i = 0; i < vehicle.axles.size(); ++i) {
    const rig::Axle& axle = vehicle.axles[i];
    const Place place = axles[i];
    check.length(place["at"], axle.at, -bounds::longest_mm, bounds::longest_mm);
    const bool is_front = axle.group == rig::Group::front;
    if (is_front && rear) {
      check.fault(place["group"],
                  "a front axle cannot stand behind a rear one; list the axles from the front");
      in_order = false;
    }
    (is_front ? front : rear) = true;
    if (i > 0 && !(axle.at.mm() > vehicle.axles[i - 1].at.mm())) {
      check.fault(place["at"], "must be above that of the axle before it, " +
                                   figure(vehicle.axles[i - 1].at.figure) + ", is " + figure(axle.at.figure) +
                                   "; axles are counted from the front, at grows rearward");
      in_order = false;
    }
  }
  if (!check.sound(axles)) return;
  if (!front || !rear)
    return check.fault(axles, "must hold at least one axle of group front and one of group rear");
  const double wheelbase =
      group_centre_mm(vehicle, rig::Group::rear) - group_centre_mm(vehicle, rig::Group::front);
  if (in_order && wheelbase < bounds::shortest_wheelbase_mm)
    check.fault(axles, "the wheelbase, between the groups' centres, must be " +
                           figure(bounds::shortest_wheelbase_mm) + " mm or more, is " + figure(wheelbase) +
                           " mm; check the unit of at");
}

void check_tow_vehicle(Check& check, const Place& place, const rig::TowVehicle& vehicle) {
  check_identity(check, place, vehicle.uid, vehicle.label, vehicle.registration);
  check.text(place["vin"], vehicle.vin, TextKind::line);
  const Place axles = place["axles"];
  check_axles(check, axles, vehicle);
  if (const auto& u = vehicle.wheelbase_u) {
    check.uncertainty(place["wheelbase_u"], u->mm().value(), u->figure, bounds::least_u_mm,
                      bounds::longest_mm, "mm");
    if (u->unit != check.session.units.length)
      check.fault(place["wheelbase_u"], "must be in the sheet's unit of length");
  }
  check.measured(place["overhang"], vehicle.overhang, -bounds::longest_mm, bounds::longest_mm);
  check.measured(place["cg_height"], vehicle.cg_height, 1, bounds::highest_mm);
}

void check_trailer(Check& check, const Place& place, const rig::Trailer& trailer) {
  check_identity(check, place, trailer.uid, trailer.label, trailer.registration);
  check.range(place["axles"], trailer.axles, 1, rig::most_axles, "");
  if (trailer.suspension == rig::Suspension::single && trailer.axles > 1 && check.sound(place["axles"]))
    check.fault(place["suspension"], "single is for one axle; this trailer has " +
                                         std::to_string(trailer.axles) +
                                         ", write independent or load_sharing");
  const auto& to_axles = trailer.coupling_to_axles;
  const auto& to_jockey = trailer.coupling_to_jockey;
  check.measured(place["coupling_to_axles"], to_axles, bounds::shortest_wheelbase_mm, bounds::longest_mm);
  check.measured(place["coupling_to_jockey"], to_jockey, 0, bounds::longest_mm);
  if (to_axles && to_jockey && !(to_jockey->value.mm() < to_axles->value.mm()))
    check.fault(place["coupling_to_jockey"],
                "must be below coupling_to_axles, " + figure(to_axles->value.figure) + ", is " +
                    figure(to_jockey->value.figure) + "; both are measured rearward from the coupling");
}

/// An axle number must be one of the vehicle's; the vehicle itself must be there.
void check_limit_place(Check& check, const Place& rig, const Place& of, const rig::Limit& limit) {
  using enum rig::LimitKind;
  const bool names_trailer = limit.kind == trailer_gross || limit.kind == trailer_axles ||
                             limit.kind == trailer_axle ||
                             (limit.kind == wheel && limit.vehicle == rig::Vehicle::trailer);
  const bool has_axle = limit.kind == tow_axle || limit.kind == trailer_axle || limit.kind == wheel;
  const auto& trailer = check.session.rig.trailer;
  if (!has_axle && limit.axle != 0) check.fault(of, "only limits of one axle carry an axle number");
  if (names_trailer) {
    if (!trailer && check.sound(rig["trailer"]))
      check.fault(of, "there is no trailer in rig; leave this limit out");
    if (!trailer) return;
  }
  const Place vehicle = rig[names_trailer ? "trailer" : "tow_vehicle"];
  const int axles =
      names_trailer ? trailer->axles : static_cast<int>(check.session.rig.tow_vehicle.axles.size());
  if (has_axle && (limit.axle < 1 || limit.axle > axles) && check.sound(vehicle["axles"]))
    check.fault(of, "names axle " + std::to_string(limit.axle) + "; the " +
                        (names_trailer ? "trailer" : "tow vehicle") + " has axles 1 to " +
                        std::to_string(axles));
}

void check_ratio(Check& check, const Place& value, const rig::Limit& limit) {
  using enum rig::LimitKind;
  if (limit.kind == mass_ratio) return check.range(value, *limit.number, 0.001, 10, "(1 for equal masses)");
  const bool restoration =
      limit.kind == front_axle_restoration_minimum || limit.kind == front_axle_restoration_maximum;
  if (restoration) return check.range(value, *limit.number, 0, 5, "(1 for 100 %)");
  check.range(value, *limit.number, 0, 1, "(0.10 for 10 %)");
}

void check_limit_value(Check& check, const Place& place, const rig::Limit& limit) {
  const auto measure = rig::measure_of(limit.kind);
  const Place value = place["value"];
  const bool given = measure == rig::Measure::load ? limit.load.has_value() : limit.number.has_value();
  const bool of_other_kind =
      measure == rig::Measure::load ? limit.number.has_value() : limit.load.has_value();
  if (of_other_kind) check.fault(value, "is not the kind of number that this limit takes");
  if (given && limit.load_index)
    check.fault(place["load_index"], "stands in place of a value; give one of the two");
  if (!given && !limit.load_index)
    check.fault(value, limit.kind == rig::LimitKind::wheel
                           ? "is missing; write the limit, or load_index with tyres"
                           : "is missing; write the limit");
  if (!given) return;
  if (measure == rig::Measure::load)
    check.load(value, limit.load, rig::is_minimum(limit.kind) ? 0 : bounds::least_division_kg,
               bounds::heaviest_limit_kg);
  else if (measure == rig::Measure::force_kn)
    check.range(value, *limit.number, 0.001, 1e4, "kN");
  else
    check_ratio(check, value, limit);
}

void check_limit_extras(Check& check, const Place& place, const rig::Limit& limit) {
  using enum rig::LimitKind;
  if (limit.load_index && limit.kind != wheel)
    check.fault(place["load_index"], "goes only with wheel.tow.N and wheel.trailer.N; leave it out");
  if (limit.load_index) check.range(place["load_index"], *limit.load_index, 60, 150, "");
  if (limit.tyres != 1 && limit.tyres != 2)
    check.fault(place["tyres"],
                "must be 1 or 2, the tyres at that wheel end, is " + std::to_string(limit.tyres));
  if (limit.tyres == 2 && !limit.load_index)
    check.fault(place["tyres"], "goes only with load_index; leave it out");
  if (limit.against && limit.kind != mass_ratio)
    check.fault(place["against"], "goes only with mass_ratio; leave it out");
  check.load(place["against"], limit.against, 1, bounds::heaviest_limit_kg);
  if (limit.basis == rig::Basis::axles && limit.kind != trailer_gross && limit.kind != towed_mass &&
      limit.kind != towed_mass_unbraked)
    check.fault(place["basis"],
                "goes only with trailer_gross, towed_mass and towed_mass_unbraked; leave it out");
  if (!limit.part.empty() && limit.kind != coupling)
    check.fault(place["part"], "goes only with coupling, whose chain has parts; leave it out");
  check.text(place["part"], limit.part, TextKind::line);
  check.text(place["source"], limit.source, TextKind::line);
  check.text(place["edition"], limit.edition, TextKind::line);
  check.text(place["jurisdiction"], limit.jurisdiction, TextKind::line);
  check.text(place["read_by"], limit.read_by, TextKind::line);
}

}  // namespace

void check_rig(Check& check, const Place& rig) {
  const Place tow_vehicle = rig["tow_vehicle"], trailer = rig["trailer"], limits = rig["limits"];
  check_tow_vehicle(check, tow_vehicle, check.session.rig.tow_vehicle);
  if (check.session.rig.trailer) check_trailer(check, trailer, *check.session.rig.trailer);
  for (std::size_t i = 0; i < check.session.rig.limits.size(); ++i) {
    const rig::Limit& limit = check.session.rig.limits[i];
    const Place place = limits[i];
    const Place of = place["of"];
    if (!check.sound(of)) continue;  // what the other fields may be depends on it
    check_limit_place(check, rig, of, limit);
    check_limit_value(check, place, limit);
    check_limit_extras(check, place, limit);
  }
}

}  // namespace steelyard::sheet
