// Times to instants. The expected seconds are those of `date -u -d TIME +%s`.
#include "store/instant.hpp"

#include <boost/test/unit_test.hpp>

using steelyard::store::instant_ms;
using steelyard::store::utc_now;

BOOST_AUTO_TEST_SUITE(instant)

BOOST_AUTO_TEST_CASE(a_whole_time_is_an_instant) {
  BOOST_TEST(instant_ms("1970-01-01T00:00:00Z").value() == 0);
  BOOST_TEST(instant_ms("2026-10-03T08:40:00+02:00").value() == 1791009600000);
  BOOST_TEST(instant_ms("2026-10-03T06:40Z").value() == 1791009600000);
  BOOST_TEST(instant_ms("2026-10-02T20:10:00-10:30").value() == 1791009600000);
  BOOST_TEST(instant_ms("2026-10-03T06:40:00.1239Z").value() == 1791009600123);
  BOOST_TEST(instant_ms("2026-10-03T06:40:00.5Z").value() == 1791009600500);
  BOOST_TEST(instant_ms("2024-02-29T00:00:00Z").value() == 1709164800000);
  BOOST_TEST(instant_ms("1969-12-31T23:59:59.999Z").value() == -1);
}

BOOST_AUTO_TEST_CASE(anything_else_is_none) {
  for (const char* text :
       {"", "2026-10-03", "2026-10-03T08:40:00", "2026-10-03 08:40:00Z", "2026-02-29T00:00:00Z",
        "2026-13-01T00:00:00Z", "2026-10-03T24:00:00Z", "2026-10-03T08:60:00Z", "2026-10-03T08:40:60Z",
        "2026-10-03T08:40:00+2:00", "2026-10-03T08:40:00+02:00 ", "2026-10-03T08:40:00z",
        "26-10-03T08:40:00Z", "2026-10-03T8:40:00Z", "soon"})
    BOOST_TEST(!instant_ms(text).has_value(), text);
}

BOOST_AUTO_TEST_CASE(now_is_a_whole_time) {
  BOOST_TEST(instant_ms(utc_now()).value() > 1790000000000);
}

BOOST_AUTO_TEST_SUITE_END()
