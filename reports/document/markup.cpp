#include "reports/document/markup.hpp"

#include <algorithm>

#include "reports/document/styles.hpp"
#include "reports/workbook/text.hpp"
#include "units/number.hpp"

namespace steelyard::reports::document {
namespace {

constexpr double pixels_per_point = 4.0 / 3;

std::string hexadecimal(std::uint32_t value, int places) {
  constexpr std::string_view digits = "0123456789ABCDEF";
  std::string text;
  for (int place = places - 1; place >= 0; --place) text += digits[(value >> (4 * place)) & 0xFu];
  return text;
}

std::string pixels(double value) {
  return units::fixed(value, 1);
}

/// From the drawing's plane to pixels, y downwards.
struct Mapping {
  const Drawing& drawing;
  double scale = 1;

  [[nodiscard]] std::string x(const Point& point) const { return pixels((point.x - drawing.low.x) * scale); }
  [[nodiscard]] std::string y(const Point& point) const { return pixels((drawing.high.y - point.y) * scale); }
};

std::string stroke_element(const Mapping& at, const Stroke& stroke) {
  std::string points;
  for (const Point& point : stroke.points)
    points += (points.empty() ? "" : " ") + at.x(point) + "," + at.y(point);
  std::string element = "<polyline points=\"" + points + "\" stroke=\"" + colour_words(stroke.colour) +
                        "\" stroke-width=\"" + pixels(stroke.width * pixels_per_point) + "\"";
  if (stroke.dashed) element += " stroke-dasharray=\"5 4\"";
  return element + "/>\n";
}

std::string label_element(const Mapping& at, const Label& label) {
  // A text stands on its base line: half a capital's height below the point that it is centred on.
  const double size = label.size * pixels_per_point,
               base = (at.drawing.high.y - label.at.y) * at.scale + 0.35 * size;
  std::string element = "<text x=\"" + at.x(label.at) + "\" y=\"" + pixels(base) + "\" font-size=\"" +
                        pixels(size) + "\" fill=\"" + colour_words(label.colour) + "\"";
  if (label.bold) element += " font-weight=\"bold\"";
  return element + ">" + escaped(label.text) + "</text>\n";
}

}  // namespace

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : presentable(text)) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

std::string style_string(std::string_view text) {
  std::string out = "\"";
  for (const char c : presentable(text)) {
    const auto byte = static_cast<unsigned char>(c);
    const bool plain = (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') ||
                       c == ' ' || c == '-' || c == '.' || byte >= 0x80;
    if (plain)
      out += c;
    else
      out += '\\' + hexadecimal(byte, 6);
  }
  return out + '"';
}

std::string colour_words(std::uint32_t colour) {
  return '#' + hexadecimal(colour, 6);
}

std::string svg_of(const Drawing& drawing, std::string_view title, double width) {
  const double across = std::max(1e-9, drawing.high.x - drawing.low.x);
  const Mapping at{drawing, width / across};
  const std::string height = pixels((drawing.high.y - drawing.low.y) * at.scale);
  std::string svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" viewBox=\"0 0 " + pixels(width) +
                    " " + height + "\" width=\"" + pixels(width) + "\" height=\"" + height +
                    "\" font-family=\"Arial, Helvetica, sans-serif\" text-anchor=\"middle\">\n<title>" +
                    escaped(title) + "</title>\n<desc>" + escaped(drawing.description) +
                    "</desc>\n<rect width=\"100%\" height=\"100%\" fill=\"" + colour_words(white) +
                    "\"/>\n<g fill=\"none\" stroke-linejoin=\"round\" stroke-linecap=\"round\">\n";
  for (const Stroke& stroke : drawing.strokes)
    if (!stroke.points.empty()) svg += stroke_element(at, stroke);
  svg += "</g>\n";
  for (const Label& label : drawing.labels) svg += label_element(at, label);
  return svg + "</svg>\n";
}

}  // namespace steelyard::reports::document
