// A picture as plain values: strokes and labels on a plane, drawn by whichever report shows it.
//
// Units: x and y in the picture's own plane; stroke widths and text sizes in points; colours 0xRRGGBB. The
// plane's frame is drawn to the edges of the space that the report gives it, so x and y may be stretched
// apart a little. Filled shapes are left out on purpose: programs do not agree on what covers what.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace steelyard::reports {

struct Point {
  double x = 0, y = 0;
};

struct Stroke {
  std::vector<Point> points;
  double width = 1;
  std::uint32_t colour = 0;
  bool dashed = false;
};

struct Label {
  Point at;
  std::string text;
  double size = 9;
  std::uint32_t colour = 0;
  bool bold = false;
};  // centred on its point, in one line

struct Drawing {
  Point low, high;  // the frame
  std::vector<Stroke> strokes;
  std::vector<Label> labels;
  std::string description;  // for those who cannot see it
};

}  // namespace steelyard::reports
