// What to read next, each by hand: the walk goes from the front to the end, left then right, the support last.
#include <boost/test/unit_test.hpp>

#include "field/next_place.hpp"
#include "support.hpp"

using namespace steelyard;
using namespace steelyard::field;
using namespace steelyard::test;
using nlohmann::json;

namespace {

/// "tow.1.left in apart", or "nothing".
std::string next(const json& sheet, const reconcile::Findings* findings = nullptr) {
  const auto place = next_place(session_of(sheet), findings);
  return place ? rig::to_text(place->at) + " in " + place->state : "nothing";
}

void read(json& sheet, std::size_t state, std::initializer_list<const char*> places, const char* taken_at = "09:00:00") {
  static int count = 0;
  for (const char* place : places) {
    json reading = reading_of("n" + std::to_string(++count), place, 500);
    reading["taken_at"] = std::string("2026-10-03T") + taken_at + "+02:00";
    sheet["states"][state]["readings"].push_back(reading);
  }
}

reconcile::Findings checked(int degrees_of_freedom) {
  reconcile::Findings findings;
  findings.fit.degrees_of_freedom = degrees_of_freedom;
  return findings;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(walking)

BOOST_AUTO_TEST_CASE(places_of_a_rig) {
  const rig::Session session = session_of(small_sheet());
  const auto words = [&](const rig::State& state, bool usual) {
    std::string text;
    for (const Place& place : places_of(session.rig, state))
      if (place.usual == usual) text += rig::to_text(place.at) + ' ';
    return text;
  };
  BOOST_TEST(words(session.states[0], true) == "tow.1.left tow.1.right tow.2.left tow.2.right trailer.1.left trailer.1.right coupling ");
  BOOST_TEST(words(session.states[1], true) == "tow.1.left tow.1.right tow.2.left tow.2.right trailer.1.left trailer.1.right ");
  BOOST_TEST(words(session.states[1], false) == "tow.1 tow.2 tow trailer.1 trailer ");
}

BOOST_AUTO_TEST_CASE(the_walk) {
  json sheet = small_sheet();
  const char* const walk[] = {"tow.1.left", "tow.1.right", "tow.2.left", "tow.2.right", "trailer.1.left", "trailer.1.right", "coupling"};
  for (const char* place : walk) {
    BOOST_TEST(next(sheet) == std::string(place) + " in apart");
    read(sheet, 0, {place});
  }
  BOOST_TEST(next(sheet) == "tow.1.left in together");
  read(sheet, 1, {"tow.1.left"}, "10:00:00");
  BOOST_TEST(next(sheet) == "tow.1.right in together");
}

BOOST_AUTO_TEST_CASE(nothing_without_states) {
  rig::Session session = session_of(small_sheet());
  session.states.clear();
  BOOST_TEST(!next_place(session, nullptr).has_value());
}

BOOST_AUTO_TEST_CASE(a_whole_axle_or_vehicle_covers_its_wheels) {
  json sheet = small_sheet();
  read(sheet, 0, {"tow.1"});
  BOOST_TEST(next(sheet) == "tow.2.left in apart");
  read(sheet, 0, {"tow"});
  BOOST_TEST(next(sheet) == "trailer.1.left in apart");
  read(sheet, 0, {"trailer"});
  BOOST_TEST(next(sheet) == "coupling in apart");
}

BOOST_AUTO_TEST_CASE(a_struck_reading_is_read_again) {
  json sheet = small_sheet();
  read(sheet, 0, {"tow.1.left", "tow.1.right"});
  sheet["states"][0]["readings"][0]["struck"] = {{"why", "wrong pad"}, {"by", "R. Okoye"}, {"at", "2026-10-03T09:10:00+02:00"}};
  BOOST_TEST(next(sheet) == "tow.1.left in apart");
}

BOOST_AUTO_TEST_CASE(the_state_that_is_being_weighed_comes_first) {
  json sheet = small_sheet();
  read(sheet, 0, {"tow.1.left"}, "09:00:00");
  read(sheet, 1, {"tow.1.left", "tow.1.right"}, "10:00:00");
  BOOST_TEST(next(sheet) == "tow.2.left in together");
  read(sheet, 1, {"tow.2", "trailer.1"}, "10:05:00");
  BOOST_TEST(next(sheet) == "tow.1.right in apart");  // then what is missing in the others
}

BOOST_AUTO_TEST_CASE(the_latest_reading_is_that_of_the_latest_instant) {
  json sheet = small_sheet();
  read(sheet, 1, {"tow.1.left"}, "10:00:00");  // at +02:00: 08:00 UTC
  read(sheet, 0, {"tow.1.left"});
  sheet["states"][0]["readings"][0]["taken_at"] = "2026-10-03T08:30:00Z";
  BOOST_TEST(next(sheet) == "tow.1.right in apart");
  // One without a time is no later than one with.
  read(sheet, 1, {"tow.2.left"});
  sheet["states"][1]["readings"][1].erase("taken_at");
  BOOST_TEST(next(sheet) == "tow.1.right in apart");
}

BOOST_AUTO_TEST_CASE(what_tells_suspects_apart_comes_before_all) {
  json sheet = small_sheet();
  read(sheet, 0, {"tow.1.left"});
  reconcile::Findings findings = checked(3);
  reconcile::NextReading again;
  again.state = "together";
  again.at = rig::Position::wheel(rig::Vehicle::tow, 2, rig::Side::right);
  findings.suspects.push_back({{}, 0, {}, again});
  BOOST_TEST(next(sheet, &findings) == "tow.2.right in together");
  // A state still to be made, and the tape, are no place of this session.
  findings.suspects[0].next_reading->new_state = true;
  BOOST_TEST(next(sheet, &findings) == "tow.1.right in apart");
  findings.suspects[0].next_reading = reconcile::NextReading{};
  findings.suspects[0].next_reading->kind = reconcile::NextReading::Kind::overhang;
  BOOST_TEST(next(sheet, &findings) == "tow.1.right in apart");
}

BOOST_AUTO_TEST_CASE(what_something_needs_is_said) {
  json sheet = small_sheet();
  read(sheet, 0, {"tow", "trailer.1"});
  reconcile::Findings findings = checked(0);
  const auto why = [&] { return next_place(session_of(sheet), &findings)->why; };
  const std::string plain = why();
  reconcile::Quantity load;
  load.name = "coupling_load";
  load.needs = reconcile::Need{"weigh the coupling", {{"apart", {}, {rig::Position::support_at_coupling()}}}, false, {}};
  findings.quantities.push_back(load);
  BOOST_TEST(next(sheet, &findings) == "coupling in apart");
  BOOST_TEST(why() != plain);
  BOOST_TEST(why().find("cannot be told without it") != std::string::npos);
  findings.quantities[0].determinable = true;
  BOOST_TEST(why() == plain);
}

BOOST_AUTO_TEST_CASE(second_readings_only_where_nothing_checks_the_first) {
  json sheet = small_sheet();
  read(sheet, 0, {"tow", "trailer", "coupling"}, "09:00:00");
  read(sheet, 1, {"tow", "trailer"}, "10:00:00");
  const reconcile::Findings free = checked(2), bound = checked(0);
  BOOST_TEST(next(sheet, &free) == "nothing");
  BOOST_TEST(next(sheet) == "nothing");
  BOOST_TEST(next(sheet, &bound) == "tow.1.left in together");
  read(sheet, 1, {"tow"}, "10:05:00");
  BOOST_TEST(next(sheet, &bound) == "trailer.1.left in together");
  read(sheet, 1, {"trailer"}, "10:06:00");
  BOOST_TEST(next(sheet, &bound) == "nothing");
}

BOOST_AUTO_TEST_SUITE_END()
