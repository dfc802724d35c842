// The blunders of the trade, one at a time, put into a simulated session.
//
// Kinds and sizes: the interchange form's explanation kinds and the trade's "what goes wrong, and how big".
// Those that change what rests on the scales are worked out by moments anew; the readings keep the errors
// that they were drawn with. Loads in kg, moments in kg·mm, places in mm.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "simulator/draw.hpp"

namespace steelyard::simulator {

enum class BlunderKind {
  digits_swapped,
  digit_dropped,
  digit_doubled,
  pounds_for_kilograms,
  sides_swapped,
  axles_swapped,
  states_swapped,
  scale_not_zeroed,
  jockey_still_loaded,
  jockey_taken_for_coupling,
  person_aboard,
  tyre_off_scale,
  weight_distribution_mislabelled,
};
inline constexpr int blunder_kinds = 13;
std::string_view to_text(BlunderKind kind);

namespace ranges {
inline constexpr Range not_zeroed{2, 50};         // kg, either sign
inline constexpr Range still_on_jockey{20, 150};  // kg
inline constexpr Range person{40, 130};           // kg
inline constexpr Range seat{0.25, 0.75};          // of the wheelbase, or of the way from coupling to axles
inline constexpr Range off_scale{0.1, 0.6};       // of the wheel's load
inline constexpr Range bars_at_front{40, 140};    // kg
}  // namespace ranges

/// A reading that the blunder changed.
struct Changed {
  std::string id, state;
  units::Load was, is;   // as entered
  double true_load = 0;  // kg, what rested there as the sheet's arrangement says it stood
};

struct Blundered {
  rig::Session session;
  BlunderKind kind = BlunderKind::digits_swapped;
  std::vector<Changed> changed;
  std::string state;                 // where it happened, or the first of two
  std::optional<std::string> scale;  // scale_not_zeroed
  std::optional<double> size;        // kg: offset, load, person; kg·mm: the bars' moment
};

/// One blunder of that kind, where and how large by chance; nothing where the session has no room for it.
std::optional<Blundered> blunder(const Simulation& simulation, BlunderKind kind, Random random);

}  // namespace steelyard::simulator
