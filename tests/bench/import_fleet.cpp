#include "import_fleet.hpp"

#include <cmath>
#include <cstdio>
#include <random>
#include <string_view>

namespace steelyard::bench {
namespace {

using rig::Position;
using rig::Side;
using rig::Vehicle;

constexpr auto kg = units::LoadUnit::kilogram;
constexpr auto mm = units::LengthUnit::millimetre;

std::string numbered(std::string_view stem, int number) {
  return std::string(stem).append(std::to_string(number));
}

/// Readings of one session, on a scale of its own for each corner in turn.
class Readings {
 public:
  explicit Readings(int seed) : random_(static_cast<unsigned>(seed)) {}

  void add(rig::State& state, const Position& at, double load) {
    rig::Reading reading;
    reading.id = numbered("r", ++count_);
    reading.at = at;
    reading.load = {std::round(load + spread_(random_)), kg};
    reading.scales = {numbered("P", count_ % 4 + 1)};
    state.readings.push_back(reading);
  }

  void add_wheels(rig::State& state, Vehicle vehicle, double load) {
    for (const int axle : {1, 2})
      for (const Side side : {Side::left, Side::right})
        add(state, Position::wheel(vehicle, axle, side), load);
  }

 private:
  std::mt19937 random_;
  std::uniform_real_distribution<double> spread_{-40, 40};
  int count_ = 0;
};

std::vector<rig::State> states(int number) {
  std::vector<rig::State> all(3);
  Readings readings(number);
  all[0].name = "apart";
  all[0].support = rig::Support::coupling;
  all[0].coupling_height = rig::MeasuredLength{{442, mm}, units::Length{5, mm}};
  all[1].name = "together";
  all[2].name = "as driven";
  all[1].hitched = all[2].hitched = true;
  all[2].weight_distribution = all[2].travels = true;
  all[2].ride_heights = {{"front_left", {512, mm}}, {"rear_left", {540, mm}}};
  for (rig::State& state : all) {
    readings.add_wheels(state, Vehicle::tow, 650);
    readings.add_wheels(state, Vehicle::trailer, 430);
  }
  readings.add(all[0], Position::support_at_coupling(), 170);
  readings.add_wheels(all[1], Vehicle::tow, 650);
  readings.add(all[2], Position::whole_axle(Vehicle::tow, 2), 1300);
  return all;
}

std::vector<rig::Scale> scales() {
  std::vector<rig::Scale> all(5);
  for (int i = 0; i < 5; ++i) {
    rig::Scale& scale = all[static_cast<std::size_t>(i)];
    scale.id = numbered("P", i + 1);
    scale.uid = numbered("scale-04", 17 + i);
    scale.serial = numbered("04", 17 + i);
    scale.capacity = units::Load{1500, kg};
    scale.division = units::Load{1, kg};
    scale.gain_u = 0.0006;
    scale.certificate = "K-2291";
    scale.calibrated = "2026-02-11";
    scale.due = "2027-02-11";
  }
  return all;
}

std::vector<rig::Limit> limits() {
  std::vector<rig::Limit> all;
  for (const auto& [name, value] : {std::pair<const char*, double>{"tow_gross", 3150},
                                    {"tow_rear", 1850},
                                    {"combination", 5500},
                                    {"trailer_gross", 2000},
                                    {"coupling", 250}}) {
    rig::Limit limit = rig::parse_limit_name(name).value();
    limit.load = units::Load{value, kg};
    limit.source = "compliance plate";
    all.push_back(limit);
  }
  rig::Limit share = rig::parse_limit_name("coupling_share_minimum").value();
  share.number = 0.05;
  share.advice = true;
  share.source = "operator's policy";
  all.push_back(share);
  return all;
}

}  // namespace

rig::Session fleet_session(int number) {
  char text[64];
  rig::Session session;
  std::snprintf(text, sizeof text, "%08x-6a5e-4f0e-9a51-2f5b8f0f9d11",
                static_cast<unsigned>(number) * 2654435761u);
  session.id = text;
  std::snprintf(text, sizeof text, "2026-%02d-%02dT%02d:40:00+02:00", number % 12 + 1, number % 28 + 1,
                number % 24);
  session.weighed = {text, "Depot 4, north apron", "R. Okoye", "routine"};
  session.client = {"tcwb", "Tallow Creek Water Board", numbered("WO-", number)};
  session.conditions = {"sealed, level", "calm", ""};
  session.carried = {75, 2, "survey kit aboard"};
  session.scales = scales();
  rig::TowVehicle& vehicle = session.rig.tow_vehicle;
  vehicle.uid = vehicle.registration = numbered("tcw-", number % 400);
  vehicle.label = numbered("survey utility ", number % 400);
  vehicle.axles = {{{0, mm}, rig::Group::front}, {{3085, mm}, rig::Group::rear}};
  vehicle.overhang = rig::MeasuredLength{{1190, mm}, units::Length{10, mm}};
  rig::Trailer& trailer = session.rig.trailer.emplace();
  trailer.uid = trailer.registration = numbered("tcw-t", number % 150);
  trailer.label = numbered("pump trailer ", number % 150);
  trailer.axles = 2;
  trailer.coupling_to_axles = rig::MeasuredLength{{3420, mm}, units::Length{10, mm}};
  session.rig.limits = limits();
  session.states = states(number);
  return session;
}

}  // namespace steelyard::bench
