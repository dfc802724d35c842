// Limit names as the contract's table lists them, and what each compares.
#include "rig/limit.hpp"

#include <boost/test/unit_test.hpp>

using namespace steelyard::rig;

BOOST_AUTO_TEST_SUITE(limit)

BOOST_AUTO_TEST_CASE(every_name_reads_back) {
  BOOST_CHECK_EQUAL(limit_names().size(), 23u);  // 22 kinds, of which wheel has a name for each vehicle
  for (const std::string_view name : limit_names()) {
    std::string text(name);
    if (text.ends_with(".N")) text.replace(text.size() - 1, 1, "20");
    BOOST_TEST_CONTEXT(text) {
      const auto limit = parse_limit_name(text);
      BOOST_REQUIRE(limit);
      BOOST_CHECK_EQUAL(limit_name(*limit), text);
      BOOST_CHECK_EQUAL(limit->axle, text.ends_with(".20") ? 20 : 0);
    }
  }
}

BOOST_AUTO_TEST_CASE(wheels_of_either_vehicle) {
  BOOST_CHECK(parse_limit_name("wheel.tow.1")->vehicle == Vehicle::tow);
  BOOST_CHECK(parse_limit_name("wheel.trailer.3")->vehicle == Vehicle::trailer);
  BOOST_CHECK_EQUAL(parse_limit_name("wheel.trailer.3")->axle, 3);
}

BOOST_AUTO_TEST_CASE(anything_else_is_no_limit) {
  for (const char* name : {"", "tow", "tow_gros", "Tow_gross", "tow_gross.1", "tow_axle", "tow_axle.",
                           "tow_axle.0", "tow_axle.01", "tow_axle.21", "tow_axle.N", "tow_axle.1.left",
                           "wheel.1", "wheel.tow", "wheel.trailer.", "wheel.car.1", "tow_axle.99999999999"})
    BOOST_CHECK_MESSAGE(!parse_limit_name(name), name);
}

BOOST_AUTO_TEST_CASE(what_each_kind_measures) {
  using enum LimitKind;
  for (const auto kind : {tow_gross, tow_axle, combination, towed_mass_unbraked, trailer_axle, coupling,
                          coupling_minimum, wheel})
    BOOST_CHECK(measure_of(kind) == Measure::load);
  for (const auto kind : {tow_front_minimum_share, coupling_share_minimum, coupling_share_maximum, mass_ratio,
                          front_axle_restoration_minimum, front_axle_restoration_maximum, side_difference})
    BOOST_CHECK(measure_of(kind) == Measure::ratio);
  for (const auto kind : {d_value, dc_value}) BOOST_CHECK(measure_of(kind) == Measure::force_kn);
}

BOOST_AUTO_TEST_CASE(four_kinds_are_minima) {
  using enum LimitKind;
  for (int i = 0; i <= static_cast<int>(dc_value); ++i) {
    const auto kind = static_cast<LimitKind>(i);
    const bool minimum = kind == tow_front_minimum_share || kind == coupling_minimum ||
                         kind == coupling_share_minimum || kind == front_axle_restoration_minimum;
    BOOST_CHECK_EQUAL(is_minimum(kind), minimum);
  }
}

BOOST_AUTO_TEST_SUITE_END()
