// A picture as plain values: strokes, dots and labels on a plane, drawn by whichever report shows it.
//
// Units: x and y in the picture's own plane (millimetres along the rig, any height); stroke widths, dot and text
// sizes in points; colours 0xRRGGBB. The plane's frame is drawn to the edges of the space the report gives it, so
// x and y may be stretched apart: nothing may rely on a right angle but circles, which are dots.
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

enum class DotShape { circle, triangle, square };

struct Dot {
  Point at;
  int size = 6;
  DotShape shape = DotShape::circle;
  std::uint32_t fill = 0, edge = 0;
};

enum class Anchor { centre, above, below, left, right };  // where the text stands, seen from its point

struct Label {
  Point at;
  std::string text;
  double size = 9;
  std::uint32_t colour = 0;
  bool bold = false;
  Anchor anchor = Anchor::centre;
};

/// Drawn in this order: strokes, dots, labels, each first to last.
struct Drawing {
  Point low, high;  // the frame
  std::vector<Stroke> strokes;
  std::vector<Dot> dots;
  std::vector<Label> labels;
  std::string description;  // for those who cannot see it
};

}  // namespace steelyard::reports
