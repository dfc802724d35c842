// The shapes that the rig's picture is made of: outlines, wheels, the lever and its fulcrum, arrows.
//
// Units: millimetres of the rig, both ways; heights are the picture's own.
#pragma once

#include <cstdint>

#include "reports/client/rig_places.hpp"
#include "reports/words/drawing.hpp"

namespace steelyard::reports::client {

namespace pencil {
inline constexpr std::uint32_t ink = 0x22313A, pale = 0xA9B4BA, brass = 0xB07A1E, faint = 0x66737B,
                               teal = 0x0F6B5C;
}

inline constexpr double top_of_outline = 1560;

void draw_outlines(Drawing& drawing, const Places& at);
void draw_wheels(Drawing& drawing, const Places& at);
/// The tow vehicle's beam, the trailer's, the ground.
void draw_lever(Drawing& drawing, const Places& at);
/// The fulcrum, and the joint where the coupling is.
void draw_fulcrum(Drawing& drawing, const Places& at);
/// An arrow along y from `tail` to `tip`.
void draw_arrow(Drawing& drawing, const Places& at, double x, double tail, double tip, std::uint32_t colour);

}  // namespace steelyard::reports::client
