// Rates with their intervals: a dot where the rate is, a line as far as it may be believed. Plane: pixels.
#include <algorithm>
#include <cmath>

#include "reports/document/row_pictures.hpp"
#include "reports/document/styles.hpp"
#include "reports/fleet/content.hpp"

namespace steelyard::reports::fleet {
namespace {

constexpr double names_end = 200, plot_end = 590, width = 700, row_height = 21, head = 22;

/// The next tidy share above the highest end: 5 %, 10 %, 20 %, 50 %, 100 %.
double scale_for(const std::vector<audit::GroupRate>& rates) {
  double most = 0;
  for (const auto& one : rates) most = std::max(most, one.rate.high);
  for (const double tidy : {0.05, 0.1, 0.2, 0.5})
    if (most <= tidy) return tidy;
  return 1;
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
  // A flat picture would have its longer words broken by some programs.
  constexpr double least_height = 190;
  const double scale = scale_for(rates), rows_end = -head - row_height * static_cast<double>(rates.size());
  const double bottom = std::min(rows_end, -least_height);
  put_axis(drawing, scale, rows_end);
  const auto at = [scale](double share) { return names_end + (plot_end - names_end) * share / scale; };
  for (std::size_t i = 0; i < rates.size(); ++i) {
    const audit::Rate& rate = rates[i].rate;
    const double y = -head - row_height * (static_cast<double>(i) + 0.5);
    const std::uint32_t colour = rate.outside > 0 ? document::solid_colour(Tone::over) : document::solid_colour(Tone::within);
    const std::string name = known(rates[i].name);
    document::put_left(drawing, {2, y}, name, 8, document::ink, names_end - 16);
    document::put_interval(drawing, {at(rate.low), at(rate.share()), at(rate.high)}, y, colour);
    document::put_left(drawing, {plot_end + 14, y},
                       std::to_string(rate.outside) + " of " + std::to_string(rate.assessed), 8, document::ink,
                       width - plot_end - 14);
    picture.drawing.description += name + ": " + std::to_string(rate.outside) + " of " + std::to_string(rate.assessed) + ", " +
                                   rate_words(rate) + ". ";
  }
  drawing.low = {0, bottom - 4};
  drawing.high = {width, 0};
  return picture;
}

}  // namespace steelyard::reports::fleet
