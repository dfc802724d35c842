#include <string>

#include "sheet/sheet.hpp"

namespace steelyard::sheet {
namespace {

/// One line without its end, of which no more than longest_sheet bytes are kept; `length` counts them all.
struct Line {
  std::string text;
  std::size_t length = 0;
};

bool take_line(std::istream& in, Line& line) {
  line.text.clear();
  line.length = 0;
  std::streambuf* const buffer = in.rdbuf();
  using Traits = std::istream::traits_type;
  for (int next = buffer->sbumpc();; next = buffer->sbumpc()) {
    if (Traits::eq_int_type(next, Traits::eof())) {
      in.setstate(std::ios::eofbit);
      return line.length > 0;
    }
    const char c = Traits::to_char_type(next);
    if (c == '\n') return true;
    if (++line.length <= longest_sheet) line.text += c;
  }
}

bool is_blank(std::string_view text) {
  return text.find_first_not_of(" \t\r") == std::string_view::npos;
}

}  // namespace

std::optional<Read> FleetReader::next() {
  Line line;
  while (in_.good() && take_line(in_, line)) {
    ++line_;
    if (line.length <= longest_sheet && is_blank(line.text)) continue;
    Read sheet;
    if (line.length > longest_sheet)
      sheet.faults.push_back({"", "the sheet is " + std::to_string(line.length) + " bytes long; at most " +
                                      std::to_string(longest_sheet) +
                                      " are read, and one line is one session"});
    else
      sheet = read(line.text);
    const std::string where = "line " + std::to_string(line_);
    for (Fault& fault : sheet.faults) fault.place = fault.place.empty() ? where : where + ", " + fault.place;
    return sheet;
  }
  return std::nullopt;
}

}  // namespace steelyard::sheet
