// The states: which are weighed, their heights, slopes and bars, and what then truly rests where.
#include <algorithm>
#include <cmath>

#include "simulator/draw_parts.hpp"
#include "simulator/exact.hpp"
#include "simulator/reference.hpp"

namespace steelyard::simulator {
namespace {

struct Arrangement {
  const char* name;
  bool hitched = false, bars = false;
  std::optional<rig::Support> support;
};

std::vector<Arrangement> coupled_plan(Random& random) {
  using rig::Support;
  std::vector<Arrangement> out;
  const double apart = random.uniform();
  const double fixed = random.uniform();
  if (apart < 0.60)
    out.push_back({"apart", false, false, Support::coupling});
  else if (apart < 0.78)
    out.push_back({"apart", false, false, Support::jockey});
  else if (apart < 0.86)
    out.push_back({"apart", false, false, {}});
  else if (apart < 0.96) {
    out.push_back({"apart", false, false, Support::coupling});
    out.push_back({"apart, on the jockey", false, false, Support::jockey});
  }
  if (fixed < 0.04 && !out.empty()) return out;
  const bool bars = random.chance(0.35), only_bars = bars && random.chance(0.15);
  if (!only_bars) {
    out.push_back({"together", true, false, {}});
    if (random.chance(0.3)) out.push_back({"together again", true, false, {}});
  }
  if (bars) {
    out.push_back({"as driven", true, true, {}});
    if (random.chance(0.25)) out.push_back({"bars tighter", true, true, {}});
  }
  if (random.chance(0.1)) std::reverse(out.begin(), out.end());
  return out;
}

std::vector<Arrangement> plan(Drawing& drawing) {
  const auto& trailer = drawing.out.rig.trailer;
  Random& random = drawing.random;
  if (trailer && !trailer->self_supporting) return coupled_plan(random);
  std::vector<Arrangement> out{{"apart", false, false, {}}};
  if (!trailer && random.chance(0.5)) out.push_back({"apart again", false, false, {}});
  if (!trailer) return out;
  if (random.chance(0.2)) out.clear();
  out.push_back({"together", true, false, {}});
  if (random.chance(0.3)) out.push_back({"together again", true, false, {}});
  return out;
}

struct Height {
  double truly = 0, u = 18;
  std::optional<double> sheet;
};

/// Heights are measured in every state, in none, or (all at one height then) in some.
std::vector<Height> draw_heights(Drawing& drawing) {
  Random& random = drawing.random;
  const double coupling = drawing.out.rig.trailer->coupling;
  const double widest = std::min(ranges::greatest_height_spread, 0.2 * coupling / drawing.sensitivity_u);
  const double base = random.uniform({380, 520}), measured = random.pick({1.0, 1.0, 1.0, 0.5, 0.0});
  const double spread = measured == 1 ? random.pick({0.0, 0.3, 1.0}) * widest : 0;
  std::vector<Height> out;
  for (rig::State& state : drawing.out.session.states) {
    Height& height = out.emplace_back();
    if (!random.chance(measured)) {
      height.truly = random.normal(base, height.u);
      continue;
    }
    height.truly = base + spread * random.uniform({-0.5, 0.5});
    state.coupling_height = drawing.measured(height.truly, ranges::height_u, 5);
    height.u = state.coupling_height->u ? state.coupling_height->u->mm().value() : 5;
    height.sheet = state.coupling_height->value.mm().value();
  }
  return out;
}

/// What height makes of the coupling load (model, section 3), as declared or through the rig's own S.
void height_effects(Drawing& drawing, std::size_t reference) {
  const std::vector<Height> heights = draw_heights(drawing);
  const Height& there = heights[reference];
  const double sensitivity = drawing.out.rig.trailer->sensitivity;
  std::vector<double> error;
  for (const Height& here : heights)
    error.push_back(drawing.random.normal(0, drawing.sensitivity_u * here.u));
  for (std::size_t k = 0; k < heights.size(); ++k) {
    const Height& here = heights[k];
    double& effect = drawing.out.states[k].height_effect;
    if (k == reference) continue;
    if (drawing.how.through_the_rig) {
      effect = sensitivity * (here.truly - there.truly);
      continue;
    }
    effect = error[k] - error[reference];
    if (here.sheet && there.sheet) effect += sensitivity * (*here.sheet - *there.sheet);
  }
}

double draw_level(Drawing& drawing, rig::State& sheet) {
  Random& random = drawing.random;
  double slope = 0, u = 2;
  if (random.chance(0.4)) {
    slope = std::round(random.uniform(ranges::slope) * 10) / 10;
    sheet.slope = rig::MeasuredSlope{slope, std::nullopt};
    if (random.chance(0.6)) sheet.slope->u = u = std::round(random.uniform(ranges::slope_u) * 10) / 10;
  }
  const double spread = std::hypot(drawing.cg_sheet * u, slope * drawing.cg_u) / 1000;
  const double declared = random.normal(drawing.cg_sheet * slope / 1000, spread);
  const double actual = drawing.out.rig.tow.cg_height * random.normal(slope, u) / 1000;
  return drawing.how.through_the_rig ? actual : declared;
}

void draw_sharing(Random& random, const TrueRig& rig, TrueState& state) {
  for (std::size_t v = 0; v < 2; ++v) {
    for (double& left : state.left[v]) left = random.uniform(ranges::left);
    std::array<double, 2> sum{};
    const auto group = [&](std::size_t a) {
      return v == 0 && rig.tow.groups[a] == rig::Group::rear ? 1u : 0u;
    };
    for (std::size_t a = 0; a < state.share[v].size(); ++a)
      sum[group(a)] += state.share[v][a] = random.uniform(ranges::share_of_pair);
    for (std::size_t a = 0; a < state.share[v].size(); ++a) state.share[v][a] /= sum[group(a)];
  }
}

/// The moment that gives the front axle back a part of what the coupling took from it.
double draw_bars(Drawing& drawing) {
  return bars_for(*drawing.out.rig.trailer, drawing.random.uniform(ranges::restoration));
}

}  // namespace

void draw_states(Drawing& drawing) {
  Simulation& out = drawing.out;
  for (const Arrangement& arrangement : plan(drawing)) {
    rig::State& sheet = out.session.states.emplace_back();
    sheet.name = arrangement.name;
    sheet.hitched = arrangement.hitched;
    sheet.weight_distribution = arrangement.bars;
    sheet.support = arrangement.support;
    TrueState& state = out.states.emplace_back(plain_state(out.rig, sheet.hitched, sheet.support));
    draw_sharing(drawing.random, out.rig, state);
    state.level = draw_level(drawing, sheet);
    if (sheet.weight_distribution) state.bars = draw_bars(drawing);
    if (!sheet.hitched && !sheet.support) state.stand = drawing.random.uniform({0, 400});
  }
  const auto reference = reference_of(out.session.states);
  if (reference && out.rig.trailer && !out.rig.trailer->self_supporting) height_effects(drawing, *reference);
  for (const TrueState& state : out.states) out.loads.push_back(loads(out.rig, state));
  for (std::size_t k = 0; k < out.states.size(); ++k) draw_readings(drawing, k);
}

}  // namespace steelyard::simulator
