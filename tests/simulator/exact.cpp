#include "simulator/exact.hpp"

#include <cmath>

#include "simulator/reference.hpp"

namespace steelyard::simulator {

double bars_for(const TrueTrailer& trailer, double restoration) {
  return restoration * trailer.coupling * std::abs(trailer.overhang) /
         (1 + trailer.overhang / trailer.to_axles);
}

std::vector<rig::State> weigh_exactly(const TrueRig& rig, const std::vector<Wanted>& wanted,
                                      double restoration) {
  std::vector<rig::State> out;
  for (const Wanted& one : wanted) out.push_back(one.state);
  const auto reference = reference_of(out);
  const auto height = [&](std::size_t k) -> const auto& {
    return wanted[k].state.coupling_height;
  };
  int id = 0;
  for (std::size_t k = 0; k < out.size(); ++k) {
    rig::State& sheet = out[k];
    sheet.readings.clear();
    TrueState state = plain_state(rig, sheet.hitched, sheet.support);
    if (sheet.slope) state.level = rig.tow.cg_height * sheet.slope->value / 1000;
    if (rig.trailer && sheet.weight_distribution) state.bars = bars_for(*rig.trailer, restoration);
    if (rig.trailer && reference && height(k) && height(*reference))
      state.height_effect =
          rig.trailer->sensitivity * (height(k)->value.mm().value() - height(*reference)->value.mm().value());
    const Loads on_site = loads(rig, state);
    for (std::size_t i = 0; i < wanted[k].positions.size(); ++i) {
      rig::Reading& reading = sheet.readings.emplace_back();
      reading.id = std::string("r").append(std::to_string(++id));
      reading.at = wanted[k].positions[i];
      reading.load = {load_at(on_site, reading.at), units::LoadUnit::kilogram};
      if (i < wanted[k].scales.size()) reading.scales = wanted[k].scales[i];
    }
  }
  return out;
}

}  // namespace steelyard::simulator
