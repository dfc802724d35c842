// The rig from the side as the lever it is: the tow vehicle a beam on its rear axle, the coupling load at the
// beam's end, the front axle at the other. Places along the rig are to scale; heights and outlines are not.
#include <algorithm>
#include <cmath>

#include "reports/client/rig_shapes.hpp"
#include "units/number.hpp"

namespace steelyard::reports::client {
namespace {

using namespace pencil;

struct Load {
  double x = 0;
  std::string name;
  const reconcile::Quantity* now = nullptr;
  const reconcile::Quantity* alone = nullptr;  // of the tow vehicle without its trailer
  std::vector<std::string> axles = {};         // the single axles of a group, in figures
};

std::string in_short(const Source& source, double value, double u) {
  std::string words = in_figures(value, u, reconcile::Measure::kilogram, source.shown);
  return words.substr(0, words.find(" ± "));
}

/// "axle 1: 741 kg", "axle 2: 752 kg", where each of a group's axles is known in that state.
std::vector<std::string> axle_words(const Source& source, rig::Vehicle vehicle,
                                    std::optional<rig::Group> group, const std::string& state) {
  const auto& rig = source.session.rig;
  const int count = vehicle == rig::Vehicle::tow ? static_cast<int>(rig.tow_vehicle.axles.size())
                                                 : (rig.trailer ? rig.trailer->axles : 0);
  std::vector<std::string> words;
  for (int axle = 1; axle <= count; ++axle) {
    if (group && rig.tow_vehicle.axles[static_cast<std::size_t>(axle - 1)].group != *group) continue;
    const std::string at = rig::to_text(rig::Position::whole_axle(vehicle, axle));
    for (const auto& quantity : source.findings.quantities)
      if (quantity.name == "axle_load" && quantity.state == state && quantity.at == at &&
          quantity.determinable)
        words.push_back("axle " + std::to_string(axle) + ": " + in_short(source, quantity.value, quantity.u));
  }
  if (words.size() < 2) words.clear();  // the group's own figure says it
  return words;
}

std::vector<Load> loads_of(const Source& source, const Places& at) {
  const rig::State* state = source.travels();
  if (!state) return {};
  const bool hitched = state->hitched;
  const auto load = [&](double x, std::string name, std::string_view suffix, rig::Group group) {
    Load made{.x = x, .name = std::move(name)};
    const auto* alone = source.known("tow_unhitched_" + std::string(suffix));
    made.now = hitched ? source.known("tow_hitched_" + std::string(suffix), state->name) : alone;
    made.alone = hitched && at.lever && made.now ? alone : nullptr;
    made.axles = axle_words(source, rig::Vehicle::tow, group, state->name);
    return made;
  };
  const auto several = [&](rig::Group group) {
    const auto& axles = source.session.rig.tow_vehicle.axles;
    return std::count_if(axles.begin(), axles.end(),
                         [group](const auto& axle) { return axle.group == group; }) > 1;
  };
  std::vector<Load> loads{
      load(0, several(rig::Group::front) ? "front axle group" : "front axle", "front", rig::Group::front),
      load(at.wheelbase, several(rig::Group::rear) ? "rear axle group" : "rear axle", "rear",
           rig::Group::rear)};
  if (at.trailer) {
    Load trailer{.x = at.trailer_group,
                 .name = at.trailer_axles.size() > 1 ? "trailer axles" : "trailer axle"};
    trailer.now = at.lever ? (hitched ? source.known("trailer_axles_hitched", state->name) : nullptr)
                           : source.known("trailer_mass");
    trailer.axles = axle_words(source, rig::Vehicle::trailer, std::nullopt, state->name);
    loads.push_back(std::move(trailer));
  }
  return loads;
}

/// A figure, its uncertainty and what goes with them, line under line.
struct Caption {
  std::string figure, uncertainty;
  std::vector<std::string> more;
  std::string name;
};

Caption caption_of(const Source& source, const Load& load) {
  if (!load.now) return {"not determined", {}, {}, load.name};
  const std::string all = in_figures(load.now->value, load.now->u, load.now->measure, source.shown);
  const auto cut = all.find(" ± ");
  Caption caption{all.substr(0, cut), all.substr(cut + 1), {}, load.name};
  if (load.alone) {
    const double change =
        convert(load.now->value - load.alone->value, reconcile::Measure::kilogram, source.shown);
    caption.more.push_back((change < 0 ? "−" : "+") + units::fixed(std::abs(change), 0) + " by hitching");
  }
  caption.more.insert(caption.more.end(), load.axles.begin(), load.axles.end());
  return caption;
}

/// Puts the arrows and their captions; gives how far down they reach, in pixels.
double axle_loads(Drawing& drawing, const Source& source, const Places& at, const std::vector<Load>& loads) {
  constexpr double figure_row = 62, row = 13;
  double most = 1;
  std::size_t rows = 0;
  std::vector<Caption> captions;
  for (const Load& load : loads) {
    if (load.now) most = std::max(most, std::abs(load.now->value));
    captions.push_back(caption_of(source, load));
    rows = std::max(rows, captions.back().more.size());
  }
  const double name_row = figure_row + row * static_cast<double>(rows + 2) + 2;
  const auto label = [&](double x, double down, std::string words, double size, std::uint32_t colour,
                         bool bold = false) {
    if (!words.empty()) drawing.labels.push_back({{x, -down * at.px}, std::move(words), size, colour, bold});
  };
  for (std::size_t i = 0; i < loads.size(); ++i) {
    const double x = loads[i].x;
    if (loads[i].now) {
      const double length = 16 + 30 * std::max(0.0, loads[i].now->value) / most;
      draw_arrow(drawing, at, x, -(length + 5) * at.px, -5 * at.px, ink);
    }
    label(x, figure_row, captions[i].figure, loads[i].now ? 11 : 9, loads[i].now ? ink : faint, true);
    label(x, figure_row + row + 1, captions[i].uncertainty, 8, ink);
    for (std::size_t j = 0; j < captions[i].more.size(); ++j)
      label(x, figure_row + row * static_cast<double>(j + 2), captions[i].more[j], 8, faint);
    label(x, name_row, captions[i].name, 8, ink);
  }
  return name_row + 8;
}

void coupling_load(Drawing& drawing, const Source& source, const Places& at) {
  if (!at.lever) return;
  const double height = at.coupling_height();
  draw_fulcrum(drawing, at);
  const rig::State* state = source.travels();
  const auto* net =
      state && state->weight_distribution ? source.known("coupling_load_net", state->name) : nullptr;
  const auto* load = net ? net : source.known("coupling_load");
  const double top = std::max(top_of_outline + 6 * at.px, height + 46 * at.px);
  const auto label = [&](double up, std::string words, double size, bool bold) {
    drawing.labels.push_back({{at.coupling, top + up * at.px}, std::move(words), size, brass, bold});
  };
  if (load) {
    const bool down = load->value >= 0;
    const double near = height + 10 * at.px, far = top - 8 * at.px;
    draw_arrow(drawing, at, at.coupling, down ? far : near, down ? near : far, brass);
    const std::string all = in_figures(load->value, load->u, load->measure, source.shown);
    const auto cut = all.find(" ± ");
    label(14, all.substr(0, cut), 11, true);
    label(0, all.substr(cut + 1), 8, false);
  } else {
    label(8, "not determined", 9, true);
  }
  const std::string name = source.wording.plain() ? "coupling" : source.wording("coupling load");
  label(28, net ? name + ", net" : name, 8, false);
}

void dimensions(Drawing& drawing, const Source& source, const Places& at, double from_px) {
  const double y = -from_px * at.px, tick = 4 * at.px;
  const auto dimension = [&](double from, double to, double row, bool assumed) {
    const double line = y - row * 16 * at.px;
    for (const double x : {from, to})
      drawing.strokes.push_back({{{x, line - tick}, {x, line + tick}}, 0.75, faint});
    drawing.strokes.push_back({{{from, line}, {to, line}}, 0.75, faint, assumed});
    const double shown = convert(std::abs(to - from), reconcile::Measure::millimetre, source.shown);
    const bool inches = source.shown.length == units::LengthUnit::inch;
    drawing.labels.push_back({{(from + to) / 2, line - 9 * at.px},
                              (assumed ? "about " : "") + units::fixed(shown, inches ? 1 : 0) + " " +
                                  unit_word(reconcile::Measure::millimetre, source.shown),
                              8,
                              faint});
  };
  dimension(0, at.wheelbase, 0, false);
  if (!at.lever) return;
  const bool ahead = at.coupling < at.wheelbase;
  dimension(std::min(at.wheelbase, at.coupling), std::max(at.wheelbase, at.coupling), ahead ? 1 : 0,
            at.coupling_assumed);
  dimension(at.coupling, at.trailer_group, ahead ? 2 : 0, at.trailer_assumed);
}

std::string note_of(const Source& source, const Places& at) {
  std::string note;
  if (at.lever)
    note = "The tow vehicle is a lever on its rear axle (the brass wedge): " +
           transfer_words(source).value_or("what rests on the coupling works on both of its axles") + ". ";
  note += "Places along the rig are to scale, outlines are not.";
  if (at.lever && (at.coupling_assumed || at.trailer_assumed)) note += " Dashed lengths were not measured.";
  if (at.trailer_axles.size() > 1)
    note += " The distance between the trailer’s axles is not known and drawn alike.";
  return note;
}

}  // namespace

std::optional<Picture> rig_picture(const Source& source) {
  if (source.session.rig.tow_vehicle.axles.empty()) return std::nullopt;
  const Places at = places_of(source);
  const auto loads = loads_of(source, at);
  if (std::none_of(loads.begin(), loads.end(), [](const Load& load) { return load.now; }))
    return std::nullopt;
  Picture picture{.title = at.trailer ? "The rig as it travels" : "The vehicle as weighed",
                  .note = note_of(source, at)};
  Drawing& drawing = picture.drawing;
  const double rows_below = at.lever && at.coupling < at.wheelbase ? 2 : 0;
  draw_outlines(drawing, at);
  draw_wheels(drawing, at);
  draw_lever(drawing, at);
  coupling_load(drawing, source, at);
  const double depth = axle_loads(drawing, source, at, loads) + 4;
  dimensions(drawing, source, at, depth);
  drawing.low = {at.front_end - 250, -(depth + 20 + 16 * rows_below) * at.px};
  drawing.high = {at.rear_end + 250,
                  std::max(top_of_outline, at.lever ? at.coupling_height() + 40 * at.px : 0) +
                      (at.lever ? 44 : 8) * at.px};
  drawing.description = picture.title + ", from the side.";
  for (const Load& load : loads)
    if (load.now)
      drawing.description += " " + load.name + ": " +
                             in_figures(load.now->value, load.now->u, load.now->measure, source.shown) + ".";
  return picture;
}

}  // namespace steelyard::reports::client
