// Which positions are read, on which scales, and what these show.
#include <algorithm>
#include <cmath>

#include "simulator/draw_parts.hpp"

namespace steelyard::simulator {
namespace {

using rig::Position;
using rig::Vehicle;

enum class Style { wheels, axles, whole, mixed };

/// Positions of one axle in a mixed weighing.
void mixed_axle(Random& random, Vehicle vehicle, int axle, std::vector<Position>& out) {
  const Position left = Position::wheel(vehicle, axle, rig::Side::left),
                 right = Position::wheel(vehicle, axle, rig::Side::right),
                 both = Position::whole_axle(vehicle, axle);
  switch (random.below(6)) {
    case 0:
      return;
    case 1:
      return out.push_back(random.chance(0.5) ? left : right);
    case 2:
      return out.push_back(both);
    case 3:
      out.push_back(both);
      [[fallthrough]];
    default:
      out.push_back(left);
      out.push_back(right);
  }
}

void vehicle_positions(Random& random, Vehicle vehicle, std::size_t axles, std::vector<Position>& out) {
  const Style style = random.pick(
      {Style::wheels, Style::wheels, Style::axles, Style::axles, Style::whole, Style::mixed, Style::mixed});
  const bool forget_last = random.chance(0.06);
  for (int a = 1; a <= static_cast<int>(axles); ++a) {
    if (forget_last && a == static_cast<int>(axles)) break;
    if (style == Style::axles) out.push_back(Position::whole_axle(vehicle, a));
    if (style == Style::wheels) {
      out.push_back(Position::wheel(vehicle, a, rig::Side::left));
      out.push_back(Position::wheel(vehicle, a, rig::Side::right));
    }
    if (style == Style::mixed) mixed_axle(random, vehicle, a, out);
  }
  if (style == Style::whole || (style == Style::mixed && random.chance(0.4)))
    out.push_back(Position::whole(vehicle));
}

std::vector<Position> positions(Drawing& drawing, std::size_t k) {
  Random& random = drawing.random;
  const Simulation& out = drawing.out;
  std::vector<Position> all;
  const bool rests = out.states[k].support.has_value();
  if (random.chance(out.states[k].hitched ? 0.93 : 0.9))
    vehicle_positions(random, Vehicle::tow, out.rig.tow.places.size(), all);
  if (out.rig.trailer && random.chance(out.states[k].hitched ? 0.93 : 0.7))
    vehicle_positions(random, Vehicle::trailer, static_cast<std::size_t>(out.rig.trailer->axles), all);
  if (rests && random.chance(0.93))
    all.push_back(out.states[k].support == rig::Support::coupling ? Position::support_at_coupling()
                                                                  : Position::support_at_jockey());
  return all;
}

bool on_support(const Position& at) {
  return at.extent == rig::Extent::coupling || at.extent == rig::Extent::jockey;
}

std::vector<std::size_t> choose_scales(Drawing& drawing, const Position& at) {
  Random& random = drawing.random;
  if (on_support(at) && drawing.nose) return {*drawing.nose};
  const std::size_t free = drawing.scales.size() - (drawing.nose ? 1 : 0);
  if (free == 0 || random.chance(0.08)) return {};
  const std::size_t first = random.below(free);
  if (at.extent != rig::Extent::axle || free == 1 || random.chance(0.4)) return {first};
  return {first, (first + 1 + random.below(free - 1)) % free};
}

/// Pads under one axle at a time: what it does to a reading depends on the vehicle (model, section 4).
void draw_raised(Drawing& drawing, rig::Reading& reading, Taking& taking) {
  Random& random = drawing.random;
  const bool part = reading.at.extent == rig::Extent::wheel || reading.at.extent == rig::Extent::axle;
  if (!part || !random.chance(0.06)) return;
  const bool of_trailer = reading.at.vehicle == Vehicle::trailer;
  const double height = std::round(random.uniform(of_trailer ? ranges::raised_trailer : ranges::raised_tow));
  reading.raised = drawing.exactly(height);
  const double share = reading.at.extent == rig::Extent::axle ? 1 : 0.5;
  if (!of_trailer)
    taking.raised = share * height;
  else if (drawing.out.rig.trailer->suspension == rig::Suspension::independent)
    taking.strayed = random.normal(0, 12 * share * height);
}

void draw_taking(Drawing& drawing, std::size_t k, const Position& at) {
  Random& random = drawing.random;
  rig::State& sheet = drawing.out.session.states[k];
  rig::Reading reading;
  reading.at = at;
  reading.load.unit = drawing.out.session.units.load;
  Taking taking;
  const std::vector<std::size_t> chosen = choose_scales(drawing, at);
  const auto offset = [&](double division, double repeatability, double unit) {
    return unit * (random.normal(0, repeatability) + division * random.uniform({-0.5, 0.5}));
  };
  double coarsest = 1;
  for (const std::size_t s : chosen) {
    const TrueScale& scale = drawing.scales[s];
    const double unit = units::Load{1, reading.load.unit}.kg().value();
    coarsest = std::max(scale.division, scale.repeatability) * unit;
    reading.scales.push_back(drawing.out.session.scales[s].id);
    taking.parts.push_back(
        {scale.gain, scale.known, offset(scale.division, scale.repeatability, unit), scale.division});
  }
  if (chosen.empty()) {  // a division of 1 kg is supposed of it, whatever the sheet's unit
    reading.load.unit = units::LoadUnit::kilogram;
    taking.parts.push_back({drawing.anonymous_gain, 0, offset(1, 1, 1), 1});
    taking.apart = random.normal(0, 0.003);
  }
  if (on_support(at) && drawing.out.loads[k].support < least_support_divisions * coarsest) return;
  if (!on_support(at)) taking.placement = random.normal(0, 0.002);
  draw_raised(drawing, reading, taking);
  sheet.readings.push_back(reading);
  drawing.out.takings[k].push_back(taking);
  const std::size_t i = sheet.readings.size() - 1;
  sheet.readings[i].load = indicated(drawing.out, k, i, drawing.out.loads[k]);
}

}  // namespace

units::Load indicated(const Simulation& simulation, std::size_t state, std::size_t reading,
                      const Loads& on_site) {
  const rig::Reading& sheet = simulation.session.states[state].readings[reading];
  const Taking& taking = simulation.takings[state][reading];
  const double all = load_at(on_site, sheet.at);
  const double lifted = load_at(on_site, Position::whole(Vehicle::tow)) * simulation.rig.tow.cg_height *
                        taking.raised / (simulation.rig.tow.wheelbase * simulation.rig.tow.wheelbase);
  const double borne = (all - lifted) * (1 + taking.placement + taking.apart) + taking.strayed;
  const double unit = units::Load{1, sheet.load.unit}.kg().value();
  double part = 1, shown = 0, finest = taking.parts[0].division;
  for (std::size_t s = 0; s < taking.parts.size(); ++s) {
    const ScalePart& scale = taking.parts[s];
    if (taking.parts.size() == 2) {
      const double left = load_at(on_site, Position::wheel(sheet.at.vehicle, sheet.at.axle, rig::Side::left));
      part = s == 0 ? left / all : 1 - left / all;
    }
    const double load = (borne * part * (1 + scale.gain) + scale.offset) * (1 + scale.known) / unit;
    shown += std::round(load / scale.division) * scale.division;
    finest = std::min(finest, scale.division);
  }
  return {std::max(shown, finest), sheet.load.unit};
}

void draw_readings(Drawing& drawing, std::size_t k) {
  drawing.out.takings.resize(std::max(drawing.out.takings.size(), k + 1));
  std::vector<Position> once = positions(drawing, k);
  const std::size_t count = once.size();
  for (std::size_t i = 0; i < count; ++i)
    if (drawing.how.each_twice || drawing.random.chance(0.06)) once.push_back(once[i]);
  for (const Position& at : once) draw_taking(drawing, k, at);
}

}  // namespace steelyard::simulator
