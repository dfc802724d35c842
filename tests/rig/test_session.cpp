#include "rig/session.hpp"

#include <boost/test/unit_test.hpp>

using namespace steelyard::rig;

namespace {

State state(std::string name, bool hitched, bool travels = false) {
  State made;
  made.name = std::move(name);
  made.hitched = hitched;
  made.travels = travels;
  return made;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(session)

BOOST_AUTO_TEST_CASE(the_marked_state_travels) {
  Session made;
  made.rig.trailer.emplace();
  made.states = {state("apart", false), state("as driven", true, true), state("bars slack", true)};
  BOOST_CHECK_EQUAL(travelling_state(made)->name, "as driven");
}

BOOST_AUTO_TEST_CASE(without_a_mark_the_last_hitched_one) {
  Session made;
  made.rig.trailer.emplace();
  made.states = {state("slack", true), state("tight", true), state("apart", false)};
  BOOST_CHECK_EQUAL(travelling_state(made)->name, "tight");
}

BOOST_AUTO_TEST_CASE(a_trailer_never_hitched_has_no_such_state) {
  Session made;
  made.rig.trailer.emplace();
  made.states = {state("apart", false)};
  BOOST_CHECK(!travelling_state(made));
}

BOOST_AUTO_TEST_CASE(a_vehicle_alone_travels_as_last_weighed) {
  Session made;
  BOOST_CHECK(!travelling_state(made));
  made.states = {state("empty", false), state("full", false)};
  BOOST_CHECK_EQUAL(travelling_state(made)->name, "full");
}

BOOST_AUTO_TEST_CASE(names_are_found_exactly) {
  Session made;
  made.states = {state("apart", false), state("together", true)};
  made.scales.resize(2);
  made.scales[1].id = "P2";
  BOOST_CHECK(find_state(made, "together") == &made.states[1]);
  BOOST_CHECK(!find_state(made, "Together"));
  BOOST_CHECK(find_scale(made, "P2") == &made.scales[1]);
  BOOST_CHECK(!find_scale(made, "P3"));
}

BOOST_AUTO_TEST_CASE(a_silent_suspension_follows_the_axles) {
  Trailer trailer;
  BOOST_CHECK(trailer.suspension_or_default() == Suspension::single);
  trailer.axles = 2;
  BOOST_CHECK(trailer.suspension_or_default() == Suspension::independent);
  trailer.suspension = Suspension::load_sharing;
  BOOST_CHECK(trailer.suspension_or_default() == Suspension::load_sharing);
}

BOOST_AUTO_TEST_SUITE_END()
