// Where a scale stood: the positions of a reading, as text and as values.
//
//   tow.1.left, trailer.2.right   one wheel end (single or dual tyres) of axle 1, 2 … counted from the front
//   tow.1, trailer.2              a whole axle
//   tow, trailer                  all axles of that vehicle
//   coupling, jockey              the support under the nose of the unhitched trailer
//
// Parsing never throws: what is not a position is nothing.
#pragma once

#include <compare>
#include <optional>
#include <string>
#include <string_view>

namespace steelyard::rig {

enum class Vehicle { tow, trailer };
enum class Side { left, right };
enum class Extent { wheel, axle, vehicle, coupling, jockey };

/// Invariant: `axle` is 1 or more for a wheel or an axle and 0 otherwise; `side` counts only for a wheel and
/// `vehicle` only for a wheel, an axle or a vehicle; both keep their first value elsewhere, so == compares
/// places.
struct Position {
  Extent extent = Extent::vehicle;
  Vehicle vehicle = Vehicle::tow;
  int axle = 0;
  Side side = Side::left;

  auto operator<=>(const Position&) const = default;

  static Position wheel(Vehicle v, int axle, Side s) { return {Extent::wheel, v, axle, s}; }
  static Position whole_axle(Vehicle v, int axle) { return {Extent::axle, v, axle, Side::left}; }
  static Position whole(Vehicle v) { return {Extent::vehicle, v, 0, Side::left}; }
  static Position support_at_coupling() { return {Extent::coupling, Vehicle::tow, 0, Side::left}; }
  static Position support_at_jockey() { return {Extent::jockey, Vehicle::tow, 0, Side::left}; }
};

/// Most axles a vehicle may have in a sheet (a bound on hostile input, far above any rig).
inline constexpr int most_axles = 20;

std::string to_text(const Position& position);
std::optional<Position> parse_position(std::string_view text);

/// "left front wheel of the tow vehicle" is for reports to say; this is the plain form for messages:
/// "tow vehicle axle 1, left".
std::string in_words(const Position& position);

}  // namespace steelyard::rig
