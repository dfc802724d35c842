// The document's forms of one hand-made report: figures as shown, page and text.
#include "reports/document/html.hpp"

#include <boost/test/unit_test.hpp>

#include "reports/document/cells.hpp"
#include "reports/document/markup.hpp"
#include "reports/document/number_text.hpp"
#include "reports/document/text.hpp"

using namespace steelyard::reports;

namespace {

bool has(const std::string& all, std::string_view part) {
  return all.find(part) != std::string::npos;
}

Table table_of(int columns) {
  Table table{.title = "Loads"};
  TableRow row;
  for (int i = 0; i < columns; ++i) {
    table.columns.push_back({"Column " + std::to_string(i)});
    row.cells.push_back(text("words of cell " + std::to_string(i)));
  }
  table.rows = {row};
  return table;
}

Report report_with(std::vector<Block> blocks) {
  Report report{.number = "a\"};</style>-1",
                .title = "Weighing report",
                .client = {},
                .issued = "2026-10-04",
                .engine = "0.1.0",
                .sheets = {}};
  SheetContent sheet{.name = "Summary", .title = "Weighing report", .grid = {10}};
  sheet.blocks = std::move(blocks);
  report.sheets.push_back(std::move(sheet));
  return report;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(document_forms)

BOOST_AUTO_TEST_CASE(a_figure_is_shown_as_a_spreadsheet_shows_it) {
  const auto shown = [](double value, int decimals) {
    return shown_text({.value = value, .decimals = decimals});
  };
  // By hand: half away from zero of the decimal digits, though 2.675 is a little less as a double.
  BOOST_TEST(shown(2.675, 2) == "2.68");
  BOOST_TEST(shown(12.5, 0) == "13");
  BOOST_TEST(shown(-12.5, 0) == "−13");
  BOOST_TEST(shown(2.67499, 2) == "2.67");
  BOOST_TEST(shown(-0.04, 1) == "0.0");
  BOOST_TEST(shown(1.5e9, 0) == "1.500E+09");
  BOOST_TEST(shown(1190.25, -1) == "1190.25");
  BOOST_TEST(shown_text({.value = 395.9, .decimals = 1, .unit = "kg", .show_sign = true}) == "+395.9 kg");
  BOOST_TEST(shown_text({.value = -20.3, .decimals = 1, .unit = "kg", .show_sign = true}) == "−20.3 kg");
  BOOST_TEST(shown_text({.value = 0.01, .decimals = 1, .unit = "kg", .show_sign = true}) == "0.0 kg");
  BOOST_TEST(shown_text({.value = 3.86, .decimals = 1, .unit = "kg", .plus_or_minus = true}) == "± 3.9 kg");
  BOOST_TEST(shown_text({.value = 1.0579, .decimals = 1, .kind = Number::Kind::share}) == "105.8 %");
  BOOST_TEST(shown_text({.value = 0.00009, .kind = Number::Kind::probability}) == "< 0.01 %");
  BOOST_TEST(shown_text({.value = 0.99995, .kind = Number::Kind::probability}) == "> 99.99 %");
  BOOST_TEST(shown_text({.value = 0.1234, .kind = Number::Kind::probability}) == "12.34 %");
  // The cell's format says the same: no sign on what rounds to nothing.
  BOOST_TEST(number_format({.value = -0.04, .decimals = 1}) == "0.0;0.0");
  BOOST_TEST(number_format({.value = -0.06, .decimals = 1}) == "0.0;\"−\"0.0");
}

BOOST_AUTO_TEST_CASE(no_text_leaves_its_element) {
  BOOST_TEST(document::escaped("<b>\"&'\x01") == "&lt;b&gt;&quot;&amp;&#39;␁");
  BOOST_TEST(document::style_string("a\"};\\\n") == "\"a\\000022\\00007D\\00003B\\00005C\\00000A\"");
  const std::string page = html_page(report_with({Heading{"</h2><script>"}, Facts{.facts = {{"<", ">"}}}}));
  BOOST_TEST(!has(page, "<script"));
  BOOST_TEST(has(page, "<dt>&lt;</dt><dd>&gt;</dd>"));
  // One style element ends, the page's own, whatever stands in the report's number.
  BOOST_TEST(page.find("</style>") == page.rfind("</style>"));
}

BOOST_AUTO_TEST_CASE(a_tone_stands_with_its_sign) {
  const Report report = report_with({Banner{Tone::over, "OVER", {"by 20 kg"}}});
  BOOST_TEST(has(html_page(report), "<h2>✕ OVER</h2>"));
  BOOST_TEST(has(text_page(report), "  ✕  OVER\n     by 20 kg\n"));
}

BOOST_AUTO_TEST_CASE(bullets_are_one_list_and_rows_have_heads) {
  Table table = table_of(2);
  table.rows[0].cells[1] = {.value = Number{.value = 171.42, .decimals = 1, .unit = "kg"}};
  table.columns[1].right = true;
  const Paragraph bullet{"one", Paragraph::Kind::bullet};
  const std::string page = html_page(report_with({bullet, bullet, table}));
  BOOST_TEST(has(page, "<ul>\n<li>one</li>\n<li>one</li>\n</ul>\n<div class=\"scroll\""));
  BOOST_TEST(has(
      page,
      "<th scope=\"row\">words of cell 0</th><td class=\"right\"><data value=\"171.42\">171.4 kg</data>"));
}

BOOST_AUTO_TEST_CASE(a_picture_is_drawn_in_the_page_and_told_in_the_text) {
  Picture picture{.title = "The rig", .drawing = {}, .note = "To scale."};
  picture.drawing.low = {0, 0};
  picture.drawing.high = {1000, 500};
  picture.drawing.strokes = {{{{0, 0}, {1000, 500}}, 3, 0x0F6B5C, true}};
  picture.drawing.labels = {{{500, 250}, "a < b", 9, 0x22313A, true}};
  picture.drawing.description = "A line.";
  // 760 pixels wide, 380 high; y downwards; 3 points are 4 pixels, 9 are 12; the base line 0.35 · 12 = 4.2
  // lower.
  const std::string svg = document::svg_of(picture.drawing, picture.title, 760);
  BOOST_TEST(has(svg, "viewBox=\"0 0 760.0 380.0\""));
  BOOST_TEST(
      has(svg, "points=\"0.0,380.0 760.0,0.0\" stroke=\"#0F6B5C\" stroke-width=\"4.0\" stroke-dasharray"));
  BOOST_TEST(has(svg, "x=\"380.0\" y=\"194.2\" font-size=\"12.0\""));
  BOOST_TEST(has(svg, ">a &lt; b</text>"));
  BOOST_TEST(has(text_page(report_with({picture})), "The rig\n-------\nA line.\nTo scale.\n"));
}

BOOST_AUTO_TEST_CASE(a_table_is_aligned_where_it_fits_and_else_told_row_by_row) {
  BOOST_TEST(
      document::text_table(table_of(2), 80) ==
      "Column 0         Column 1\n--------------------------------\nwords of cell 0  words of cell 1\n");
  const std::string wide = document::text_table(table_of(6), 40);
  BOOST_TEST(has(wide, "* words of cell 0\n    Column 1: words of cell 1\n"));
  Table sparse = table_of(3);
  sparse.rows[0].cells[1] = Cell{};
  BOOST_TEST(!has(document::text_table(sparse, 80), "Column 1"));
}

BOOST_AUTO_TEST_CASE(bars_reach_as_far_as_their_ratios) {
  Table table = table_of(2);
  table.rows[0].cells[1] = {.value = Number{.value = 0.5, .decimals = 1, .kind = Number::Kind::share}};
  const Bars bars{
      .title = "Used", .rows = 1, .category_column = 0, .value_column = 1, .tones = {Tone::within}};
  const Report report = report_with({table, bars});
  // Of a scale to 1.25: 0.5 is 40 % of it, the rating itself 80 %; of forty marks sixteen and the
  // thirty-third.
  BOOST_TEST(has(html_page(report),
                 "style=\"width: 40.00%\"></span><span class=\"reads\">50.0 %</span><span class=\"rated\" "
                 "style=\"left: 80.00%\">"));
  BOOST_TEST(has(text_page(report), " " + std::string(16, '#') + std::string(16, ' ') + "|"));
}

BOOST_AUTO_TEST_CASE(columns_are_a_part_of_the_highest_and_long_tables_are_told_whole) {
  Table table = table_of(2);
  table.rows.push_back(table.rows[0]);
  table.rows[0].cells[1] = count(2);
  table.rows[1].cells[1] = count(8);
  const Columns columns{.title = "How many", .rows = 2, .category_column = 0, .value_column = 1};
  LongTable rigs{.columns = {{"Rig"}, {"Mass"}}, .rows = 3, .row = [](std::size_t i) {
                   return TableRow{{text("rig " + std::to_string(i)), count(100 + i)}};
                 }};
  const Report report = report_with({table, columns, rigs});
  const std::string page = html_page(report), told = text_page(report);
  BOOST_TEST(has(page, "style=\"width: 25.00%\""));
  BOOST_TEST(has(page, "style=\"width: 100.00%\""));
  BOOST_TEST(has(told, " " + std::string(10, '#') + std::string(31, ' ') + "        2\n"));
  BOOST_TEST(has(page, "<th scope=\"row\">rig 2</th><td><data value=\"102\">102</data></td>"));
  BOOST_TEST(has(told, "rig 2  102\n"));
}

BOOST_AUTO_TEST_SUITE_END()
