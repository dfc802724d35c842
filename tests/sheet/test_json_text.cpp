// Texts that are not the JSON a sheet may be. Rules: RFC 8259, RFC 3629 (UTF-8), IEEE 754 (largest
// double 1.8e308).
#include <boost/test/unit_test.hpp>
#include <clocale>
#include <locale>

#include "sheets.hpp"

using namespace steelyard;

namespace {

void check_refused(const std::string& text, const std::string& beginning, const std::string& part = "") {
  const auto faults = tests::faults_of(text);
  BOOST_REQUIRE_EQUAL(faults.size(), 1u);
  BOOST_CHECK_MESSAGE(faults[0].starts_with(beginning), faults[0] + "\n  should begin with " + beginning);
  BOOST_CHECK_MESSAGE(faults[0].find(part) != std::string::npos, faults[0] + "\n  should say " + part);
}

}  // namespace

BOOST_AUTO_TEST_SUITE(json_text)

BOOST_AUTO_TEST_CASE(broken_syntax_is_placed_by_line_column_and_byte) {
  check_refused("{\n  \"format\": 1,\n  }", "is not JSON at line 3, column 3 (byte 20)",
                "comma before a closing bracket");
  check_refused("", "is not JSON at line 1, column 1", "close every bracket");
  check_refused("{\"format\": \"steelyard-session/1\"", "is not JSON", "close every bracket");
  check_refused(tests::smallest() + "{}", "is not JSON", "write nothing after the last bracket");
  check_refused("{'format': 1}", "is not JSON at line 1, column 2");
  check_refused("{\"format\": 1 /* why */}", "is not JSON");
  check_refused(tests::smallest(R"(,"placement_u":NaN)"), "is not JSON", "no comment, NaN");
  check_refused(tests::smallest(R"(,"placement_u":Infinity)"), "is not JSON");
  check_refused(tests::smallest(R"(,"placement_u":0x1)"), "is not JSON");
  check_refused(tests::smallest(R"(,"placement_u":.5)"), "is not JSON");
  check_refused(tests::smallest(R"(,"placement_u":05)"), "is not JSON");
  check_refused(tests::smallest(R"(,"placement_u":+5)"), "is not JSON");
}

BOOST_AUTO_TEST_CASE(a_number_no_double_holds_is_refused_at_its_place) {
  check_refused(tests::smallest(R"(,"placement_u":1e309)"),
                "placement_u: must be a number that a double can hold, is 1e309");
  check_refused(tests::smallest(R"(,"x-list":[1,2,-1e400])"),
                "x-list[2]: must be a number that a double can hold");
}

BOOST_AUTO_TEST_CASE(text_that_is_not_utf8_is_refused) {
  for (const std::string bytes :
       {"\xC3\x28", "\xFF", "\xC0\xAF", "\xE0\x80\xAF", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xE2\x82"})
    check_refused(tests::smallest(R"(,"x-a":")" + bytes + "\""), "is not JSON", "save the file as UTF-8");
}

BOOST_AUTO_TEST_CASE(half_a_surrogate_pair_is_refused) {
  check_refused(tests::smallest(R"(,"x-a":"\ud83d")"), "is not JSON", "write the character itself");
  check_refused(tests::smallest(R"(,"x-a":"\ude9a")"), "is not JSON", "write the character itself");
  check_refused(tests::smallest(R"(,"x-a":"\ud83d\u0041")"), "is not JSON", "write the character itself");
  BOOST_CHECK_EQUAL(tests::sound(tests::smallest(R"(,"x-a":"\ud83d\ude9a")")).extras.at(0).json,
                    "\"\xF0\x9F\x9A\x9A\"");
}

BOOST_AUTO_TEST_CASE(a_bare_control_character_is_refused) {
  check_refused(tests::smallest(",\"x-a\":\"a\nb\""), "is not JSON",
                "write a line break inside a text as \\n");
  check_refused(tests::smallest(std::string(",\"x-a\":\"a\0b\"", 12)), "is not JSON");
}

BOOST_AUTO_TEST_CASE(nesting_stops_at_thirty_two) {
  const auto nested = [](int depth) {  // the sheet itself is one deep
    return tests::smallest(",\"x-a\":" + std::string(static_cast<std::size_t>(depth), '[') +
                           std::string(static_cast<std::size_t>(depth), ']'));
  };
  tests::sound(nested(31));
  check_refused(nested(32), "x-a[0][0]", "is nested deeper than 32 brackets");
  check_refused(std::string(1'000'000, '['), "[0]", "is nested deeper than 32 brackets");
}

BOOST_AUTO_TEST_CASE(a_sheet_longer_than_the_longest_is_refused) {
  check_refused(tests::smallest() + std::string(sheet::longest_sheet, ' '), "the sheet is 16777",
                "at most 16777216 are read");
  std::string longest = tests::smallest();
  longest.resize(sheet::longest_sheet, ' ');
  tests::sound(longest);
}

BOOST_AUTO_TEST_CASE(a_byte_order_mark_is_passed_over) {
  tests::sound("\xEF\xBB\xBF" + tests::smallest());
}

BOOST_AUTO_TEST_CASE(figures_are_the_same_in_every_locale) {
  struct Comma : std::numpunct<char> {
    char do_decimal_point() const override { return ','; }
    char do_thousands_sep() const override { return '.'; }
    std::string do_grouping() const override { return "\3"; }
  };
  const std::string text = tests::case_text("every_field.json");
  const std::string before = sheet::write(tests::sound(text));
  const std::locale old = std::locale::global(std::locale(std::locale(), new Comma));
  for (const char* name : {"de_DE.UTF-8", "de_DE.utf8", "de_DE"})  // where the machine has it
    if (std::setlocale(LC_ALL, name)) break;
  const std::string after = sheet::write(tests::sound(text));
  const auto faults = tests::faults_of(tests::smallest(R"(,"placement_u":1234.5)"));
  std::setlocale(LC_ALL, "C");
  std::locale::global(old);
  BOOST_CHECK_EQUAL(after, before);
  BOOST_CHECK_EQUAL(faults.at(0), "placement_u: must be from 0 to 0.5, is 1234.5");
}

BOOST_AUTO_TEST_SUITE_END()
