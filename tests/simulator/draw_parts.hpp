// The steps of draw(), in the order they are taken. Internal to the simulator.
#pragma once

#include "simulator/draw.hpp"

namespace steelyard::simulator {

/// A scale as it truly is.
struct TrueScale {
  double gain = 0, known = 0;
  double division = 1, repeatability = 1;  // in the sheet's unit
};

struct Drawing {
  Random random;
  Draw how;
  Simulation out;
  std::vector<TrueScale> scales;      // as out.session.scales
  std::optional<std::size_t> nose;    // the small scale that only goes under the coupling
  double anonymous_gain = 0;          // of all scales not named
  double sensitivity_u = 0;           // u_S, kg/mm
  double cg_sheet = 700, cg_u = 100;  // h and its u as the sheet has them

  [[nodiscard]] units::Length length(double mm) const;   // as somebody would write it
  [[nodiscard]] units::Length exactly(double mm) const;  // in the sheet's unit
  /// Measured with a drawn u, or bare where chance has it, with the default u then.
  rig::MeasuredLength measured(double true_mm, Range u, double bare_u);
};

void draw_rig(Drawing& drawing);
void draw_scales(Drawing& drawing);
void draw_states(Drawing& drawing);
void draw_readings(Drawing& drawing, std::size_t state);

}  // namespace steelyard::simulator
