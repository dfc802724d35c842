// A limit: what a reading of the rig is compared with, who says so and where it was read.
//
// Units: a load limit is in kg or lb, a D- or Dc-value in kN, a share or ratio a plain number (0.10 for 10
// %). Nothing here is law: every limit carries its source, and two sources that disagree are both kept.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rig/position.hpp"
#include "units/quantity.hpp"

namespace steelyard::rig {

enum class LimitKind {
  tow_gross,
  tow_front,
  tow_rear,
  tow_axle,  // one axle of the tow vehicle: tow_axle.N
  tow_front_minimum_share,
  combination,
  trailer_gross,
  towed_mass,
  towed_mass_unbraked,
  trailer_axles,
  trailer_axle,  // one axle of the trailer: trailer_axle.N
  coupling,
  coupling_minimum,
  coupling_share_minimum,
  coupling_share_maximum,
  wheel,  // the heavier wheel end of one axle: wheel.tow.N, wheel.trailer.N
  mass_ratio,
  front_axle_restoration_minimum,
  front_axle_restoration_maximum,
  side_difference,
  d_value,
  dc_value,
};

/// What kind of number a limit's value is.
enum class Measure { load, ratio, force_kn };
Measure measure_of(LimitKind kind);

/// True where the value must not fall below the limit (margin = value − limit).
bool is_minimum(LimitKind kind);

enum class Basis { whole, axles };  // whole trailer M, or the axles' load M − C only

struct Limit {
  LimitKind kind = LimitKind::tow_gross;
  int axle = 0;                                  // tow_axle.N, trailer_axle.N, wheel.*.N; 0 otherwise
  Vehicle vehicle = Vehicle::tow;                // wheel.tow.N or wheel.trailer.N
  std::string part;                              // coupling chain: "towbar plate", …; empty where not given
  std::optional<units::Load> load;               // value of a load limit as entered
  std::optional<double> number;                  // value of a ratio (1) or of a force (kN)
  std::optional<int> load_index;                 // wheel limits: tyre load-capacity index in place of a value
  int tyres = 1;                                 // tyres at that wheel end, 1 or 2; only with load_index
  std::optional<units::Load> against;            // mass_ratio: the declared mass of the tow vehicle
  Basis basis = Basis::whole;                    // trailer_gross, towed_mass, towed_mass_unbraked
  std::optional<bool> with_weight_distribution;  // confines the limit to such states
  bool advice = false;                           // guidance, never part of the outcome
  std::string source, edition, jurisdiction, read_by;

  bool operator==(const Limit&) const = default;
};

/// "tow_axle.2", "wheel.trailer.1", "coupling", …; parse_limit_name fills kind, axle and vehicle.
std::string limit_name(const Limit& limit);
std::optional<Limit> parse_limit_name(std::string_view name);

/// Every canonical limit name, those with an axle written with ".N", in the order of the contract's table.
const std::vector<std::string_view>& limit_names();

}  // namespace steelyard::rig
