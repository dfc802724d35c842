#include "field/qr/qr.hpp"

#include <qrencode.h>

#include <limits>
#include <memory>
#include <optional>

namespace steelyard::field {
namespace {

constexpr int most_columns = 80;

struct FreeCode {
  void operator()(QRcode* code) const { QRcode_free(code); }
};
using Code = std::unique_ptr<QRcode, FreeCode>;

Code encoded(std::string_view text, QRecLevel level) {
  if (text.size() > static_cast<std::size_t>(std::numeric_limits<int>::max())) return nullptr;
  constexpr int smallest_that_fits = 0;
  return Code(QRcode_encodeData(static_cast<int>(text.size()),
                                reinterpret_cast<const unsigned char*>(text.data()), smallest_that_fits,
                                level));
}

struct Picture {
  Code code;
  int quiet = 0;

  [[nodiscard]] int side() const { return code->width + 2 * quiet; }
  [[nodiscard]] bool dark(int row, int column) const {
    const int y = row - quiet;
    const int x = column - quiet;
    if (x < 0 || y < 0 || x >= code->width || y >= code->width) return false;
    return (code->data[y * code->width + x] & 1) != 0;
  }
};

/// More correction and a wide quiet zone where the columns allow them.
std::optional<Picture> fitting(std::string_view text, int columns_a_module) {
  for (const QRecLevel level : {QR_ECLEVEL_M, QR_ECLEVEL_L})
    for (const int quiet : {4, 2}) {
      Picture picture{.code = encoded(text, level), .quiet = quiet};
      if (picture.code && picture.side() * columns_a_module <= most_columns) return picture;
    }
  return {};
}

std::string half_blocks(const Picture& picture, int row) {
  std::string line;
  for (int column = 0; column < picture.side(); ++column) {
    const bool upper = picture.dark(row, column);
    const bool lower = picture.dark(row + 1, column);
    line += upper ? (lower ? "█" : "▀") : (lower ? "▄" : " ");
  }
  return line;
}

std::string letters(const Picture& picture, int row) {
  std::string line;
  for (int column = 0; column < picture.side(); ++column) line += picture.dark(row, column) ? "##" : "  ";
  return line;
}

/// Backgrounds alone: letters in them would be holes in a module.
std::string coloured_blanks(const Picture& picture, int row) {
  std::string line;
  for (int column = 0; column < picture.side(); ++column)
    line += picture.dark(row, column) ? "\033[40m  " : "\033[107m  ";
  return line + "\033[0m";
}

}  // namespace

std::string qr_text(std::string_view address, bool utf8, bool colour) {
  if (address.empty()) return {};
  const auto picture = fitting(address, utf8 ? 1 : 2);
  if (!picture) return {};
  std::string text;
  for (int row = 0; row < picture->side(); row += utf8 ? 2 : 1) {
    if (utf8 && colour)
      text += "\033[30;107m" + half_blocks(*picture, row) + "\033[0m";
    else if (utf8)
      text += half_blocks(*picture, row);
    else
      text += colour ? coloured_blanks(*picture, row) : letters(*picture, row);
    text += '\n';
  }
  return text;
}

}  // namespace steelyard::field
