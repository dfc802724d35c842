// Rates with their intervals: a dot where the rate is, a line as far as it may be believed. Plane: pixels.
#include <algorithm>
#include <cmath>

#include "reports/document/styles.hpp"
#include "reports/document/text_size.hpp"
#include "reports/fleet/content.hpp"

namespace steelyard::reports::fleet {
namespace {

constexpr double names_end = 200, plot_end = 590, width = 700, row_height = 21, head = 22;

double name_width(const std::string& name) {
  return document::text_width(name, 8, false) / 0.75;
}

/// The next tidy share above the highest end: 5 %, 10 %, 20 %, 50 %, 100 %.
double scale_for(const std::vector<audit::GroupRate>& rates) {
  double most = 0;
  for (const auto& one : rates) most = std::max(most, one.rate.high);
  for (const double tidy : {0.05, 0.1, 0.2, 0.5})
    if (most <= tidy) return tidy;
  return 1;
}

void put_label(Drawing& drawing, double left, double y, const std::string& text, std::uint32_t colour, bool bold = false) {
  drawing.labels.push_back({{left + name_width(text) / 2, y}, text, 8, colour, bold});
}

void put_axis(Drawing& drawing, double scale, double bottom) {
  for (int tick = 0; tick <= 5; ++tick) {
    const double x = names_end + (plot_end - names_end) * tick / 5;
    drawing.strokes.push_back({{{x, -head}, {x, bottom}}, 0.5, document::hairline});
    drawing.labels.push_back({{x, -head / 2}, percent(scale * tick / 5, scale < 0.1 ? 1 : 0), 8, document::quiet});
  }
}

}  // namespace

Picture whiskers(std::string title, const std::vector<audit::GroupRate>& rates, std::string note) {
  Picture picture{.title = std::move(title), .note = std::move(note)};
  Drawing& drawing = picture.drawing;
  const double scale = scale_for(rates), bottom = -head - row_height * static_cast<double>(rates.size());
  put_axis(drawing, scale, bottom);
  const auto at = [scale](double share) { return names_end + (plot_end - names_end) * share / scale; };
  for (std::size_t i = 0; i < rates.size(); ++i) {
    const audit::Rate& rate = rates[i].rate;
    const double y = -head - row_height * (static_cast<double>(i) + 0.5);
    const std::uint32_t colour = rate.outside > 0 ? document::solid_colour(Tone::over) : document::solid_colour(Tone::within);
    std::string name = known(rates[i].name);
    while (name_width(name) > names_end - 14 && name.size() > 4) name = clipped(name, name.size() * 9 / 10);
    put_label(drawing, 2, y, name, document::ink);
    drawing.strokes.push_back({{{at(rate.low), y}, {at(rate.high), y}}, 2.5, colour});
    for (const double end : {rate.low, rate.high})
      drawing.strokes.push_back({{{at(end), y - 4}, {at(end), y + 4}}, 1.5, colour});
    const double dot = at(rate.share());
    drawing.strokes.push_back({{{dot, y - 6}, {dot + 5, y}, {dot, y + 6}, {dot - 5, y}, {dot, y - 6}}, 1.75, colour});
    put_label(drawing, plot_end + 14, y, std::to_string(rate.outside) + " of " + std::to_string(rate.assessed), document::ink);
    picture.drawing.description += name + ": " + std::to_string(rate.outside) + " of " + std::to_string(rate.assessed) + ", " +
                                   rate_words(rate) + ". ";
  }
  drawing.low = {0, bottom - 4};
  drawing.high = {width, 0};
  return picture;
}

}  // namespace steelyard::reports::fleet
