// What may still be loaded, in words: sentences written by hand for rooms made by hand. 1 lb = 0.45359237 kg,
// so 85.9 kg are 189.38 lb.
#include "reports/words/room.hpp"

#include <boost/test/unit_test.hpp>

namespace {

using namespace steelyard;
using assess::Bound;
using assess::Room;
using reports::ShownUnits;

const ShownUnits metric{}, pounds{units::LoadUnit::pound, units::LengthUnit::inch};

rig::Limit limit(const char* name, const char* source) {
  rig::Limit out = rig::parse_limit_name(name).value();
  out.source = source;
  return out;
}

/// Limits 0 to 3, each with one row of the same number.
struct Rig {
  rig::Session session;
  assess::Assessment assessment;

  Rig() {
    session.rig.tow_vehicle.axles = {{{0, units::LengthUnit::millimetre}, rig::Group::front},
                                     {{3000, units::LengthUnit::millimetre}, rig::Group::rear}};
    session.rig.limits = {limit("trailer_gross", "trailer plate"), limit("tow_rear", "door plate"),
                          limit("coupling_minimum", ""), limit("wheel.trailer.2", "tyre")};
    assessment.rows.resize(4);
    for (std::size_t i = 0; i < 4; ++i) assessment.rows[i].limit = i;
    assessment.rows[2].minimum = true;
  }
  std::string words(const Room& room, const ShownUnits& shown = metric,
                    reports::Region region = reports::Region::plain) const {
    return room_words(room, session, assessment, shown, region);
  }
};

Bound bound(double kg, std::size_t limit, bool supposed = false) {
  return {kg, limit, limit, supposed};
}

BOOST_AUTO_TEST_SUITE(room_in_words)

BOOST_AUTO_TEST_CASE(up_to_a_limit) {
  const Rig rig;
  Room room;
  room.most = bound(85.9, 0);
  BOOST_TEST(rig.words(room) == "up to 85 kg, then trailer mass (trailer plate) binds");
  BOOST_TEST(rig.words(room, pounds) == "up to 189 lb, then trailer mass (trailer plate) binds");
  BOOST_TEST(rig.words(room, metric, reports::Region::australia) ==
             "up to 85 kg, then trailer mass (ATM) (trailer plate) binds");
  room.most->kg = 85 - 1e-9;  // arithmetic's noise takes no kilogram
  room.sure = bound(70.2, 0);
  BOOST_TEST(rig.words(room) ==
             "up to 85 kg, then trailer mass (trailer plate) binds; up to 70 kg every rating is surely kept");
  room.most->kg = 0.7;
  room.sure.reset();
  BOOST_TEST(rig.words(room) == "less than 1 kg, then trailer mass (trailer plate) binds");
  room.most->kg = 85;
  room.sure = bound(0, 1);
  BOOST_TEST(
      rig.words(room) ==
      "up to 85 kg, then trailer mass (trailer plate) binds; already too close to be sure (rear axle load)");
}

BOOST_AUTO_TEST_CASE(what_it_rests_on) {
  const Rig rig;
  Room room;
  room.most = bound(40, 1, true);
  room.sure = bound(30, 1, true);
  room.advice = bound(12.5, 2);
  room.left_out = {{3, 3, "weigh each wheel end"}, {3, 3, "weigh each wheel end"}};
  BOOST_TEST(
      rig.words(room) ==
      "up to 40 kg, then rear axle load (door plate) binds; up to 30 kg every rating looked at is surely "
      "kept; "
      "if axles and wheels share it as they share their load now; guidance ends at 12 kg: coupling load, "
      "least; not looked at, and may bind earlier: heavier wheel, trailer axle 2");
  room.advice->kg = 0;
  BOOST_TEST(rig.words(room).find("; outside guidance already: coupling load, least;") != std::string::npos);
  room.advice->kg = 50;  // beyond what may be added anyway
  BOOST_TEST(rig.words(room).find("guidance") == std::string::npos);
}

BOOST_AUTO_TEST_CASE(nothing_and_no_end) {
  const Rig rig;
  Room room;
  room.unlimited = true;
  BOOST_TEST(rig.words(room) == "no rating on the sheet ends what may be added here");
  room = {};
  room.reason = "the session has no trailer";
  BOOST_TEST(rig.words(room) == "cannot be told: the session has no trailer");
  room = {};
  room.already_outside = true;
  room.most = bound(0, 1);
  room.outside = {{1, 1, false, {}, false}};
  BOOST_TEST(rig.words(room) == "nothing: rear axle load (door plate) is over already");
  room.outside = {{2, 2, true, 39.5, false}};
  BOOST_TEST(rig.words(room) ==
             "nothing: coupling load, least is below already; mass here brings it nearer, not within");
  room.mended = assess::Mended{39.5, bound(120.9, 0)};
  BOOST_TEST(
      rig.words(room) ==
      "nothing: coupling load, least is below already; from 40 kg added here on it is within, until 120 kg, "
      "then trailer mass (trailer plate) binds");
}

BOOST_AUTO_TEST_CASE(places) {
  const Rig rig;
  const auto words = [&](rig::Vehicle vehicle, double at, const char* name,
                         const ShownUnits& shown = metric) {
    return place_name_words({vehicle, at, name}, rig.session.rig, shown);
  };
  using rig::Vehicle;
  BOOST_TEST(words(Vehicle::tow, 3000, "over the rear axle") == "tow vehicle, over the rear axle");
  BOOST_TEST(words(Vehicle::trailer, 1000, "nose of the trailer") == "nose of the trailer");
  BOOST_TEST(words(Vehicle::trailer, 1000, "front locker") == "trailer, front locker");
  BOOST_TEST(words(Vehicle::trailer, 2000, "") == "trailer, 2000 mm behind the coupling");
  BOOST_TEST(words(Vehicle::tow, -508, "", pounds) == "tow vehicle, 20.0 in ahead of the front axle");
}

BOOST_AUTO_TEST_SUITE_END()

}  // namespace
