// Fleet files: one sheet a line.
#include <boost/test/unit_test.hpp>
#include <sstream>

#include "sheets.hpp"

using namespace steelyard;

BOOST_AUTO_TEST_SUITE(fleet)

BOOST_AUTO_TEST_CASE(one_sheet_a_line_with_blank_lines_passed_over) {
  std::istringstream in(tests::smallest(R"(,"id":"a")") + "\r\n\n  \t\r\n" + tests::smallest(R"(,"id":"b")"));
  sheet::FleetReader reader(in);
  const auto first = reader.next(), second = reader.next();
  BOOST_REQUIRE(first && first->session && second && second->session);
  BOOST_CHECK_EQUAL(first->session->id, "a");
  BOOST_CHECK_EQUAL(second->session->id, "b");
  BOOST_CHECK_EQUAL(reader.line(), 4u);
  BOOST_CHECK(!reader.next());
  BOOST_CHECK(!reader.next());
}

BOOST_AUTO_TEST_CASE(faults_carry_their_line_and_do_not_stop_the_next) {
  std::istringstream in("   \n" + tests::smallest(R"(,"placement_u":"1")") + "\n{\n" + tests::smallest() +
                        "\n");
  sheet::FleetReader reader(in);
  const auto wrong = reader.next();
  BOOST_REQUIRE(wrong && !wrong->session);
  BOOST_CHECK_EQUAL(sheet::to_text(wrong->faults.at(0)),
                    "line 2, placement_u: must be a number, is the text \"1\"; write it without quotes");
  const auto broken = reader.next();
  BOOST_REQUIRE(broken);
  BOOST_CHECK(sheet::to_text(broken->faults.at(0)).starts_with("line 3: is not JSON at line 1, column 2"));
  const auto sound = reader.next();
  BOOST_CHECK(sound && sound->session);
  BOOST_CHECK(!reader.next());
}

BOOST_AUTO_TEST_CASE(a_line_above_the_longest_is_skipped_without_being_kept) {
  std::istringstream in(std::string(sheet::longest_sheet + 5, ' ') + "\n" + tests::smallest());
  sheet::FleetReader reader(in);
  const auto wrong = reader.next();
  BOOST_REQUIRE(wrong);
  BOOST_CHECK(sheet::to_text(wrong->faults.at(0)).starts_with("line 1: the sheet is 16777221 bytes long"));
  const auto next = reader.next();
  BOOST_CHECK(next && next->session);
}

BOOST_AUTO_TEST_CASE(an_empty_file_holds_no_sheet) {
  std::istringstream in("");
  sheet::FleetReader reader(in);
  BOOST_CHECK(!reader.next());
  BOOST_CHECK_EQUAL(reader.line(), 0u);
}

BOOST_AUTO_TEST_SUITE_END()
