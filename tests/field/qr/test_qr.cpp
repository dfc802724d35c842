// A QR code in letters, painted as a terminal would show it and read back by zbarimg.
#include <sys/wait.h>

#include <algorithm>
#include <array>
#include <boost/test/unit_test.hpp>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "field/qr/qr.hpp"

using namespace steelyard::field;

namespace {

using Row = std::vector<bool>;  // dark or not
using Cells = std::vector<Row>;

/// What a terminal shows: two cells of a half block above each other, letters that are filled, backgrounds.
Cells painted(const std::string& text) {
  Cells cells;
  Row upper;
  Row lower;
  bool blocks = false;
  bool dark_ground = false;
  for (std::size_t at = 0; at < text.size();) {
    const std::string_view rest = std::string_view(text).substr(at);
    const auto is = [&](std::string_view what) { return rest.starts_with(what); };
    const auto put = [&](bool above, bool below, std::size_t bytes) {
      upper.push_back(above);
      lower.push_back(below);
      at += bytes;
    };
    if (is("\033[")) {
      const std::size_t end = rest.find('m');
      BOOST_TEST_REQUIRE(end != std::string_view::npos);
      dark_ground = rest.substr(2, end - 2) == "40";
      at += end + 1;
    } else if (is("\n")) {
      cells.push_back(upper);
      cells.push_back(lower);
      upper.clear();
      lower.clear();
      ++at;
    } else if (is("█") || is("▀") || is("▄")) {
      blocks = true;
      put(!is("▄"), !is("▀"), 3);
    } else {
      BOOST_TEST_REQUIRE((is("#") || is(" ")));
      const bool dark = is("#") || dark_ground;
      put(dark, dark, 1);
    }
  }
  // Every module is two cells high, and two wide where it is a pair of letters.
  // it.
  BOOST_TEST(cells.size() >= (blocks ? 21U : 42U));
  return cells;
}

std::string read_back(const Cells& cells) {
  constexpr std::size_t scale = 4;
  std::string name = (std::filesystem::temp_directory_path() / "steelyard-qr-").string() + std::string(6, 'X');
  const std::filesystem::path folder = mkdtemp(name.data());
  {
    std::ofstream image(folder / "code.pbm");
    image << "P1\n" << cells.front().size() * scale << ' ' << cells.size() * scale << '\n';
    for (const Row& row : cells)
      for (std::size_t line = 0; line < scale; ++line) {
        for (const bool dark : row)
          for (std::size_t dot = 0; dot < scale; ++dot) image << (dark ? "1 " : "0 ");
        image << '\n';
      }
  }
  const std::string command =
      "zbarimg --nodbus --quiet --raw -Sdisable -Sqrcode.enable '" + (folder / "code.pbm").string() + "'";
  std::FILE* const out = popen(command.c_str(), "r");
  BOOST_TEST_REQUIRE(out != nullptr);
  std::string read;
  std::array<char, 256> part{};
  while (std::fgets(part.data(), part.size(), out) != nullptr) read += part.data();
  BOOST_TEST(WEXITSTATUS(pclose(out)) == 0);
  std::filesystem::remove_all(folder);
  if (read.ends_with('\n')) read.pop_back();
  return read;
}

/// Modules of quiet zone on the left, by the leftmost dark cell.
std::size_t quiet_cells(const Cells& cells) {
  std::size_t least = 1000;
  for (const Row& row : cells)
    for (std::size_t at = 0; at < row.size(); ++at)
      if (row[at]) least = std::min(least, at);
  return least;
}

const std::string usual = "http://192.168.43.117:8080/#code=7K3M-Q9XD";
const std::string longer = "https://survey-van.tallow-creek.example:65535/#code=7K3M-Q9XD";

}  // namespace

BOOST_AUTO_TEST_SUITE(field_qr)

BOOST_AUTO_TEST_CASE(another_reader_reads_the_address) {
  for (const std::string& address : {usual, longer})
    for (const bool utf8 : {true, false})
      for (const bool colour : {true, false}) {
        const std::string text = qr_text(address, utf8, colour);
        BOOST_TEST((text.find('\033') != std::string::npos) == colour);
        const Cells cells = painted(text);
        for (const Row& row : cells) {
          BOOST_TEST(row.size() == cells.front().size());
          BOOST_TEST(row.size() <= 80U);
        }
        BOOST_TEST(quiet_cells(cells) >= 4U);  // 4 modules, or 2 of two letters each
        BOOST_TEST(read_back(cells) == address);
      }
}

BOOST_AUTO_TEST_CASE(it_stands_on_a_screen_of_24_lines) {
  const std::string text = qr_text(usual, true);
  BOOST_TEST(std::count(text.begin(), text.end(), '\n') <= 22);
  BOOST_TEST(text.ends_with('\n'));
}

BOOST_AUTO_TEST_CASE(letters_are_ascii_where_the_terminal_knows_no_more) {
  for (const bool colour : {true, false})
    for (const char c : qr_text(usual, false, colour))
      BOOST_TEST_REQUIRE(static_cast<unsigned char>(c) < 0x80);
}

BOOST_AUTO_TEST_CASE(what_does_not_fit_is_empty) {
  BOOST_TEST(qr_text("", true).empty());
  // The widest here is version 14, of 73 modules: 458 bytes at most (ISO/IEC 18004, table 7, level L).
  const std::string most(458, 'a');
  BOOST_TEST(read_back(painted(qr_text(most, true))) == most);
  BOOST_TEST(qr_text(most + "a", true).empty());
  BOOST_TEST(qr_text(std::string(1'000'000, 'a'), true).empty());
  // Pairs of letters leave 36 modules at a quiet zone of 2: version 4, 78 bytes.
  BOOST_TEST(!qr_text(std::string(78, 'a'), false).empty());
  BOOST_TEST(qr_text(std::string(79, 'a'), false).empty());
}

BOOST_AUTO_TEST_SUITE_END()
