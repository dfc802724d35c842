#include "reports/document/styles.hpp"

#include "reports/document/number_text.hpp"

namespace steelyard::reports::document {

std::uint32_t solid_colour(Tone tone) {
  switch (tone) {
    case Tone::within:
      return 0x0F6B5C;
    case Tone::close_within:
      return 0x8A6508;
    case Tone::close_over:
      return 0xB4480A;
    case Tone::over:
      return 0x8E1220;
    case Tone::unknown:
    case Tone::none:
      break;
  }
  return 0x55626B;
}

std::uint32_t pale_colour(Tone tone) {
  switch (tone) {
    case Tone::within:
      return 0xDFF0EC;
    case Tone::close_within:
      return 0xFAEFCF;
    case Tone::close_over:
      return 0xFBE0CC;
    case Tone::over:
      return 0xF6D3D6;
    case Tone::unknown:
      return 0xE4E8EB;
    case Tone::none:
      break;
  }
  return white;
}

namespace look {
namespace {

Style wrapping(double size) {
  Style style;
  style.size = size;
  style.wrap = true;
  style.ink = ink;
  return style;
}

}  // namespace

Style title() {
  Style style = wrapping(18);
  style.bold = true;
  style.upright = Upright::middle;
  return style;
}

Style subtitle() {
  Style style = wrapping(9);
  style.ink = quiet;
  style.below = Rule::medium;
  style.rule_colour = brass;
  return style;
}

Style heading() {
  Style style = wrapping(11);
  style.bold = true;
  style.upright = Upright::bottom;
  style.ink = ink;
  return style;
}

Style body() {
  return wrapping(9.5);
}

Style bullet() {
  Style style = wrapping(9.5);
  style.indent = 1;
  return style;
}

Style note() {
  Style style = wrapping(8.5);
  style.ink = quiet;
  return style;
}

Style warning() {
  Style style = wrapping(9.5);
  style.bold = true;
  style.fill = pale_colour(Tone::close_over);
  style.upright = Upright::middle;
  return style;
}

Style label() {
  Style style = wrapping(9.5);
  style.ink = quiet;
  return style;
}

Style table_head(bool right, bool apart) {
  Style style = wrapping(8.5);
  style.bold = true;
  style.fill = band;
  style.align = right ? Align::right : Align::left;
  style.indent = apart ? 1 : 0;
  style.upright = Upright::bottom;
  style.below = Rule::thin;
  style.rule_colour = brass;
  return style;
}

Style table_cell(const Cell& cell, bool right, bool apart) {
  Style style = wrapping(9);
  style.bold = cell.bold;
  style.struck = cell.struck;
  if (cell.struck) style.ink = quiet;
  style.align = right ? Align::right : Align::left;
  style.upright = Upright::middle;
  style.indent = apart ? 1 : 0;
  style.below = Rule::thin;
  style.rule_colour = hairline;
  if (cell.tone != Tone::none) {
    style.fill = pale_colour(cell.tone);
    style.ink = solid_colour(cell.tone);
    style.bold = true;
  }
  if (const auto* number = std::get_if<Number>(&cell.value)) {
    style.wrap = false;  // a wrapped figure shows as ### in some programs
    style.number_format = number_format(*number);
  }
  return style;
}

Style banner_headline(Tone tone) {
  Style style = wrapping(20);
  style.bold = true;
  style.ink = white;
  style.fill = solid_colour(tone);
  style.upright = Upright::middle;
  style.indent = 1;
  return style;
}

Style banner_line(Tone tone) {
  Style style = wrapping(10.5);
  style.ink = white;
  style.fill = solid_colour(tone);
  style.indent = 1;
  return style;
}

Style signature_line() {
  Style style = wrapping(9.5);
  style.below = Rule::thin;
  style.rule_colour = ink;
  style.upright = Upright::bottom;
  return style;
}

Style end_mark() {
  Style style = wrapping(9);
  style.ink = quiet;
  style.align = Align::centre;
  return style;
}

}  // namespace look

}  // namespace steelyard::reports::document
