// One file's import: all of it or nothing, each session once.
#include <boost/test/unit_test.hpp>
#include <limits>

#include "support.hpp"

using namespace steelyard;
using namespace steelyard::test;
using store::Access;
using store::Store;
using Added = Store::Added;

namespace {

/// What a single-session import of `session` is refused with; the store must then hold what it held.
std::string import_refusal(const rig::Session& session) {
  const Folder folder;
  const auto path = make_store(folder, {full_session("there before")});
  const std::string before = content_of(path);
  std::string text;
  {
    Store store = Store::open(path, Access::read_write);
    auto import = store.begin_import();
    import.add(small_session("in the same file"), hash_of("same file"));
    text = refusal_of([&] { import.add(session, hash_of(session.id)); });
    BOOST_TEST(holds(refusal_of([&] { import.commit(); }), "failed already"));
    BOOST_TEST(holds(refusal_of([&] { import.add(small_session("one more"), hash_of("x")); }),
                     "failed already"));
  }
  BOOST_TEST(content_of(path) == before);
  return text;
}

rig::Session weighed(const std::string& id, const std::string& at) {
  rig::Session session = small_session(id);
  session.weighed.at = at;
  return session;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(import)

BOOST_AUTO_TEST_CASE(the_same_file_again_changes_nothing) {
  const Folder folder;
  const std::vector<rig::Session> sessions{full_session("a"), small_session("b")};
  const auto path = make_store(folder, sessions);
  const std::string before = content_of(path);
  {
    Store store = Store::open(path, Access::read_write);
    auto import = store.begin_import();
    for (const auto& session : sessions)
      BOOST_TEST((import.add(session, hash_of(session.id)) == Added::already_there));
    import.commit();
  }
  BOOST_TEST(content_of(path) == before);
}

BOOST_AUTO_TEST_CASE(a_session_twice_in_one_file_is_stored_once) {
  const Folder folder;
  Store store = Store::create(folder / "fleet.db");
  auto import = store.begin_import();
  BOOST_TEST((import.add(full_session("a"), hash_of("a")) == Added::added));
  BOOST_TEST((import.add(full_session("a"), hash_of("a")) == Added::already_there));
  import.commit();
  BOOST_TEST(store.ids() == std::vector<std::string>{"a"}, boost::test_tools::per_element());
}

// The sheet as first imported is recognised by its hash although a reading came since; the sheet that holds
// that reading is recognised by its content although its hash is new.
BOOST_AUTO_TEST_CASE(both_the_imported_and_the_present_content_are_recognised) {
  const Folder folder;
  const auto path = make_store(folder, {full_session("a")});
  Store store = Store::open(path, Access::read_write);
  store.record("a", "as driven", reading("", rig::Position::whole_axle(rig::Vehicle::tow, 1), 900));
  const rig::Session now = store.load("a");
  auto import = store.begin_import();
  BOOST_TEST((import.add(full_session("a"), hash_of("a")) == Added::already_there));
  BOOST_TEST((import.add(now, hash_of("a with its reading")) == Added::already_there));
  import.commit();
}

BOOST_AUTO_TEST_CASE(other_content_under_a_known_id_is_a_conflict) {
  const Folder folder;
  const auto path = make_store(folder, {full_session("a")});
  rig::Session changed = full_session("a");
  changed.states[0].readings[0].load.figure += 1;
  Store store = Store::open(path, Access::read_write);
  auto import = store.begin_import();
  BOOST_CHECK_EXCEPTION(
      import.add(changed, hash_of("changed")), store::Conflict, [&](const auto& conflict) {
        return holds(conflict.what(), "session a ") && holds(conflict.what(), path.string());
      });
  // The caller shows what differs, and goes on to find every conflict of the file.
  BOOST_TEST((store.load("a") == full_session("a")));
  BOOST_TEST((import.add(small_session("b"), hash_of("b")) == Added::added));
  import.commit();
  BOOST_TEST(store.list().size() == 2u);
  BOOST_TEST((store.load("a") == full_session("a")));
}

BOOST_AUTO_TEST_CASE(without_commit_nothing_is_kept) {
  const Folder folder;
  const auto path = make_store(folder, {full_session("a")});
  const std::string before = content_of(path);
  {
    Store store = Store::open(path, Access::read_write);
    auto import = store.begin_import();
    import.add(full_session("b"), hash_of("b"));
    BOOST_TEST(store.list().size() == 2u);
  }
  BOOST_TEST(content_of(path) == before);
}

BOOST_AUTO_TEST_CASE(a_figure_that_is_no_number_is_refused) {
  for (const double figure :
       {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
        -std::numeric_limits<double>::infinity()}) {
    rig::Session session = full_session("bad");
    session.states[1].readings[0].load.figure = figure;
    BOOST_TEST(holds(import_refusal(session), "not finite"));
    session = full_session("bad");
    session.carried.fuel_percent = figure;
    BOOST_TEST(holds(import_refusal(session), "not finite"));
  }
}

BOOST_AUTO_TEST_CASE(what_breaks_a_rule_of_the_store_is_refused) {
  rig::Session negative = full_session("bad");
  negative.states[0].readings[0].load.figure = -12;
  BOOST_TEST(holds(import_refusal(negative), "load_kg"));

  rig::Session stranger = full_session("bad");
  stranger.states[0].readings[0].scales = {"P9"};
  BOOST_TEST(holds(import_refusal(stranger), "no scale P9"));

  rig::Session twice = full_session("bad");
  twice.states[0].readings[0].scales = {"P1", "P1"};
  BOOST_TEST(holds(import_refusal(twice), "reading_scale"));

  rig::Session same_reading = full_session("bad");
  same_reading.states[1].readings[0].id = "r1";
  BOOST_TEST(holds(import_refusal(same_reading), "reading.id"));

  rig::Session same_state = full_session("bad");
  same_state.states[1].name = "apart";
  BOOST_TEST(holds(import_refusal(same_state), "state.name"));

  BOOST_TEST(holds(import_refusal(small_session("")), "id <> ''"));
}

BOOST_AUTO_TEST_CASE(a_hash_that_is_none_is_refused) {
  const Folder folder;
  Store store = Store::create(folder / "fleet.db");
  auto import = store.begin_import();
  BOOST_TEST(holds(refusal_of([&] { import.add(small_session("a"), "abc"); }), "import_hash"));
}

BOOST_AUTO_TEST_CASE(a_long_import_is_kept_whole) {
  const Folder folder;
  std::vector<rig::Session> sessions;
  for (int i = 0; i < 120; ++i) sessions.push_back(full_session("session " + std::to_string(1000 + i)));
  const auto path = make_store(folder, sessions);
  const Store store = Store::open(path, Access::read_only);
  BOOST_TEST(store.list().size() == 120u);
  for (const auto& session : sessions) BOOST_TEST((store.load(session.id) == session));
}

BOOST_AUTO_TEST_CASE(sessions_are_listed_in_order_of_weighing) {
  const Folder folder;
  // 08:40+02:00 is 06:40Z and 00:10-07:00 is 07:10Z, so text order and time order differ.
  const auto path = make_store(
      folder, {weighed("no time", ""), weighed("third", "2026-10-03T00:10-07:00"),
               weighed("second", "2026-10-03T08:40:00+02:00"), weighed("fourth", "2026-10-03T07:10:00.001Z"),
               weighed("first", "2026-10-03T06:39:59.9Z"), weighed("a time once more", "")});
  const Store store = Store::open(path, Access::read_only);
  const std::vector<std::string> expected{"first",  "second",           "third",
                                          "fourth", "a time once more", "no time"};
  BOOST_TEST(store.ids() == expected, boost::test_tools::per_element());
  std::vector<std::string> listed;
  for (const auto& summary : store.list()) listed.push_back(summary.id);
  BOOST_TEST(listed == expected, boost::test_tools::per_element());
}

BOOST_AUTO_TEST_CASE(a_summary_says_what_is_there) {
  const Folder folder;
  rig::Session nameless = full_session("nameless");
  nameless.client.name.clear();
  nameless.rig.tow_vehicle.label.clear();
  nameless.rig.trailer->label.clear();
  nameless.weighed.at = "2026-10-04T08:40:00+02:00";
  const auto path = make_store(folder, {full_session("full"), nameless, small_session("small")});
  const auto list = Store::open(path, Access::read_only).list();
  BOOST_REQUIRE(list.size() == 3u);
  BOOST_TEST(list[0].id == "full");
  BOOST_TEST(list[0].revision == 3);
  BOOST_TEST(list[0].weighed_at == "2026-10-03T08:40:00+02:00");
  BOOST_TEST(list[0].place == "Depot 4, north apron");
  BOOST_TEST(list[0].client == "Tallow Creek Water Board");
  BOOST_TEST(list[0].tow_vehicle == "survey utility 12");
  BOOST_TEST(list[0].trailer == "pump trailer 3");
  BOOST_TEST(list[0].states == 3);
  BOOST_TEST(list[0].readings == 5);
  BOOST_TEST(list[0].struck == 1);
  BOOST_TEST(list[1].client == "tcwb");
  BOOST_TEST(list[1].tow_vehicle == "TCW 012");
  BOOST_TEST(list[1].trailer == "TCW T03");
  BOOST_TEST(list[2].trailer == "");
  BOOST_TEST(list[2].readings == 2);
}

BOOST_AUTO_TEST_CASE(a_session_is_named_by_as_much_of_its_id_as_is_enough) {
  const Folder folder;
  std::vector<rig::Session> sessions{small_session("abcd"), small_session("abcd1234"), small_session("abce")};
  for (int i = 10; i < 24; ++i) sessions.push_back(small_session("many-" + std::to_string(i)));
  const auto path = make_store(folder, sessions);
  const Store store = Store::open(path, Access::read_only);
  BOOST_TEST(store.resolve("abcd") == "abcd");  // whole, although another begins so
  BOOST_TEST(store.resolve("abcd1") == "abcd1234");
  BOOST_TEST(store.resolve("abce") == "abce");
  BOOST_TEST(holds(refusal_of([&] { store.resolve("abc"); }), "at least its first 4"));
  BOOST_TEST(holds(refusal_of([&] { store.resolve("abcf"); }), "no session abcf"));
  BOOST_TEST(holds(refusal_of([&] { store.resolve("abcd%"); }), "no session abcd%"));
  BOOST_TEST(holds(refusal_of([&] { store.resolve(""); }), "no session"));
  const std::string several = refusal_of([&] { store.resolve("many"); });
  BOOST_TEST(holds(several, "many-10, many-11"));
  BOOST_TEST(holds(several, "many-19 and 4 more"));
  BOOST_TEST(holds(refusal_of([&] { store.load("abce2"); }), "no session abce2"));
}

// Amended sheets, as an export of an amended session gives them.
BOOST_AUTO_TEST_CASE(the_highest_revision_of_an_id_stands) {
  const Folder folder;
  rig::Session amended = small_session("b");
  amended.revision = 2;
  amended.replaces = "revision 1";
  amended.weighed.place = "Depot 9";
  amended.revised = rig::Revised{"typing error", "R. Okoye", "2026-10-04T08:00:00Z"};
  const auto path = make_store(folder, {full_session("a"), small_session("b")});
  {
    Store writing = Store::open(path, Access::read_write);
    auto import = writing.begin_import();
    BOOST_TEST((import.add(amended, hash_of("b, amended")) == Added::added));
    import.commit();
  }
  {
    const Store store = Store::open(path, Access::read_only);
    BOOST_TEST(store.ids().size() == 2u);
    BOOST_TEST(store.list().at(1).place == "Depot 9");
    BOOST_TEST((store.load("b") == amended));
    BOOST_TEST((store.load("b@1") == small_session("b")));
    BOOST_TEST((store.load("b@2") == amended));
    BOOST_TEST(holds(refusal_of([&] { store.load("b@3"); }), "no session b@3"));
  }
  Store store = Store::open(path, Access::read_write);
  auto import = store.begin_import();
  BOOST_TEST((import.add(amended, hash_of("b")) == Added::already_there));
  amended.weighed.place = "Depot 10";
  BOOST_CHECK_THROW(import.add(amended, hash_of("c")), store::Conflict);  // another revision 2
  amended.revision = 3;
  BOOST_TEST((import.add(amended, hash_of("c")) == Added::added));
  amended.revision = 4;
  amended.replaces.clear();
  BOOST_CHECK_THROW(import.add(amended, hash_of("d")), store::Conflict);  // says nothing of what it replaces
}

BOOST_AUTO_TEST_SUITE_END()
