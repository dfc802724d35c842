#include "rig/position.hpp"

#include <boost/test/unit_test.hpp>
#include <set>
#include <vector>

using namespace steelyard::rig;

namespace {

std::vector<Position> every_position() {
  std::vector<Position> all{Position::support_at_coupling(), Position::support_at_jockey()};
  for (const Vehicle vehicle : {Vehicle::tow, Vehicle::trailer}) {
    all.push_back(Position::whole(vehicle));
    for (int axle = 1; axle <= most_axles; ++axle) {
      all.push_back(Position::whole_axle(vehicle, axle));
      all.push_back(Position::wheel(vehicle, axle, Side::left));
      all.push_back(Position::wheel(vehicle, axle, Side::right));
    }
  }
  return all;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(position)

BOOST_AUTO_TEST_CASE(every_position_reads_back) {
  std::set<std::string> texts;
  for (const Position& position : every_position()) {
    const std::string text = to_text(position);
    BOOST_TEST_CONTEXT(text) {
      BOOST_CHECK(parse_position(text) == position);
      BOOST_CHECK(texts.insert(text).second);
      BOOST_CHECK(!in_words(position).empty());
    }
  }
}

BOOST_AUTO_TEST_CASE(the_contracts_words) {
  BOOST_CHECK(parse_position("tow.1.left") == Position::wheel(Vehicle::tow, 1, Side::left));
  BOOST_CHECK(parse_position("trailer.2.right") == Position::wheel(Vehicle::trailer, 2, Side::right));
  BOOST_CHECK(parse_position("trailer.2") == Position::whole_axle(Vehicle::trailer, 2));
  BOOST_CHECK(parse_position("tow") == Position::whole(Vehicle::tow));
  BOOST_CHECK(parse_position("coupling") == Position::support_at_coupling());
  BOOST_CHECK(parse_position("jockey") == Position::support_at_jockey());
  BOOST_CHECK_EQUAL(in_words(Position::wheel(Vehicle::tow, 1, Side::left)), "tow vehicle axle 1, left");
  BOOST_CHECK_EQUAL(in_words(Position::whole_axle(Vehicle::trailer, 2)), "trailer axle 2");
}

BOOST_AUTO_TEST_CASE(anything_else_is_no_position) {
  for (const char* text : {"",
                           "t",
                           "to",
                           "tow.",
                           "tow..left",
                           "tow.0",
                           "tow.-1",
                           "tow.+1",
                           "tow.01",
                           "tow.1.",
                           "tow.1.leftx",
                           "tow.1.Left",
                           "tow.1.left.left",
                           "tow.left",
                           "tow.21",
                           "tow.99999999999999999999",
                           "towed",
                           "tow1",
                           "trailer.1e0",
                           "trailer.1.right ",
                           " tow",
                           "Tow",
                           "coupling.1",
                           "jockey.left",
                           "tow.1x"})
    BOOST_CHECK_MESSAGE(!parse_position(text), text);
}

BOOST_AUTO_TEST_SUITE_END()
