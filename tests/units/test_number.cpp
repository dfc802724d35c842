// Strict reading and shortest writing of numbers, in every locale.
#include "units/number.hpp"

#include <bit>
#include <boost/test/unit_test.hpp>
#include <clocale>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <limits>
#include <locale>
#include <random>

using namespace steelyard::units;

namespace {

/// Random bits taken as a double: every exponent and sign, which uniform draws never reach.
double random_double(std::mt19937_64& random) {
  double value = std::numeric_limits<double>::infinity();
  while (!std::isfinite(value)) value = std::bit_cast<double>(static_cast<std::uint64_t>(random()));
  return value;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(number)

BOOST_AUTO_TEST_CASE(one_whole_decimal_number_is_read) {
  BOOST_CHECK_EQUAL(parse_number("0").value(), 0);
  BOOST_CHECK_EQUAL(parse_number("641").value(), 641);
  BOOST_CHECK_EQUAL(parse_number("-12.5").value(), -12.5);
  BOOST_CHECK_EQUAL(parse_number(".5").value(), 0.5);
  BOOST_CHECK_EQUAL(parse_number("1e3").value(), 1000);
  BOOST_CHECK_EQUAL(parse_number("1.7976931348623157e308").value(), std::numeric_limits<double>::max());
}

BOOST_AUTO_TEST_CASE(anything_else_is_nothing) {
  for (const char* text :
       {"",    " 1",  "1 ",   "+1",       "-",     ".",      "--1",  "1,5",   "1.2.3", "1e",   "0x10",
        "nan", "inf", "-inf", "infinity", "1e309", "-1e309", "12kg", "1_000", "1'000", "-nan", "١"})
    BOOST_CHECK_MESSAGE(!parse_number(text), text);
  BOOST_CHECK(!parse_number(std::string_view("1\0", 2)));
}

BOOST_AUTO_TEST_CASE(shortest_reads_back_to_the_same_bits) {
  std::mt19937_64 random(44);
  for (int i = 0; i < 200'000; ++i) {
    const double value = random_double(random);
    if (value == 0) continue;
    const std::string text = shortest(value);
    const auto read = parse_number(text);
    BOOST_REQUIRE_MESSAGE(read && std::bit_cast<std::uint64_t>(*read) == std::bit_cast<std::uint64_t>(value),
                          text);
    BOOST_REQUIRE_EQUAL(std::strtod(text.c_str(), nullptr), value);  // a second reader
  }
}

BOOST_AUTO_TEST_CASE(shortest_is_short) {
  BOOST_CHECK_EQUAL(shortest(0.1), "0.1");
  BOOST_CHECK_EQUAL(shortest(641), "641");
  BOOST_CHECK_EQUAL(shortest(176.5), "176.5");
  BOOST_CHECK_EQUAL(shortest(0.1 + 0.2), "0.30000000000000004");
  BOOST_CHECK_EQUAL(shortest(-0.0), "0");
}

BOOST_AUTO_TEST_CASE(what_is_not_finite_is_never_written) {
  for (const double value :
       {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
        -std::numeric_limits<double>::infinity()}) {
    BOOST_CHECK_THROW(shortest(value), std::invalid_argument);
    BOOST_CHECK_THROW(fixed(value, 1), std::invalid_argument);
  }
}

BOOST_AUTO_TEST_CASE(fixed_is_for_people) {
  BOOST_CHECK_EQUAL(fixed(171.416, 1), "171.4");
  BOOST_CHECK_EQUAL(fixed(200'000, 0), "200000");
  BOOST_CHECK_EQUAL(fixed(-0.04, 1), "0.0");  // no minus before a zero
  BOOST_CHECK_EQUAL(fixed(-0.06, 1), "-0.1");
  BOOST_CHECK_EQUAL(fixed(1, -3), "1");
  BOOST_CHECK_EQUAL(fixed(1, 99), "1.000000000");
  BOOST_CHECK_EQUAL(fixed(std::numeric_limits<double>::max(), 0).size(), 309u);
}

BOOST_AUTO_TEST_CASE(decimals_follow_two_figures_of_the_expanded_uncertainty) {  // JCGM 100, 7.2.6
  BOOST_CHECK_EQUAL(decimals_for(2.31), 1);                                      // U = 4.6
  BOOST_CHECK_EQUAL(decimals_for(0.0121), 3);                                    // U = 0.024
  BOOST_CHECK_EQUAL(decimals_for(18), 0);                                        // U = 36
  BOOST_CHECK_EQUAL(decimals_for(180), 0);      // U = 360: never fewer than none
  BOOST_CHECK_EQUAL(decimals_for(0.00005), 3);  // U = 0.00010: never more than `most`
  BOOST_CHECK_EQUAL(decimals_for(0.00005, 6), 5);
  BOOST_CHECK_EQUAL(decimals_for(0), 3);
}

BOOST_AUTO_TEST_CASE(the_locale_does_not_matter) {
  struct Comma : std::numpunct<char> {
    char do_decimal_point() const override { return ','; }
  };
  const std::locale old = std::locale::global(std::locale(std::locale(), new Comma));
  for (const char* name : {"de_DE.UTF-8", "de_DE.utf8", "de_DE"})  // where the machine has it
    if (std::setlocale(LC_ALL, name)) break;
  const auto read = parse_number("1.5"), comma = parse_number("1,5");
  const std::string written = shortest(1234.5), rounded = fixed(1234.5, 2);
  std::setlocale(LC_ALL, "C");
  std::locale::global(old);
  BOOST_CHECK_EQUAL(read.value(), 1.5);
  BOOST_CHECK(!comma);
  BOOST_CHECK_EQUAL(written, "1234.5");
  BOOST_CHECK_EQUAL(rounded, "1234.50");
}

BOOST_AUTO_TEST_SUITE_END()
