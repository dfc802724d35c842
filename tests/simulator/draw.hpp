// Draws a rig, weighs it with the errors that a sheet declares, and keeps what is true beside the sheet.
//
// A session depends on its seed and number alone. Errors are those of the reconciliation model, section 4:
// lengths, gains, level, height sensitivity and coupling heights each normal with the u that the sheet (or
// its default) declares; per reading repeatability and placement normal, rounding by rounding, the zero
// rectangular over a division. Units: kg, mm; the sheet in its own, sometimes pounds and inches.
//
// What is never drawn: a D or a j that nobody measured (their u, 1500 and 200 mm, are no measurement's), and
// a reading of a support that carries too little to be read at all (`least_support_divisions`).
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rig/session.hpp"
#include "simulator/loads.hpp"
#include "simulator/random.hpp"

namespace steelyard::simulator {

/// What is drawn from where. kg and mm unless it says otherwise; each evenly.
namespace ranges {
inline constexpr Range wheelbase{2500, 3900}, tandem_spacing{1100, 1900};
inline constexpr Range front{650, 1600}, rear{600, 2200}, cg_height{550, 950};
inline constexpr Range trailer_mass{600, 3400}, coupling_share{0.03, 0.14}, small_coupling{0, 20};
inline constexpr Range fifth_wheel_share{0.10, 0.20}, fifth_wheel_overhang{-400, -40};
inline constexpr Range overhang{700, 1500}, to_axles{2200, 5200}, to_jockey{250, 900};
inline constexpr Range restoration{0.2, 1.0};  // part of the front axle's loss that the bars give back
inline constexpr Range slope{-10, 10};         // mm per m
inline constexpr Range share_of_pair{0.42, 0.58}, left{0.46, 0.54};
inline constexpr Range wheelbase_u{2, 15}, overhang_u{4, 20}, to_axles_u{5, 20}, to_jockey_u{3, 10};
inline constexpr Range cg_height_u{40, 120}, slope_u{0.5, 4}, height_u{2, 8};
inline constexpr Range gain_u{0.0003, 0.005};  // relative
inline constexpr Range raised_tow{20, 60}, raised_trailer{3, 12};
inline constexpr double greatest_height_spread = 60;
}  // namespace ranges

inline constexpr double least_support_divisions = 7;

struct Draw {
  bool each_twice = false;  // every position read a second time, after setting down again
  /// Level and height errors worked through the rig (slope by h, height by S) in place of the independent
  /// normal errors that section 4 makes of them.
  bool through_the_rig = false;
};

/// One scale's part in a reading.
struct ScalePart {
  double gain = 0;      // unknown to the sheet
  double known = 0;     // on the sheet
  double offset = 0;    // kg: repeatability and zero
  double division = 1;  // in the reading's unit
};

/// How one reading came about, so that it can be taken again of other loads with the same errors.
struct Taking {
  std::vector<ScalePart> parts;  // of two, the left wheel end stood on the first
  double placement = 0;          // relative
  double apart = 0;              // relative: a scale that was not named
  double strayed = 0;            // kg: a raised axle of an independently sprung trailer
  double raised = 0;             // f·t in mm; only where it takes load off a tow vehicle's axle
};

struct Simulation {
  rig::Session session;
  TrueRig rig;
  std::vector<TrueState> states;             // as session.states
  std::vector<Loads> loads;                  // likewise
  std::vector<std::vector<Taking>> takings;  // [state][reading]

  /// The true value of a quantity of section 6 by its name, state and position; empty text: none. Nothing
  /// where this rig has no such quantity.
  [[nodiscard]] std::optional<double> truth(std::string_view name, std::string_view state,
                                            std::string_view at) const;
};

Simulation draw(std::uint64_t seed, std::uint64_t number, const Draw& how = {});

/// What the scales show of these loads in state k, reading i: errors as they were drawn.
units::Load indicated(const Simulation& simulation, std::size_t state, std::size_t reading,
                      const Loads& loads);

}  // namespace steelyard::simulator
