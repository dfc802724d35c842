// The rig, what its sheet says of it, and the scales.
#include <algorithm>
#include <cmath>

#include "simulator/draw_parts.hpp"

namespace steelyard::simulator {
namespace {

constexpr double tenth = 0.1, hundredth = 0.01;

double rounded(double value, double step) {
  return std::round(value / step) * step;
}

void draw_axles(Drawing& drawing) {
  Random& random = drawing.random;
  TrueTow& tow = drawing.out.rig.tow;
  tow.wheelbase = random.uniform(ranges::wheelbase);
  using rig::Group;
  tow.groups = {Group::front, Group::rear};
  if (random.chance(0.15)) {
    tow.groups = random.pick<std::vector<Group>>({{Group::front, Group::rear, Group::rear},
                                                  {Group::front, Group::front, Group::rear},
                                                  {Group::front, Group::rear, Group::rear, Group::rear},
                                                  {Group::front, Group::front, Group::rear, Group::rear}});
  }
  const double spacing = random.uniform(ranges::tandem_spacing);
  for (const Group group : {Group::front, Group::rear}) {
    const auto count = static_cast<double>(std::count(tow.groups.begin(), tow.groups.end(), group));
    const double centre = group == Group::rear ? tow.wheelbase : 0;
    for (int i = 0; i < static_cast<int>(count); ++i)
      tow.places.push_back(centre + spacing * (i - (count - 1) / 2));
  }
}

/// The sheet's axle places: the true ones, the rear group off by the error of the wheelbase.
void declare_axles(Drawing& drawing) {
  Random& random = drawing.random;
  rig::TowVehicle& sheet = drawing.out.session.rig.tow_vehicle;
  TrueTow& tow = drawing.out.rig.tow;
  double u = 5;
  if (random.chance(0.4)) {
    u = rounded(random.uniform(ranges::wheelbase_u), tenth);
    sheet.wheelbase_u = drawing.exactly(u);
  }
  const double error = random.normal(0, u);
  for (std::size_t a = 0; a < tow.places.size(); ++a) {
    const double off = tow.groups[a] == rig::Group::rear ? error : 0;
    sheet.axles.push_back({drawing.length(tow.places[a] - tow.places[0] + off), tow.groups[a]});
  }
}

void draw_tow(Drawing& drawing) {
  Random& random = drawing.random;
  TrueTow& tow = drawing.out.rig.tow;
  draw_axles(drawing);
  declare_axles(drawing);
  tow.front = random.uniform(ranges::front);
  tow.rear = random.uniform(ranges::rear);
  if (random.chance(0.5)) {
    const double u = rounded(random.uniform(ranges::cg_height_u), tenth);
    tow.cg_height = random.uniform(ranges::cg_height);
    drawing.cg_sheet = rounded(random.normal(tow.cg_height, u), tenth);
    drawing.cg_u = u;
    drawing.out.session.rig.tow_vehicle.cg_height =
        rig::MeasuredLength{drawing.exactly(drawing.cg_sheet), drawing.exactly(u)};
  } else {
    tow.cg_height = random.normal(drawing.cg_sheet, drawing.cg_u);
  }
}

void draw_coupling(Drawing& drawing, TrueTrailer& trailer) {
  Random& random = drawing.random;
  rig::Rig& sheet = drawing.out.session.rig;
  trailer.overhang = random.uniform(ranges::overhang);
  trailer.coupling = trailer.mass * random.uniform(ranges::coupling_share);
  const double kind = random.uniform();
  if (kind < 0.08) {
    trailer.overhang = random.uniform(ranges::fifth_wheel_overhang);
    trailer.coupling = trailer.mass * random.uniform(ranges::fifth_wheel_share);
  } else if (kind < 0.16) {
    trailer.coupling = random.uniform(ranges::small_coupling);
  }
  trailer.to_axles = random.uniform(ranges::to_axles);
  trailer.to_jockey = random.uniform(ranges::to_jockey);
  if (random.chance(0.75))
    sheet.tow_vehicle.overhang = drawing.measured(trailer.overhang, ranges::overhang_u, 10);
  sheet.trailer->coupling_to_axles = drawing.measured(trailer.to_axles, ranges::to_axles_u, 10);
  sheet.trailer->coupling_to_jockey = drawing.measured(trailer.to_jockey, ranges::to_jockey_u, 5);
}

void draw_trailer(Drawing& drawing) {
  Random& random = drawing.random;
  const double kind = random.uniform();
  if (kind < 0.05) return;
  rig::Trailer& sheet = drawing.out.session.rig.trailer.emplace();
  TrueTrailer& trailer = drawing.out.rig.trailer.emplace();
  trailer.self_supporting = sheet.self_supporting = kind < 0.12;
  trailer.axles = sheet.axles = random.pick({1, 1, 2, 2, 2, 3});
  using rig::Suspension;
  trailer.suspension = trailer.axles == 1 ? Suspension::single
                                          : random.pick({Suspension::independent, Suspension::load_sharing});
  if (trailer.suspension == Suspension::load_sharing || random.chance(0.5))
    sheet.suspension = trailer.suspension;
  trailer.mass = random.uniform(ranges::trailer_mass);
  if (trailer.self_supporting) return;
  drawing.sensitivity_u = trailer.suspension == Suspension::independent ? 1.0 : 0.15;
  if (random.chance(0.15)) {
    drawing.sensitivity_u = rounded(random.uniform({0.1, 1.5}), hundredth);
    drawing.out.session.assumptions.height_sensitivity_u = drawing.sensitivity_u;
  }
  trailer.sensitivity = random.normal(0, drawing.sensitivity_u);
  draw_coupling(drawing, trailer);
}

rig::Scale named(std::size_t number) {
  rig::Scale scale;
  scale.id = std::string("P").append(std::to_string(number + 1));
  return scale;
}

/// Class III at 6 t by 2 kg, 3000 divisions: ±1.5 e at first, twice that in service (OIML R 76-1, Table 6,
/// 3.5.2), as a rectangular distribution's u.
double of_class_three(rig::Scale& scale, units::LoadUnit unit) {
  constexpr double capacity = 6000, division = 2;
  scale.capacity = units::Load{capacity, unit};
  scale.accuracy_class = rig::AccuracyClass::III;
  return 2 * 1.5 * division / capacity / std::sqrt(3.0);
}

}  // namespace

units::Length Drawing::length(double mm) const {
  const units::LengthUnit unit = out.session.units.length;
  if (unit == units::LengthUnit::inch) return {rounded(mm / units::millimetres_per_inch, hundredth), unit};
  return {rounded(mm, tenth), unit};
}

units::Length Drawing::exactly(double mm) const {
  const units::LengthUnit unit = out.session.units.length;
  return {unit == units::LengthUnit::inch ? mm / units::millimetres_per_inch : mm, unit};
}

rig::MeasuredLength Drawing::measured(double true_mm, Range u, double bare_u) {
  if (random.chance(0.4)) return {length(random.normal(true_mm, bare_u)), std::nullopt};
  const double drawn = rounded(random.uniform(u), tenth);
  return {length(random.normal(true_mm, drawn)), exactly(drawn)};
}

void draw_rig(Drawing& drawing) {
  draw_tow(drawing);
  draw_trailer(drawing);
}

void draw_scales(Drawing& drawing) {
  Random& random = drawing.random;
  drawing.anonymous_gain = random.normal(0, 0.003);
  if (random.chance(0.1)) return;
  const units::LoadUnit unit = drawing.out.session.units.load;
  const bool pounds = unit == units::LoadUnit::pound;
  for (std::size_t i = 0, count = 1 + random.below(5); i < count; ++i) {
    rig::Scale scale = named(i);
    TrueScale& truly = drawing.scales.emplace_back();
    truly.division = pounds ? random.pick({1.0, 2.0, 5.0}) : random.pick({0.5, 1.0, 1.0, 2.0});
    double u = 0.003;
    const double kind = random.uniform();
    if (kind < 0.55)
      scale.gain_u = u = rounded(random.uniform(ranges::gain_u), 1e-5);
    else if (kind < 0.8) {
      truly.division = 2;
      u = of_class_three(scale, unit);
    }
    scale.division = units::Load{truly.division, unit};
    truly.repeatability = truly.division;
    if (random.chance(0.4)) {
      truly.repeatability = rounded(truly.division * random.uniform({0.4, 2}), hundredth);
      scale.repeatability = units::Load{truly.repeatability, unit};
    }
    if (random.chance(0.2)) scale.gain = truly.known = rounded(random.normal(0, 0.002), 1e-5);
    truly.gain = random.normal(0, u);
    drawing.out.session.scales.push_back(scale);
  }
  if (!random.chance(0.6)) return;
  rig::Scale scale = named(0);
  scale.id = "N1";
  scale.division = units::Load{pounds ? 1.0 : 0.5, unit};
  scale.gain_u = 0.001;
  drawing.nose = drawing.scales.size();
  drawing.scales.push_back({random.normal(0, 0.001), 0, scale.division->figure, scale.division->figure});
  drawing.out.session.scales.push_back(scale);
}

}  // namespace steelyard::simulator
