// The crossings between units against their definitions: 1 lb = 0.45359237 kg and 1 in = 25.4 mm, both exact
// (international yard and pound agreement, 1959; NIST Handbook 44, appendix C, general tables of units).
#include "units/quantity.hpp"

#include <boost/test/unit_test.hpp>
#include <random>

using namespace steelyard::units;

BOOST_AUTO_TEST_SUITE(quantity)

BOOST_AUTO_TEST_CASE(one_pound_and_one_inch) {
  BOOST_CHECK_EQUAL(to_kilograms(Pounds(1)).value(), 0.45359237);
  BOOST_CHECK_EQUAL(to_millimetres(Inches(1)).value(), 25.4);
}

BOOST_AUTO_TEST_CASE(printed_values_of_the_tables) {
  // NIST Handbook 44, appendix C: 1 ounce, 1/16 lb, = 28.349523125 g; 1 hundredweight, 100 lb, = 45.359237
  // kg; 1 short ton, 2000 lb, = 907.18474 kg; 1 long ton, 2240 lb, = 1016.0469088 kg; 1 foot = 304.8 mm; 1
  // yard = 914.4 mm.
  BOOST_CHECK_CLOSE_FRACTION(to_kilograms(Pounds(1.0 / 16)).value(), 0.028349523125, 1e-15);
  BOOST_CHECK_CLOSE_FRACTION(to_kilograms(Pounds(100)).value(), 45.359237, 1e-15);
  BOOST_CHECK_CLOSE_FRACTION(to_kilograms(Pounds(2000)).value(), 907.18474, 1e-15);
  BOOST_CHECK_CLOSE_FRACTION(to_kilograms(Pounds(2240)).value(), 1016.0469088, 1e-15);
  BOOST_CHECK_CLOSE_FRACTION(to_millimetres(Inches(12)).value(), 304.8, 1e-15);
  BOOST_CHECK_CLOSE_FRACTION(to_millimetres(Inches(36)).value(), 914.4, 1e-15);
}

BOOST_AUTO_TEST_CASE(there_and_back_loses_no_more_than_a_rounding) {
  std::mt19937_64 random(1959);
  std::uniform_real_distribution<> figure(0.001, 200'000);
  for (int i = 0; i < 10'000; ++i) {
    const double value = figure(random);
    BOOST_REQUIRE_CLOSE_FRACTION(to_pounds(to_kilograms(Pounds(value))).value(), value, 4e-16);
    BOOST_REQUIRE_CLOSE_FRACTION(to_inches(to_millimetres(Inches(value))).value(), value, 4e-16);
  }
}

BOOST_AUTO_TEST_CASE(a_load_keeps_its_figure_and_unit) {
  constexpr Load entered{1412, LoadUnit::pound};
  static_assert(entered.figure == 1412 && entered.kg() == to_kilograms(Pounds(1412)));
  BOOST_CHECK_EQUAL((Load{1412, LoadUnit::kilogram}.kg().value()), 1412);
  BOOST_CHECK_EQUAL((Length{10, LengthUnit::inch}.mm().value()), 254);
  BOOST_CHECK_EQUAL((Length{10, LengthUnit::millimetre}.mm().value()), 10);
  BOOST_CHECK(!(entered == Load{1412, LoadUnit::kilogram}));
}

BOOST_AUTO_TEST_CASE(arithmetic_stays_within_the_unit) {
  constexpr Kilograms a(3), b(1.5);
  BOOST_CHECK_EQUAL((a + b).value(), 4.5);
  BOOST_CHECK_EQUAL((a - b).value(), 1.5);
  BOOST_CHECK_EQUAL((-a).value(), -3);
  BOOST_CHECK_EQUAL((a * 2).value(), 6);
  BOOST_CHECK_EQUAL((a / 2).value(), 1.5);
  BOOST_CHECK_EQUAL(a / b, 2);
  BOOST_CHECK(b < a);
}

BOOST_AUTO_TEST_CASE(symbols) {
  BOOST_CHECK_EQUAL(symbol(LoadUnit::kilogram), "kg");
  BOOST_CHECK_EQUAL(symbol(LoadUnit::pound), "lb");
  BOOST_CHECK_EQUAL(symbol(LengthUnit::millimetre), "mm");
  BOOST_CHECK_EQUAL(symbol(LengthUnit::inch), "in");
}

BOOST_AUTO_TEST_SUITE_END()
