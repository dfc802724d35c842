// The rules that a session must keep, whoever made it: what each value may be and what must fit together.
//
// Bounds are for telling slips from measurements, far outside any rig; they are stated in kg and mm here and
// tested on the converted value. A standard uncertainty that weighs an observation must be above 0: 0 would
// weigh infinitely.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "rig/session.hpp"
#include "sheet/faults.hpp"
#include "sheet/formats.hpp"

namespace steelyard::sheet {

namespace bounds {
inline constexpr double heaviest_kg = 200'000;         // one reading, one capacity, one modification
inline constexpr double heaviest_limit_kg = 500'000;   // one limit: a road train's combination rating
inline constexpr double heaviest_division_kg = 1'000;  // division, repeatability, zero error
inline constexpr double longest_mm = 100'000;
inline constexpr double shortest_wheelbase_mm = 100;  // also D; a smaller one was entered in another unit
inline constexpr double highest_mm = 10'000;
inline constexpr double least_u_mm = 0.001;
inline constexpr double least_division_kg = 1e-6;
inline constexpr double least_relative_u = 1e-9;
inline constexpr double largest_relative = 0.5;
inline constexpr double steepest_mm_per_m = 500;
inline constexpr double least_u_mm_per_m = 1e-4;
inline constexpr std::size_t most_scales_in_a_reading = 64;
}  // namespace bounds

/// Adds the faults of `session` to `faults`, save those of places in `broken`.
void check_session(const rig::Session& session, const BrokenPlaces& broken, Faults& faults);

/// What the rules share: the session and ways to test one value.
class Check {
 public:
  Check(const rig::Session& checked, const BrokenPlaces& broken, Faults& faults)
      : session(checked), broken_(broken), faults_(faults) {}

  const rig::Session& session;

  void fault(const Place& place, std::string what);
  [[nodiscard]] bool sound(const Place& place) const { return broken_.sound(place); }

  void text(const Place& place, std::string_view text, TextKind kind);
  /// A name that something refers to and that must be given.
  void name(const Place& place, std::string_view text);
  void date(const Place& place, std::string_view text);
  void time(const Place& place, std::string_view text);

  /// least ≤ value ≤ most; `unit` is for the message.
  void range(const Place& place, double value, double least, double most, std::string_view unit);
  void load(const Place& place, const std::optional<units::Load>& load, double least_kg, double most_kg);
  void length(const Place& place, const std::optional<units::Length>& length, double least_mm,
              double most_mm);
  /// A standard uncertainty in place["u"], or in `place` itself.
  void measured(const Place& place, const std::optional<rig::MeasuredLength>& length, double least_mm,
                double most_mm);
  void uncertainty(const Place& place, double value, double figure, double least, double most,
                   std::string_view unit);

 private:
  const BrokenPlaces& broken_;
  Faults& faults_;
};

/// A number for a message; what is not finite is said so.
std::string figure(double value);

// The rules, by part of the sheet.
void check_heading(Check& check, const Place& root);
void check_scales(Check& check, const Place& scales);
void check_rig(Check& check, const Place& rig);
void check_states(Check& check, const Place& states);

}  // namespace steelyard::sheet
