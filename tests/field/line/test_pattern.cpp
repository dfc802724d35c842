// A line of bytes to a load. Expected figures are the digits of the lines themselves.
#include <boost/test/unit_test.hpp>
#include <chrono>
#include <cmath>
#include <string>

#include "field/line/pattern.hpp"

using namespace steelyard::field;
using steelyard::units::LoadUnit;

namespace {

LineOptions with(std::string pattern) {
  LineOptions options{.device = "/dev/null"};
  options.pattern = std::move(pattern);
  return options;
}

LineFigure read(const LineOptions& options, std::string_view line) {
  const LineResult result = LinePattern(options).read(line);
  BOOST_TEST_REQUIRE(result.figure.has_value(), result.miss.what);
  return *result.figure;
}

LineMiss miss(const LineOptions& options, std::string_view line) {
  const LineResult result = LinePattern(options).read(line);
  BOOST_TEST_REQUIRE(!result.figure.has_value());
  BOOST_TEST(!result.miss.what.empty());
  return result.miss;
}

const LineOptions plain{.device = "/dev/null"};

}  // namespace

BOOST_AUTO_TEST_SUITE(line_pattern)

BOOST_AUTO_TEST_CASE(a_number_and_its_unit_need_no_pattern_of_the_user) {
  BOOST_TEST((read(plain, "641 kg") == LineFigure{.figure = 641, .unit = LoadUnit::kilogram}));
  BOOST_TEST((read(plain, "  +0641.5kg ") == LineFigure{.figure = 641.5, .unit = LoadUnit::kilogram}));
  BOOST_TEST((read(plain, "gross,  -   12.0 LB") == LineFigure{.figure = -12, .unit = LoadUnit::pound}));
  BOOST_TEST((read(plain, "a,b,1413 lbs") == LineFigure{.figure = 1413, .unit = LoadUnit::pound}));
  BOOST_TEST((read(plain, "\x02 641. Kg\x03") == LineFigure{.figure = 641, .unit = LoadUnit::kilogram}));
  BOOST_TEST(!std::signbit(read(plain, "-0 kg").figure));
}

BOOST_AUTO_TEST_CASE(a_number_that_may_be_cut_off_is_not_taken) {
  for (const std::string_view line : {"1,234.5 kg", "1.234,5 kg", "1.2.3 kg", "1,234 kg"})
    BOOST_TEST((miss(plain, line).why == LineMiss::Why::not_a_number), line);
  for (const std::string_view line :
       {"", "kg", "- kg", "641", "641 g", "641 kgf", "--12 kg", ".5 kg", "6 41,"})
    BOOST_TEST((miss(plain, line).why == LineMiss::Why::no_match), line);
  BOOST_TEST((miss(plain, "1234567890123 kg").why == LineMiss::Why::not_a_number));
}

BOOST_AUTO_TEST_CASE(a_comma_is_a_decimal_mark_where_it_is_said_to_be) {
  LineOptions comma = plain;
  comma.decimal = DecimalMark::comma;
  BOOST_TEST(read(comma, "641,5 kg").figure == 641.5);
  BOOST_TEST((miss(comma, "641.5 kg").why == LineMiss::Why::not_a_number));
  BOOST_TEST(miss(comma, "641.5 kg").what.find("--line-decimal point") != std::string::npos);
}

BOOST_AUTO_TEST_CASE(units_are_those_that_a_sheet_knows) {
  const LineOptions any = with(R"((?<load>[-+ ]*[0-9.]+) *(?<unit>[a-zA-Z]*))");
  for (const std::string_view word : {"kg", "KG", "Kgs", "kilograms"})
    BOOST_TEST((read(any, std::string("5 ") + std::string(word)).unit == LoadUnit::kilogram));
  for (const std::string_view word : {"lb", "LB", "lbs", "Pounds"})
    BOOST_TEST((read(any, std::string("5 ") + std::string(word)).unit == LoadUnit::pound));
  BOOST_TEST((miss(any, "5 t").why == LineMiss::Why::other_unit));
  BOOST_TEST(miss(any, "5 t").what.find("\"t\"") != std::string::npos);
  BOOST_TEST((miss(any, "5").why == LineMiss::Why::no_unit));
  LineOptions supposed = any;
  supposed.unit = LoadUnit::pound;
  BOOST_TEST((read(supposed, "5").unit == LoadUnit::pound));
  BOOST_TEST((read(supposed, "5 kg").unit == LoadUnit::kilogram));
  BOOST_TEST((miss(supposed, "5 t").why == LineMiss::Why::other_unit));
}

BOOST_AUTO_TEST_CASE(a_group_says_what_is_stable) {
  const LineOptions options = with(R"(^(?:(?<stable>S)|M) (?<load>\S+) (?<unit>kg)$)");
  BOOST_TEST((read(options, "S 641 kg").stable == true));
  BOOST_TEST((read(options, "M 641 kg").stable == false));
  const LineOptions empty = with(R"(^(?<stable>S?) *(?<load>\d+) (?<unit>kg)$)");
  BOOST_TEST((read(empty, "S 641 kg").stable == true));
  BOOST_TEST((read(empty, "641 kg").stable == false));
  BOOST_TEST(!read(plain, "641 kg").stable.has_value());
}

BOOST_AUTO_TEST_CASE(a_name_may_stand_twice_where_the_pattern_allows_it) {
  const LineOptions options = with(R"((?J)^(?:kg (?<load>\d+)|(?<load>\d+) in kg)$)");
  LineOptions kilograms = options;
  kilograms.unit = LoadUnit::kilogram;
  BOOST_TEST(read(kilograms, "kg 12").figure == 12);
  BOOST_TEST(read(kilograms, "34 in kg").figure == 34);
}

BOOST_AUTO_TEST_CASE(any_bytes_are_a_line) {
  std::string odd;
  for (int byte = 0; byte < 256; ++byte) odd += static_cast<char>(byte);
  LinePattern pattern(plain);
  BOOST_TEST(!pattern.read(odd).figure.has_value());
  BOOST_TEST(!pattern.read({}).figure.has_value());
  BOOST_TEST((read(plain, std::string("\xff\xfe\0 641 kg\x80", 11)).figure == 641));
  BOOST_TEST(
      (miss(with(R"((?<load>[\x80-\xff]+)(?<unit>))"), "\xc3\x28").why == LineMiss::Why::not_a_number));
  BOOST_TEST(printable("a\x01\xff") == "a\\x01\\xff");
}

BOOST_AUTO_TEST_CASE(a_pattern_that_backtracks_without_end_stops) {
  // 2^250 ways to part the digits: unlimited, this would outlast the machine; the bound is generous for a
  // busy one.
  const std::string digits = std::string(250, '1') + "yx";
  const auto began = std::chrono::steady_clock::now();
  for (const char* pattern : {"^(?<load>(?:[0-9]+)+)+x$", "(?<load>(?:.*.*)*)*x.", "(?<load>(?:a?|(?R))*)x",
                              "(*LIMIT_MATCH=4000000000)^(?<load>(?:[0-9]+)+)+x$"}) {
    const LineMiss found = miss(with(pattern), digits);
    BOOST_TEST((found.why == LineMiss::Why::limit || found.why == LineMiss::Why::no_match), pattern);
  }
  BOOST_TEST((miss(with("^(?<load>(?:[0-9]+)+)+x$"), digits).why == LineMiss::Why::limit));
  BOOST_TEST((std::chrono::steady_clock::now() - began < std::chrono::seconds(60)));
}

BOOST_AUTO_TEST_CASE(a_wrong_pattern_is_told_with_its_place) {
  const auto fault = [](std::string pattern) { return pattern_fault(pattern).value_or(""); };
  BOOST_TEST(fault("(?<load>[0-9]+").find("at character 15, after \"(?<load>[0-9]+\": missing") == 0);
  BOOST_TEST(fault("(?<load>[0-9]+)(?<unit>*)").find("at character 24") == 0);
  BOOST_TEST(fault("[0-9]+ kg").find("no group named load") != std::string::npos);
  BOOST_TEST(!fault("").empty());
  BOOST_TEST(!fault(std::string(1001, 'a')).empty());
  BOOST_TEST(!fault("(*UTF)(?<load>.)").empty());
  BOOST_TEST(!fault("(?<load>((a{1000}){1000}){1000})").empty());
  BOOST_TEST(!fault("(?<load>" + std::string(400, '(') + std::string(400, ')') + ")").empty());
  BOOST_TEST(fault(std::string(default_line_pattern)).empty());
  BOOST_CHECK_THROW(LinePattern(with("(")), std::invalid_argument);
}

BOOST_AUTO_TEST_CASE(all_faults_of_the_options_come_at_once) {
  BOOST_TEST(option_faults(plain).empty());
  LineOptions wrong{.speed = 9601, .framing = "9X3", .pattern = "(", .stable_for = -1, .within = -1};
  BOOST_TEST(option_faults(wrong).size() == 6U);
  for (const char* framing : {"8N1", "7E1", "7O2", "8E2"}) {
    LineOptions right = plain;
    right.framing = framing;
    BOOST_TEST(option_faults(right).empty());
  }
  for (const int speed : {1200, 115200}) {
    LineOptions right = plain;
    right.speed = speed;
    BOOST_TEST(option_faults(right).empty());
  }
}

BOOST_AUTO_TEST_CASE(words_of_the_command_line) {
  BOOST_TEST((line_end_named("CRLF") == LineEnd::crlf));
  BOOST_TEST((line_end_named("any") == LineEnd::any));
  BOOST_TEST(!line_end_named("crcr").has_value());
  BOOST_TEST((decimal_mark_named("Comma") == DecimalMark::comma));
  BOOST_TEST(!decimal_mark_named(",").has_value());
  BOOST_TEST(!load_unit_named("t").has_value());
}

BOOST_AUTO_TEST_SUITE_END()
