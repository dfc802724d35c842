// Readings and strikes that come after the import.
#include <boost/test/unit_test.hpp>
#include <functional>

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

BOOST_FIXTURE_TEST_CASE(a_reading_that_is_sent_twice_is_recorded_once, WithSession) {
  rig::Reading sent = rear_axle("k7m2q-9xd0f");
  sent.scales = {"P2"};
  sent.taken_at = "2026-10-03T10:00:00+02:00";
  BOOST_TEST((store.record_once("a", "apart", sent) == Store::Added::added));
  rig::Session expected = full_session("a");
  expected.states[0].readings.push_back(sent);
  BOOST_TEST((store.load("a") == expected));
  const std::string before = content_of(path);
  BOOST_TEST((store.record_once("a", "apart", sent) == Store::Added::already_there));
  // One that came with the sheet is known as well, and one that was struck since.
  BOOST_TEST((store.record_once("a", "apart", full_session("a").states[0].readings[0]) == Store::Added::already_there));
  rig::Reading struck = full_session("a").states[1].readings[0];
  BOOST_TEST((store.record_once("a", "as driven", struck) == Store::Added::already_there));
  struck.struck.reset();
  BOOST_TEST((store.record_once("a", "as driven", struck) == Store::Added::already_there));

  BOOST_CHECK_THROW(store.record_once("a", "as driven", sent), store::Conflict);
  for (const auto& change : std::vector<std::function<void(rig::Reading&)>>{
           [](auto& one) { one.load.figure += 0.5; }, [](auto& one) { one.load.unit = units::LoadUnit::pound; },
           [](auto& one) { one.at = Position::whole_axle(rig::Vehicle::tow, 1); },
           [](auto& one) { one.scales.clear(); },
           [](auto& one) { one.raised = units::Length{1, units::LengthUnit::inch}; },
           [](auto& one) { one.taken_at.clear(); }, [](auto& one) { one.struck = rig::Strike{"wrong", "", ""}; }}) {
    rig::Reading other = sent;
    change(other);
    BOOST_CHECK_THROW(store.record_once("a", "apart", other), store::Conflict);
  }
  BOOST_TEST(holds(refusal_of([&] { store.record_once("a", "apart", rear_axle()); }), "needs an id"));
  BOOST_TEST(holds(refusal_of([&] { store.record_once("a", "asunder", rear_axle("new")); }), "no state asunder"));
  BOOST_TEST(content_of(path) == before);
}

BOOST_FIXTURE_TEST_CASE(a_strike_that_is_sent_twice_stands_as_the_first, WithSession) {
  const rig::Strike first{"tyre off the scale", "R. Okoye", "2026-10-03T11:00:00+02:00"};
  const auto struck = store.strike_once("a", "r1", first);
  BOOST_TEST((struck.added == Store::Added::added));
  BOOST_TEST((struck.strike == first));
  const std::string before = content_of(path);
  const auto again = store.strike_once("a", "r1", {"another reason", "M. Adeyemi", ""});
  BOOST_TEST((again.added == Store::Added::already_there));
  BOOST_TEST((again.strike == first));
  BOOST_TEST((store.load("a").states[0].readings[0].struck == first));
  BOOST_TEST(holds(refusal_of([&] { store.strike_once("a", "r9", first); }), "no reading r9"));
  BOOST_TEST(content_of(path) == before);
}

BOOST_FIXTURE_TEST_CASE(what_was_sent_before_the_seal_is_known_after_it, WithSession) {
  store.record_once("a", "apart", rear_axle("sent"));
  store.strike_once("a", "sent", {"rocked", "", ""});
  {
    auto sealing = store.begin_sealing();
    sealing.add(store.load("a"), "R. Okoye", {"0.1.0", "a build", "{}"});
    sealing.commit();
  }
  BOOST_TEST((store.record_once("a", "apart", rear_axle("sent")) == Store::Added::already_there));
  BOOST_TEST((store.strike_once("a", "sent", {"rocked", "", ""}).added == Store::Added::already_there));
  BOOST_TEST(holds(refusal_of([&] { store.record_once("a", "apart", rear_axle("new")); }), "is sealed"));
  BOOST_TEST(holds(refusal_of([&] { store.strike_once("a", "r1", {"rocked", "", ""}); }), "is sealed"));
}

BOOST_FIXTURE_TEST_CASE(what_another_connection_commits_is_noticed, WithSession) {
  const auto at_first = store.changes();
  store.record("a", "apart", rear_axle());  // one's own does not count
  BOOST_TEST(store.changes() == at_first);
  Store other = Store::open(path, Access::read_write);
  BOOST_TEST(store.changes() == at_first);
  other.record("a", "apart", rear_axle());
  const auto then = store.changes();
  BOOST_TEST(then != at_first);
  BOOST_TEST(store.changes() == then);
  refusal_of([&] { other.record("a", "asunder", rear_axle()); });  // undone
  BOOST_TEST(store.changes() == then);
  Store reader = Store::open(path, Access::read_only);
  const auto read = reader.changes();
  store.strike("a", "r1", {"rocked", "", ""});
  BOOST_TEST(reader.changes() != read);
}

BOOST_FIXTURE_TEST_CASE(a_store_opened_for_reading_takes_nothing, WithSession) {
  Store reader = Store::open(path, Access::read_only);
  BOOST_TEST(holds(refusal_of([&] { reader.record("a", "apart", rear_axle()); }), "cannot be written"));
  BOOST_TEST(holds(refusal_of([&] { reader.strike("a", "r1", {"x", "", ""}); }), "cannot be written"));
  BOOST_TEST(holds(refusal_of([&] { reader.record_once("a", "apart", rear_axle("new")); }), "cannot be written"));
  BOOST_TEST(holds(refusal_of([&] { reader.begin_import(); }), "cannot be written"));
}

BOOST_AUTO_TEST_SUITE_END()
