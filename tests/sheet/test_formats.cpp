// Dates, times and near words. Leap years: 2000 and 2028 are, 1900 and 2100 are not (Gregorian rule).
#include "sheet/formats.hpp"

#include <array>
#include <boost/test/unit_test.hpp>

using namespace steelyard::sheet;

BOOST_AUTO_TEST_SUITE(formats)

BOOST_AUTO_TEST_CASE(days_that_exist) {
  for (const char* day : {"2026-10-03", "2000-02-29", "2028-02-29", "1900-01-01", "2026-12-31"})
    BOOST_CHECK(is_date(day));
  for (const char* day :
       {"2026-02-29", "1900-02-29", "2100-02-29", "2026-04-31", "2026-13-01", "2026-00-10", "2026-01-00",
        "2026-1-1", "26-01-01", "2026-01-01 ", "2026/01/01", "1899-12-31", "", "2026-01-1x"})
    BOOST_CHECK_MESSAGE(!is_date(day), day);
}

BOOST_AUTO_TEST_CASE(times_with_an_offset) {
  for (const char* time : {"2026-10-03T08:40:00+02:00", "2026-10-03T08:40Z",
                           "2026-10-03T08:40:59.123456789-09:30", "2026-10-03T00:00:00+14:00"})
    BOOST_CHECK_MESSAGE(is_time(time), time);
  for (const char* time :
       {"2026-10-03T08:40:00", "2026-10-03 08:40:00Z", "2026-10-03T24:00:00Z", "2026-10-03T08:60:00Z",
        "2026-10-03T08:40:60Z", "2026-10-03T08:40:00.Z", "2026-10-03T08:40:00+2:00",
        "2026-10-03T08:40:00+0200", "2026-10-03T08:40:00+14:01", "2026-10-03T08:40:00z", "2026-10-03",
        "2026-02-30T08:40:00Z", "2026-10-03T08:40:00Z "})
    BOOST_CHECK_MESSAGE(!is_time(time), time);
}

BOOST_AUTO_TEST_CASE(near_words) {
  constexpr std::array<std::string_view, 4> words{"travels", "support", "readings", "name"};
  BOOST_CHECK_EQUAL(nearest("travel", words), "travels");
  BOOST_CHECK_EQUAL(nearest("tarvels", words), "travels");  // two neighbours swapped: one step
  BOOST_CHECK_EQUAL(nearest("Reading", words), "readings");
  BOOST_CHECK_EQUAL(nearest("colour", words), "");
  BOOST_CHECK_EQUAL(nearest("", words), "");
  BOOST_CHECK_EQUAL(nearest(std::string(1'000, 'n'), words), "");
}

BOOST_AUTO_TEST_CASE(widths_of_utf8_characters) {  // RFC 3629, section 4
  BOOST_CHECK_EQUAL(utf8_width("a"), 1u);
  BOOST_CHECK_EQUAL(utf8_width("\xC2\x80"), 2u);
  BOOST_CHECK_EQUAL(utf8_width("\xE0\xA0\x80"), 3u);
  BOOST_CHECK_EQUAL(utf8_width("\xED\x9F\xBF"), 3u);
  BOOST_CHECK_EQUAL(utf8_width("\xF4\x8F\xBF\xBF"), 4u);
  for (const char* broken : {"\x80", "\xC1\xBF", "\xE0\x9F\xBF", "\xED\xA0\x80", "\xF0\x8F\xBF\xBF",
                             "\xF4\x90\x80\x80", "\xF5", "\xC2"})
    BOOST_CHECK_EQUAL(utf8_width(broken), 0u);
}

BOOST_AUTO_TEST_CASE(texts_by_kind) {
  BOOST_CHECK(text_fault("two\nlines\tand a tab", TextKind::note).empty());
  BOOST_CHECK(!text_fault("two\nlines", TextKind::line).empty());
  BOOST_CHECK(!text_fault("bell\a", TextKind::note).empty());
  BOOST_CHECK(!text_fault("next line \xC2\x85", TextKind::line).empty());
  BOOST_CHECK(!text_fault("\xEF\xBF\xBE", TextKind::note).empty());
  BOOST_CHECK(text_fault("Kõrvemaa 秤", TextKind::name).empty());
  BOOST_CHECK(!text_fault("ends ", TextKind::name).empty());
  BOOST_CHECK(text_fault("ends ", TextKind::line).empty());
}

BOOST_AUTO_TEST_SUITE_END()
