// Readings and strikes that come after the import.
#include <boost/test/unit_test.hpp>

#include "support.hpp"

using namespace steelyard;
using namespace steelyard::test;
using rig::Position;
using store::Access;
using store::Store;

namespace {

struct WithSession {
  Folder folder;
  std::filesystem::path path = make_store(folder, {full_session("a"), full_session("b")});
  Store store = Store::open(path, Access::read_write);
};

rig::Reading rear_axle(const std::string& id = {}) {
  return reading(id, Position::whole_axle(rig::Vehicle::tow, 2), 1204.5);
}

}  // namespace

BOOST_AUTO_TEST_SUITE(record)

BOOST_FIXTURE_TEST_CASE(a_reading_is_added_at_the_end_of_its_state, WithSession) {
  rig::Reading added = rear_axle();
  added.load.unit = units::LoadUnit::pound;
  added.scales = {"P3", "P2"};
  added.raised = units::Length{-1.25, units::LengthUnit::inch};
  added.taken_at = "2026-10-03T10:00:00+02:00";
  BOOST_TEST(store.record("a", "apart", added) == "r2");  // r1, r3, r4 and r5 are taken

  rig::Session expected = full_session("a");
  added.id = "r2";
  expected.states[0].readings.push_back(added);
  BOOST_TEST((store.load("a") == expected));
  BOOST_TEST((store.load("b") == full_session("b")));

  BOOST_TEST(store.record("a", "as driven", rear_axle()) == "r6");
  BOOST_TEST(store.record("a", "apart", rear_axle("my own")) == "my own");
  expected.states[1].readings.push_back(rear_axle("r6"));
  expected.states[0].readings.push_back(rear_axle("my own"));
  BOOST_TEST((Store::open(path, Access::read_only).load("a") == expected));
}

BOOST_FIXTURE_TEST_CASE(what_came_later_is_marked_with_its_time, WithSession) {
  store.record("a", "apart", rear_axle());
  store.strike("a", "r1", {"scale on soft ground", "", ""});
  const Raw raw(path);
  BOOST_TEST(raw.integer("SELECT count(*) FROM reading WHERE recorded_at IS NOT NULL") == 1);
  BOOST_TEST(raw.text("SELECT id FROM reading WHERE recorded_at LIKE '20__-__-__T__:__:__Z'") == "r2");
  BOOST_TEST(raw.texts("SELECT recorded_at IS NOT NULL FROM strike ORDER BY session, reading") ==
                 (std::vector<std::string>{"1", "0", "0"}),
             boost::test_tools::per_element());
}

BOOST_FIXTURE_TEST_CASE(a_struck_reading_may_be_recorded_with_its_strike, WithSession) {
  rig::Reading added = rear_axle("late");
  added.struck = rig::Strike{"repeated", "R. Okoye", ""};
  store.record("a", "apart", added);
  BOOST_TEST((store.load("a").states[0].readings.back() == added));
}

BOOST_FIXTURE_TEST_CASE(a_reading_that_does_not_fit_is_refused, WithSession) {
  const std::string before = content_of(path);
  BOOST_TEST(holds(refusal_of([&] { store.record("c", "apart", rear_axle()); }), "no session c"));
  BOOST_TEST(holds(refusal_of([&] { store.record("a", "asunder", rear_axle()); }),
                   "no state asunder; it has apart, as driven, nose on the scale"));
  BOOST_TEST(holds(refusal_of([&] { store.record("a", "apart", rear_axle("r4")); }), "reading r4 already"));
  rig::Reading stranger = rear_axle();
  stranger.scales = {"P1", "N1"};
  BOOST_TEST(holds(refusal_of([&] { store.record("a", "apart", stranger); }), "no scale N1"));
  rig::Reading negative = rear_axle();
  negative.load.figure = -1;
  BOOST_TEST(holds(refusal_of([&] { store.record("a", "apart", negative); }), "load_kg"));
  BOOST_TEST(content_of(path) == before);
  BOOST_TEST(store.record("a", "apart", rear_axle()) == "r2");  // a refusal leaves the store usable
}

BOOST_FIXTURE_TEST_CASE(a_strike_sets_one_reading_aside, WithSession) {
  const rig::Strike strike{"tyre off the scale", "R. Okoye", "2026-10-03T11:00:00+02:00"};
  store.strike("a", "r1", strike);
  rig::Session expected = full_session("a");
  expected.states[0].readings[0].struck = strike;
  BOOST_TEST((store.load("a") == expected));
  BOOST_TEST((store.load("b") == full_session("b")));
  BOOST_TEST(store.list().at(0).struck == 2);
}

BOOST_FIXTURE_TEST_CASE(a_recorded_reading_can_be_struck, WithSession) {
  const std::string id = store.record("a", "nose on the scale", rear_axle());
  store.strike("a", id, {"wrong state", "", ""});
  BOOST_TEST(store.load("a").states[2].readings.back().struck->why == "wrong state");
}

BOOST_FIXTURE_TEST_CASE(a_strike_that_does_not_fit_is_refused, WithSession) {
  const std::string before = content_of(path);
  BOOST_TEST(holds(refusal_of([&] { store.strike("c", "r1", {"x", "", ""}); }), "no session c"));
  BOOST_TEST(holds(refusal_of([&] { store.strike("a", "r9", {"x", "", ""}); }), "no reading r9"));
  BOOST_TEST(holds(refusal_of([&] { store.strike("a", "r4", {"x", "", ""}); }), "struck already (door open"));
  BOOST_TEST(holds(refusal_of([&] { store.strike("a", "r1", {"", "", ""}); }), "why <> ''"));
  BOOST_TEST(content_of(path) == before);
}

BOOST_FIXTURE_TEST_CASE(a_store_opened_for_reading_takes_nothing, WithSession) {
  Store reader = Store::open(path, Access::read_only);
  BOOST_TEST(holds(refusal_of([&] { reader.record("a", "apart", rear_axle()); }), "cannot be written"));
  BOOST_TEST(holds(refusal_of([&] { reader.strike("a", "r1", {"x", "", ""}); }), "cannot be written"));
  BOOST_TEST(holds(refusal_of([&] { reader.begin_import(); }), "cannot be written"));
}

BOOST_AUTO_TEST_SUITE_END()
