#include "reports/client/rig_shapes.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace steelyard::reports::client {
namespace {

using namespace pencil;

constexpr double wheel_radius = 350, beam_height = 520;

void ring(Drawing& drawing, Point centre, double radius, double width, std::uint32_t colour) {
  constexpr int corners = 36;
  Stroke stroke{{}, width, colour};
  for (int i = 0; i <= corners; ++i) {
    const double angle = 2 * std::numbers::pi * i / corners;
    stroke.points.push_back({centre.x + radius * std::cos(angle), centre.y + radius * std::sin(angle)});
  }
  drawing.strokes.push_back(std::move(stroke));
}

/// The fulcrum: a wedge whose edge touches the beam, drawn to and fro until it is full.
void wedge(Drawing& drawing, const Places& at) {
  Stroke stroke{{}, 2.5, brass};
  const double foot = 30, edge = beam_height - 2 * at.px;
  const double half = 0.55 * (edge - foot) * 0.8;
  constexpr int passes = 16;
  for (int i = 0; i <= passes; ++i) {
    const double share = static_cast<double>(i) / passes;
    const double side = (i % 2 == 0 ? 1 : -1) * half * (1 - share), y = foot + (edge - foot) * share;
    stroke.points.push_back({at.wheelbase + side, y});
    stroke.points.push_back({at.wheelbase - side, y});
  }
  drawing.strokes.push_back(std::move(stroke));
}

}  // namespace

void draw_outlines(Drawing& drawing, const Places& at) {
  const double tail =
      at.trailer && at.coupling > at.wheelbase ? at.coupling - 230 : at.tow_axles.back() + 800;
  const double nose = at.tow_axles.front() - 850, wheelbase = at.wheelbase;
  const double bonnet = 0.09 * wheelbase, roof = 0.27 * wheelbase, cab = 0.6 * wheelbase;
  drawing.strokes.push_back({{{nose, 480},
                              {nose, 860},
                              {nose + 180, 980},
                              {bonnet, 1040},
                              {roof, 1490},
                              {cab - 120, 1530},
                              {cab, 1480},
                              {cab + 40, 1040},
                              {tail, 1040},
                              {tail, 480},
                              {nose, 480}},
                             1.5,
                             pale});
  drawing.strokes.push_back(
      {{{bonnet + 120, 1060}, {roof + 60, 1420}, {cab - 160, 1440}, {cab - 80, 1060}, {bonnet + 120, 1060}},
       0.75,
       pale});
  if (!at.trailer) return;
  const double distance = at.trailer_group - at.coupling;
  double front = at.coupling + std::max(0.3 * distance, at.tow_axles.back() + 950 - at.coupling);
  front = std::min(front, at.trailer_axles.front() - 450);
  const double back = at.trailer_end;
  drawing.strokes.push_back({{{front, 600},
                              {front, 1160},
                              {front + 260, 1480},
                              {back - 120, 1480},
                              {back, 1380},
                              {back, 600},
                              {front, 600}},
                             1.5,
                             pale});
}

void draw_wheels(Drawing& drawing, const Places& at) {
  const auto wheel = [&](double x) {
    ring(drawing, {x, wheel_radius}, wheel_radius - 20, 2.5, ink);
    ring(drawing, {x, wheel_radius}, 0.55 * wheel_radius, 1, pale);
  };
  for (const double x : at.tow_axles) wheel(x);
  for (const double x : at.trailer_axles) wheel(x);
}

void draw_lever(Drawing& drawing, const Places& at) {
  const double height = at.coupling_height();
  drawing.strokes.push_back({{{at.front_end - 100, 0}, {at.rear_end + 100, 0}}, 1, pale});
  if (!at.lever) {
    drawing.strokes.push_back({{{0, beam_height}, {at.wheelbase, beam_height}}, 4, ink});
    if (at.trailer)
      drawing.strokes.push_back(
          {{{at.coupling, beam_height}, {at.trailer_axles.front(), beam_height}}, 1.5, ink, true});
    return;
  }
  drawing.strokes.push_back({{{0, beam_height}, {at.wheelbase, beam_height}}, 4, ink});
  if (height > beam_height) {
    drawing.strokes.push_back({{{at.coupling, beam_height}, {at.coupling, height}}, 4, ink});
    const double step = at.coupling + 0.3 * (at.trailer_group - at.coupling);
    drawing.strokes.push_back(
        {{{at.coupling, height}, {step, height}, {step, 600}, {at.trailer_group, 600}}, 4, teal});
  } else {
    drawing.strokes.push_back({{{at.wheelbase, beam_height}, {at.coupling, beam_height}}, 4, ink});
    drawing.strokes.push_back({{{at.coupling, beam_height}, {at.trailer_group, beam_height}}, 4, teal});
  }
}

void draw_arrow(Drawing& drawing, const Places& at, double x, double tail, double tip, std::uint32_t colour) {
  const double head = (tip > tail ? -1 : 1) * 8 * at.px, half = 5 * at.px;
  drawing.strokes.push_back({{{x, tail}, {x, tip}}, 3, colour});
  drawing.strokes.push_back({{{x - half, tip + head}, {x, tip}, {x + half, tip + head}}, 3, colour});
}

void draw_fulcrum(Drawing& drawing, const Places& at) {
  ring(drawing, {at.coupling, at.coupling_height()}, 3 * at.px, 4, brass);
  wedge(drawing, at);
}

}  // namespace steelyard::reports::client
