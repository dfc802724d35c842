// The rig from above: the load at each wheel end as it travels, left and right, and which side is the
// heavier. Places along the rig are to scale, its width is not. Nothing where no axle's two ends were read
// apart.
#include <algorithm>
#include <cmath>

#include "reports/client/rig_shapes.hpp"

namespace steelyard::reports::client {
namespace {

using namespace pencil;
using reconcile::Quantity;

/// Pixels of the picture from the centre line: to the sides, the wheels, the figures; half its height.
constexpr double side = 46, wheel = 36, figure_at = 66, next_row = 13, half_height = 98, wheel_length = 34;
constexpr double figure_width = 64;  // of a load with its unit; nearer ones stand in two rows

struct Ends {
  rig::Vehicle vehicle = rig::Vehicle::tow;
  int axle = 1;
  double x = 0;
  const Quantity *left = nullptr, *right = nullptr, *difference = nullptr;
};

const Quantity* at_place(const Source& source, std::string_view name, const std::string& state,
                         const std::string& at) {
  for (const Quantity& quantity : source.findings.quantities)
    if (quantity.name == name && quantity.state == state && quantity.at == at && quantity.determinable)
      return &quantity;
  return nullptr;
}

/// Axles whose two ends are known apart in the state that the rig travels in.
std::vector<Ends> ends_of(const Source& source, const Places& at) {
  std::vector<Ends> all;
  const rig::State* state = source.travels();
  if (!state) return all;
  const auto add = [&](rig::Vehicle vehicle, const std::vector<double>& axles) {
    for (std::size_t i = 0; i < axles.size(); ++i) {
      const int axle = static_cast<int>(i) + 1;
      const auto load = [&](rig::Side which) {
        return at_place(source, "wheel_load", state->name,
                        rig::to_text(rig::Position::wheel(vehicle, axle, which)));
      };
      const Ends ends{vehicle,
                      axle,
                      axles[i],
                      load(rig::Side::left),
                      load(rig::Side::right),
                      at_place(source, "side_difference", state->name,
                               rig::to_text(rig::Position::whole_axle(vehicle, axle)))};
      if (ends.left && ends.right) all.push_back(ends);
    }
  };
  add(rig::Vehicle::tow, at.tow_axles);
  add(rig::Vehicle::trailer, at.trailer_axles);
  return all;
}

void draw_plan(Drawing& drawing, const Places& at) {
  const auto box = [&](double from, double to) {
    const double half = side * at.px;
    drawing.strokes.push_back(
        {{{from, -half}, {to, -half}, {to, half}, {from, half}, {from, -half}}, 1.5, pale});
  };
  const auto wheels = [&](const std::vector<double>& axles) {
    for (const double x : axles) {
      drawing.strokes.push_back({{{x, -wheel * at.px}, {x, wheel * at.px}}, 1, pale});
      for (const double y : {-wheel, wheel})
        drawing.strokes.push_back(
            {{{x - wheel_length / 2 * at.px, y * at.px}, {x + wheel_length / 2 * at.px, y * at.px}}, 6, ink});
    }
  };
  box(at.tow_axles.front() - 800, std::max(at.tow_axles.back() + 800, at.lever ? at.coupling - 100 : 0));
  wheels(at.tow_axles);
  if (!at.trailer) return;
  const double front = std::min(
      at.coupling + std::max(0.3 * (at.trailer_group - at.coupling), at.tow_axles.back() + 950 - at.coupling),
      at.trailer_axles.front() - 450);
  box(front, at.trailer_end);
  wheels(at.trailer_axles);
  drawing.strokes.push_back({{{front, side * at.px}, {at.coupling, 0}, {front, -side * at.px}}, 1.5, teal});
}

std::string shown(const Source& source, const Quantity& load) {
  const std::string all = in_figures(load.value, load.u, load.measure, source.shown);
  return all.substr(0, all.find(" ± "));
}

std::string axle_name(const Ends& ends) {
  return (ends.vehicle == rig::Vehicle::tow ? "tow vehicle axle " : "trailer axle ") +
         std::to_string(ends.axle);
}

std::string difference_words(const Source& source, const Ends& ends) {
  if (!ends.difference) return {};
  const Quantity& difference = *ends.difference;
  if (std::abs(difference.value) <= 2 * difference.u) return "alike, as far as this weighing can tell";
  return std::string(difference.value > 0 ? "left" : "right") + " heavier by " +
         in_figures(std::abs(difference.value), difference.u, difference.measure, source.shown);
}

Table table_of(const Source& source, const std::vector<Ends>& all) {
  Table table{.title = "Left and right, as the rig travels",
              .columns = {{"Axle", 2},
                          {"Left", 1, true},
                          {"U", 1, true},
                          {"Right", 1, true},
                          {"U", 1, true},
                          {"Difference", 2}}};
  for (const Ends& ends : all) {
    const auto value = [&](const Quantity& load) {
      return with_unit(figure(load.value, load.u, load.measure, source.shown), load.measure, source.shown);
    };
    const auto band = [&](const Quantity& load) {
      return with_unit(expanded(load.u, load.measure, source.shown), load.measure, source.shown);
    };
    table.rows.push_back({{text(axle_name(ends)), value(*ends.left), band(*ends.left), value(*ends.right),
                           band(*ends.right), text(difference_words(source, ends))}});
  }
  return table;
}

}  // namespace

void add_left_and_right(const Source& source, std::vector<Block>& blocks) {
  if (source.session.rig.tow_vehicle.axles.empty()) return;
  const Places at = places_of(source);
  const auto all = ends_of(source, at);
  if (all.empty()) return;
  Picture picture{
      .title = "The same from above, its front at the left",
      .note =
          "Figures: the load at each wheel end as the site gave it; ground that falls to a side, and wind, "
          "move load across. Places along the rig are to scale, its width is not."};
  Drawing& drawing = picture.drawing;
  draw_plan(drawing, at);
  for (const double y : {figure_at, -figure_at})
    drawing.labels.push_back({{at.front_end - 60, y * at.px}, y > 0 ? "right" : "left", 8, faint});
  drawing.description = "The rig from above.";
  bool farther = true;
  double before = all.front().x;
  for (const Ends& ends : all) {
    farther = ends.x - before < figure_width * at.px && !farther;
    before = ends.x;
    const double y = (figure_at + (farther ? next_row : 0)) * at.px;
    drawing.labels.push_back({{ends.x, y}, shown(source, *ends.right), 9, ink, true});
    drawing.labels.push_back({{ends.x, -y}, shown(source, *ends.left), 9, ink, true});
    drawing.description += " " + axle_name(ends) + ": left " + shown(source, *ends.left) + ", right " +
                           shown(source, *ends.right) + ".";
  }
  drawing.low = {at.front_end - 250, -half_height * at.px};
  drawing.high = {at.rear_end + 250, half_height * at.px};
  blocks.emplace_back(std::move(picture));
  blocks.emplace_back(table_of(source, all));
}

}  // namespace steelyard::reports::client
