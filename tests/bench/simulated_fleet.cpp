#include "simulated_fleet.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "simulator/draw.hpp"

namespace steelyard::bench {
namespace {

constexpr std::uint64_t seed = 2026;
constexpr int rigs = 20'000;  // so that a fleet of 100,000 sessions weighs each about five times

/// 0 to 1, from the number alone.
double share(int number, unsigned salt) {
  std::uint64_t x = (static_cast<std::uint64_t>(number) + 1) * 0x9E3779B97F4A7C15u + salt * 0xBF58476D1CE4E5B9u;
  x ^= x >> 31;
  x *= 0x94D049BB133111EBu;
  x ^= x >> 29;
  return static_cast<double>(x >> 11) / 9007199254740992.0;
}

void add_limit(rig::Rig& rig, rig::LimitKind kind, double truth, double part, std::string part_name = {}) {
  rig::Limit limit;
  limit.kind = kind;
  // Most rigs carry 80 to 97 % of a rating, a few more than it.
  limit.load = units::Load{std::ceil(truth / part / 5) * 5, units::LoadUnit::kilogram};
  limit.part = std::move(part_name);
  limit.source = "plate";
  rig.limits.push_back(std::move(limit));
}

std::string two_digits(int number) {
  return (number < 10 ? "0" : "") + std::to_string(number);
}

void date_and_name(rig::Session& session, int number) {
  constexpr std::array places{"Depot 1", "Depot 2", "Depot 3", "Depot 4, north apron", "Reservoir 2 compound", "Weir yard"};
  constexpr std::array technicians{"R. Okoye", "S. Lindqvist", "T. Marama", "M. Adeyemi"};
  const auto pick = [number](const auto& list, unsigned salt) {
    return std::string(list[static_cast<std::size_t>(share(number, salt) * static_cast<double>(list.size()))]);
  };
  const int day = static_cast<int>(share(number, 1) * 28) + 1, month = static_cast<int>(share(number, 2) * 12) + 1;
  const int client = static_cast<int>(share(number, 3) * 40) + 1, rig = static_cast<int>(share(number, 4) * rigs);
  session.id = "sim-" + std::to_string(1'000'000 + number);
  session.weighed = {(share(number, 5) < 0.5 ? "2025-" : "2026-") + two_digits(month) + "-" + two_digits(day) +
                         "T08:40:00+02:00",
                     pick(places, 6), pick(technicians, 7), share(number, 8) < 0.8 ? "routine" : "owner's check"};
  session.client = {"client-" + two_digits(client), "Neighbour " + std::to_string(client) + " of Tallow Creek", ""};
  session.rig.tow_vehicle.uid = "tow-" + std::to_string(rig);
  session.rig.tow_vehicle.label = "utility " + std::to_string(rig);
  if (session.rig.trailer) {
    session.rig.trailer->uid = "trailer-" + std::to_string(rig);
    session.rig.trailer->label = "trailer " + std::to_string(rig);
  }
}

}  // namespace

rig::Session simulated_session(int number) {
  simulator::Simulation drawn = simulator::draw(seed, static_cast<std::uint64_t>(number));
  rig::Session session = std::move(drawn.session);
  session.rig.limits.clear();
  date_and_name(session, number);
  const auto part = [number](unsigned salt) { return 0.78 + 0.23 * share(number, salt); };
  const double tow = drawn.rig.tow.front + drawn.rig.tow.rear;
  const auto& trailer = drawn.rig.trailer;
  const double coupling = trailer && !trailer->self_supporting ? trailer->coupling : 0;
  add_limit(session.rig, rig::LimitKind::tow_gross, tow + std::max(coupling, 0.0), part(10));
  add_limit(session.rig, rig::LimitKind::tow_rear, drawn.rig.tow.rear + 1.4 * std::max(coupling, 0.0), part(11));
  if (!trailer) return session;
  add_limit(session.rig, rig::LimitKind::combination, tow + trailer->mass, part(12));
  add_limit(session.rig, rig::LimitKind::trailer_gross, trailer->mass, part(13));
  if (coupling > 0) add_limit(session.rig, rig::LimitKind::coupling, coupling, part(14), "towbar plate");
  return session;
}

}  // namespace steelyard::bench
