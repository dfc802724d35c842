// The rig from the side as the lever it is: the tow vehicle a beam on its rear axle, the coupling load at the beam's
// end, the front axle at the other. Places along the rig are to scale; heights and outlines are not.
#include <algorithm>
#include <cmath>
#include <numeric>

#include "reports/client/content.hpp"
#include "units/number.hpp"

namespace steelyard::reports::client {
namespace {

constexpr std::uint32_t ink = 0x22313A, pale = 0xA9B4BA, brass = 0xB07A1E, faint = 0x66737B, teal = 0x0F6B5C,
                        paper = 0xFFFFFF;
constexpr double width_px = 700;   // what the picture is designed for
constexpr double axle_spacing = 850;  // of a trailer's group, which no sheet gives
constexpr double wheel_radius = 350;
constexpr double default_coupling_to_axles = 4000;  // reconciliation model, section 4

/// Where things are along the rig, mm behind the front group's centre.
struct Places {
  std::vector<double> tow_axles, trailer_axles;
  double wheelbase = 0, coupling = 0, trailer_group = 0;
  double front_end = 0, rear_end = 0;
  bool trailer = false, lever = false;  // a trailer; one whose nose rests on the tow vehicle
  bool coupling_assumed = false, trailer_assumed = false;
  double px = 1;  // mm a pixel

  [[nodiscard]] double coupling_height() const { return coupling < wheelbase && lever ? 1250 : 520; }
};

double group_centre(const rig::TowVehicle& tow, rig::Group group) {
  double sum = 0;
  int count = 0;
  for (const auto& axle : tow.axles)
    if (axle.group == group) sum += axle.at.mm().value(), ++count;
  return count > 0 ? sum / count : 0;
}

Places places_of(const Source& source) {
  const auto& rig = source.session.rig;
  Places at;
  const double front = group_centre(rig.tow_vehicle, rig::Group::front);
  at.wheelbase = group_centre(rig.tow_vehicle, rig::Group::rear) - front;
  for (const auto& axle : rig.tow_vehicle.axles) at.tow_axles.push_back(axle.at.mm().value() - front);
  at.front_end = at.tow_axles.front() - 900;
  const auto* overhang = source.known("overhang");
  at.coupling_assumed = !overhang && !rig.tow_vehicle.overhang;
  const double taped = rig.tow_vehicle.overhang ? rig.tow_vehicle.overhang->value.mm().value() : 1200;
  at.coupling = at.wheelbase + (overhang ? overhang->value : taped);
  at.rear_end = std::max(at.coupling, at.tow_axles.back() + 900);
  at.trailer = rig.trailer.has_value();
  if (at.trailer) {
    at.lever = !rig.trailer->self_supporting;
    at.trailer_assumed = !rig.trailer->coupling_to_axles;
    const double distance = at.trailer_assumed ? default_coupling_to_axles
                                               : std::max(1000.0, rig.trailer->coupling_to_axles->value.mm().value());
    at.trailer_group = at.coupling + distance;
    const int count = std::max(1, rig.trailer->axles);
    for (int i = 0; i < count; ++i)
      at.trailer_axles.push_back(at.trailer_group + (i - (count - 1) / 2.0) * axle_spacing);
    at.rear_end = at.trailer_axles.back() + std::max(900.0, 0.3 * distance);
  }
  at.px = (at.rear_end - at.front_end + 500) / width_px;
  return at;
}

void outlines(Drawing& drawing, const Places& at) {
  const double tail = at.trailer && at.coupling > at.wheelbase ? at.coupling - 230 : at.tow_axles.back() + 800;
  const double nose = at.tow_axles.front() - 850, wheelbase = at.wheelbase;
  const double bonnet = 0.09 * wheelbase, roof = 0.27 * wheelbase, cab = 0.6 * wheelbase;
  drawing.strokes.push_back({{{nose, 480}, {nose, 900}, {nose + 180, 1060}, {bonnet, 1140}, {roof, 1720},
                              {cab - 120, 1760}, {cab, 1700}, {cab + 40, 1140}, {tail, 1140}, {tail, 480}, {nose, 480}},
                             1.5, pale});
  drawing.strokes.push_back({{{bonnet + 120, 1160}, {roof + 60, 1640}, {cab - 160, 1660}, {cab - 80, 1160}, {bonnet + 120, 1160}},
                             0.75, pale});
  if (!at.trailer) return;
  const double distance = at.trailer_group - at.coupling;
  double front = at.coupling + std::max(0.3 * distance, at.tow_axles.back() + 950 - at.coupling);
  front = std::min(front, at.trailer_axles.front() - 450);
  const double back = at.rear_end - 60;
  drawing.strokes.push_back({{{front, 600}, {front, 1300}, {front + 260, 1680}, {back - 120, 1680}, {back, 1560},
                              {back, 600}, {front, 600}},
                             1.5, pale});
}

void wheels(Drawing& drawing, const Places& at) {
  const int size = static_cast<int>(std::lround(2 * wheel_radius / at.px * 0.75));
  const auto wheel = [&](double x) {
    drawing.dots.push_back({{x, wheel_radius}, size, DotShape::circle, paper, ink});
    drawing.dots.push_back({{x, wheel_radius}, std::max(2, size / 4), DotShape::circle, pale, pale});
  };
  for (const double x : at.tow_axles) wheel(x);
  for (const double x : at.trailer_axles) wheel(x);
}

void lever(Drawing& drawing, const Places& at) {
  const double height = at.coupling_height();
  drawing.strokes.push_back({{{at.front_end - 100, 0}, {at.rear_end + 100, 0}}, 1, pale});
  if (!at.lever) {
    drawing.strokes.push_back({{{0, 520}, {at.wheelbase, 520}}, 4, ink});
    if (at.trailer)
      drawing.strokes.push_back({{{at.coupling, 520}, {at.trailer_axles.front(), 520}}, 1.5, ink, true});
    return;
  }
  drawing.strokes.push_back({{{0, 520}, {at.wheelbase, 520}}, 4, ink});
  if (height > 520) {
    drawing.strokes.push_back({{{at.coupling, 520}, {at.coupling, height}}, 4, ink});
    const double step = at.coupling + 0.3 * (at.trailer_group - at.coupling);
    drawing.strokes.push_back({{{at.coupling, height}, {step, height}, {step, 600}, {at.trailer_group, 600}}, 4, teal});
  } else {
    drawing.strokes.push_back({{{at.wheelbase, 520}, {at.coupling, 520}}, 4, ink});
    drawing.strokes.push_back({{{at.coupling, 520}, {at.trailer_group, 520}}, 4, teal});
  }
}

/// An arrow along y from `tail` to `tip`.
void arrow(Drawing& drawing, const Places& at, double x, double tail, double tip, std::uint32_t colour) {
  const double head = (tip > tail ? -1 : 1) * 8 * at.px, half = 5 * at.px;
  drawing.strokes.push_back({{{x, tail}, {x, tip}}, 3, colour});
  drawing.strokes.push_back({{{x - half, tip + head}, {x, tip}, {x + half, tip + head}}, 3, colour});
}

struct Load {
  double x = 0;
  std::string name;
  const reconcile::Quantity* now = nullptr;
  const reconcile::Quantity* alone = nullptr;  // of the tow vehicle without its trailer
  std::string axles = {};                      // the single axles of a group, in figures
};

std::string in_short(const Source& source, double value, double u) {
  std::string words = in_figures(value, u, reconcile::Measure::kilogram, source.shown);
  return words.substr(0, words.find(" ± "));
}

/// "axle 1 741 kg · axle 2 752 kg", where each of a group's axles is known in that state.
std::string axle_words(const Source& source, rig::Vehicle vehicle, std::optional<rig::Group> group, const std::string& state) {
  const auto& rig = source.session.rig;
  const int count = vehicle == rig::Vehicle::tow ? static_cast<int>(rig.tow_vehicle.axles.size())
                                                 : (rig.trailer ? rig.trailer->axles : 0);
  std::string words;
  int told = 0;
  for (int axle = 1; axle <= count; ++axle) {
    if (group && rig.tow_vehicle.axles[static_cast<std::size_t>(axle - 1)].group != *group) continue;
    const std::string at = rig::to_text(rig::Position::whole_axle(vehicle, axle));
    for (const auto& quantity : source.findings.quantities)
      if (quantity.name == "axle_load" && quantity.state == state && quantity.at == at && quantity.determinable) {
        words += (words.empty() ? "axle " : " · axle ") + std::to_string(axle) + ": " +
                 in_short(source, quantity.value, quantity.u);
        ++told;
      }
  }
  return told > 1 ? words : std::string();
}

std::vector<Load> loads_of(const Source& source, const Places& at) {
  const rig::State* state = source.travels();
  if (!state) return {};
  const bool hitched = state->hitched;
  const auto load = [&](double x, std::string name, std::string_view suffix, rig::Group group) {
    Load made{.x = x, .name = std::move(name)};
    const auto* alone = source.known("tow_unhitched_" + std::string(suffix));
    made.now = hitched ? source.known("tow_hitched_" + std::string(suffix), state->name) : alone;
    made.alone = hitched && made.now ? alone : nullptr;
    made.axles = axle_words(source, rig::Vehicle::tow, group, state->name);
    return made;
  };
  std::vector<Load> loads{load(0, at.tow_axles.size() > 2 ? "front axle group" : "front axle", "front", rig::Group::front),
                          load(at.wheelbase, at.tow_axles.size() > 2 ? "rear axle group" : "rear axle", "rear",
                               rig::Group::rear)};
  if (at.trailer) {
    Load trailer{.x = at.trailer_group, .name = at.trailer_axles.size() > 1 ? "trailer axles" : "trailer axle"};
    trailer.now = at.lever ? (hitched ? source.known("trailer_axles_hitched", state->name) : nullptr)
                           : source.known("trailer_mass");
    trailer.axles = axle_words(source, rig::Vehicle::trailer, std::nullopt, state->name);
    loads.push_back(std::move(trailer));
  }
  return loads;
}

void axle_loads(Drawing& drawing, const Source& source, const Places& at, const std::vector<Load>& loads) {
  double most = 1;
  for (const Load& load : loads)
    if (load.now) most = std::max(most, std::abs(load.now->value));
  const auto label = [&](double x, double y_px, std::string words, double size, std::uint32_t colour, bool bold = false) {
    drawing.labels.push_back({{x, y_px * at.px}, std::move(words), size, colour, bold});
  };
  for (const Load& load : loads) {
    label(load.x, -102, load.name, 8, faint);
    if (!load.now) {
      label(load.x, -62, "not determined", 9, faint, true);
      continue;
    }
    const double length = 16 + 30 * std::max(0.0, load.now->value) / most;
    arrow(drawing, at, load.x, -(length + 5) * at.px, -5 * at.px, ink);
    label(load.x, -62, in_short(source, load.now->value, load.now->u), 11, ink, true);
    const std::string all = in_figures(load.now->value, load.now->u, load.now->measure, source.shown);
    label(load.x, -76, all.substr(all.find("±")), 8, ink);
    if (load.alone) {
      const double change = convert(load.now->value - load.alone->value, reconcile::Measure::kilogram, source.shown);
      label(load.x, -89, (change < 0 ? "−" : "+") + units::fixed(std::abs(change), 0) + " by hitching", 8, faint);
    } else if (!load.axles.empty()) {
      label(load.x, -89, load.axles, 8, faint);
    }
  }
}

void coupling_load(Drawing& drawing, const Source& source, const Places& at) {
  if (!at.lever) return;
  const double height = at.coupling_height();
  drawing.dots.push_back({{at.coupling, height}, 9, DotShape::circle, brass, ink});
  drawing.dots.push_back({{at.wheelbase, 520 - 0.5 * 16 * at.px}, 15, DotShape::triangle, brass, brass});
  const rig::State* state = source.travels();
  const auto* net = state && state->weight_distribution ? source.known("coupling_load_net", state->name) : nullptr;
  const auto* load = net ? net : source.known("coupling_load");
  const double top = 1790 + 14 * at.px;
  const auto label = [&](double y, std::string words, double size, bool bold) {
    drawing.labels.push_back({{at.coupling, y}, std::move(words), size, brass, bold});
  };
  if (load) {
    const bool down = load->value >= 0;
    const double near = height + 12 * at.px, far = std::max(height + 45 * at.px, top - 16 * at.px);
    arrow(drawing, at, at.coupling, down ? far : near, down ? near : far, brass);
    label(top, in_figures(load->value, load->u, load->measure, source.shown), 11, true);
  } else {
    label(top, "not determined", 9, true);
  }
  label(top + 14 * at.px, net ? "on the coupling, net of weight distribution" : "on the coupling", 8, false);
}

void dimensions(Drawing& drawing, const Source& source, const Places& at) {
  const double y = -120 * at.px, tick = 4 * at.px;
  const auto dimension = [&](double from, double to, double row, bool assumed) {
    const double line = y - row * 16 * at.px;
    for (const double x : {from, to}) drawing.strokes.push_back({{{x, line - tick}, {x, line + tick}}, 0.75, faint});
    drawing.strokes.push_back({{{from, line}, {to, line}}, 0.75, faint, assumed});
    const double shown = convert(std::abs(to - from), reconcile::Measure::millimetre, source.shown);
    const bool inches = source.shown.length == units::LengthUnit::inch;
    drawing.labels.push_back({{(from + to) / 2, line - 8 * at.px},
                              (assumed ? "about " : "") + units::fixed(shown, inches ? 1 : 0) + " " +
                                  unit_word(reconcile::Measure::millimetre, source.shown),
                              8,
                              faint});
  };
  dimension(0, at.wheelbase, 0, false);
  if (!at.lever) return;
  const bool ahead = at.coupling < at.wheelbase;
  dimension(std::min(at.wheelbase, at.coupling), std::max(at.wheelbase, at.coupling), ahead ? 1 : 0, at.coupling_assumed);
  dimension(at.coupling, at.trailer_group, ahead ? 2 : 0, at.trailer_assumed);
}

std::string note_of(const Places& at) {
  std::string note = at.lever ? "The tow vehicle is a lever on its rear axle (the brass wedge): what rests on the coupling lifts "
                                "the front axle and loads the rear one by more than itself. "
                              : "";
  note += "Places along the rig are to scale, outlines are not.";
  if (at.coupling_assumed || at.trailer_assumed) note += " Dashed lengths were not measured.";
  if (at.trailer_axles.size() > 1) note += " The distance between the trailer’s axles is not known and drawn alike.";
  return note;
}

}  // namespace

std::optional<Picture> rig_picture(const Source& source) {
  if (source.session.rig.tow_vehicle.axles.empty()) return std::nullopt;
  const Places at = places_of(source);
  const auto loads = loads_of(source, at);
  if (std::none_of(loads.begin(), loads.end(), [](const Load& load) { return load.now; })) return std::nullopt;
  Picture picture{.title = at.trailer ? "The rig as it travels" : "The vehicle as weighed", .note = note_of(at)};
  Drawing& drawing = picture.drawing;
  const double rows_below = at.lever && at.coupling < at.wheelbase ? 2 : 0;
  drawing.low = {at.front_end - 250, -(138 + 16 * rows_below) * at.px};
  drawing.high = {at.rear_end + 250, 1790 + (at.lever ? 36 : 8) * at.px};
  outlines(drawing, at);
  lever(drawing, at);
  wheels(drawing, at);
  axle_loads(drawing, source, at, loads);
  coupling_load(drawing, source, at);
  dimensions(drawing, source, at);
  drawing.description = picture.title + ", from the side.";
  for (const Load& load : loads)
    if (load.now)
      drawing.description += " " + load.name + ": " + in_figures(load.now->value, load.now->u, load.now->measure, source.shown) + ".";
  return picture;
}

}  // namespace steelyard::reports::client
