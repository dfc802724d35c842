// Several changes kept by one commit: each whole or not at all, and none before the commit.
#include <boost/test/unit_test.hpp>

#include "store/together.hpp"
#include "support.hpp"

using namespace steelyard;
using namespace steelyard::store;
using namespace steelyard::test;

namespace {

rig::Reading wheel(const std::string& id, double kilograms) {
  return reading(id, rig::Position::wheel(rig::Vehicle::tow, 1, rig::Side::left), kilograms);
}

std::size_t readings_in(const std::filesystem::path& path, const std::string& session) {
  std::size_t count = 0;
  for (const rig::State& state : Store::open(path, Access::read_only).load(session).states) count += state.readings.size();
  return count;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(together)

BOOST_AUTO_TEST_CASE(all_are_there_after_the_commit_and_none_before) {
  const Folder folder;
  const auto path = make_store(folder, {small_session("a"), small_session("b")});
  const std::size_t before = readings_in(path, "a");
  Store store = Store::open(path, Access::read_write);
  const std::string state = store.load("a").states[0].name;
  {
    Together together(store);
    BOOST_TEST((store.record_once("a", state, wheel("n1", 500)) == Store::Added::added));
    BOOST_TEST((store.record_once("b", state, wheel("n1", 501)) == Store::Added::added));
    BOOST_TEST((store.record_once("a", state, wheel("n2", 502)) == Store::Added::added));
    BOOST_TEST((store.record_once("a", state, wheel("n2", 502)) == Store::Added::already_there));
    BOOST_TEST(readings_in(path, "a") == before);  // another connection
    together.commit();
  }
  BOOST_TEST(readings_in(path, "a") == before + 2);
  BOOST_TEST(readings_in(path, "b") == before + 1);
  store.record_once("a", state, wheel("n3", 503));  // by itself again
  BOOST_TEST(readings_in(path, "a") == before + 3);
  BOOST_TEST(store.verify("", {}).sound());
}

BOOST_AUTO_TEST_CASE(what_one_of_them_throws_undoes_that_one_alone) {
  const Folder folder;
  const auto path = make_store(folder, {small_session("a")});
  const std::size_t before = readings_in(path, "a");
  Store store = Store::open(path, Access::read_write);
  const std::string state = store.load("a").states[0].name;
  Together together(store);
  store.record_once("a", state, wheel("n1", 500));
  BOOST_CHECK_THROW(store.record_once("a", state, wheel("n1", 999)), Conflict);
  BOOST_CHECK_THROW(store.record_once("nobody", state, wheel("n2", 500)), Absent);
  store.record_once("a", state, wheel("n2", 500));
  together.commit();
  BOOST_TEST(readings_in(path, "a") == before + 2);
}

BOOST_AUTO_TEST_CASE(without_a_commit_nothing_is_kept) {
  const Folder folder;
  const auto path = make_store(folder, {small_session("a")});
  const std::string before = content_of(path);
  Store store = Store::open(path, Access::read_write);
  {
    const Together together(store);
    store.record_once("a", store.load("a").states[0].name, wheel("n1", 500));
  }
  BOOST_TEST(content_of(path) == before);
  BOOST_TEST((store.record_once("a", store.load("a").states[0].name, wheel("n1", 500)) == Store::Added::added));
}

BOOST_AUTO_TEST_CASE(on_a_full_disk_none_is_kept_and_the_commit_says_so) {
  const Folder folder;
  const auto path = make_store(folder, {small_session("a")});
  const std::string before = content_of(path);
  const Raw raw(path);
  Settings settings;
  settings.most_pages = static_cast<int>(raw.integer("PRAGMA page_count"));
  Store store = Opener::open(path, Access::read_write, settings);
  const std::string state = store.load("a").states[0].name;
  bool full = false;
  {
    Together together(store);
    try {
      for (int i = 0; i < 2000; ++i) store.record_once("a", state, wheel("n" + std::to_string(i), 500));
    } catch (const Refused&) {
      full = true;
    }
    BOOST_TEST(full);
    // Whether SQLite undid the whole or the last of them alone: either all that were told are kept, or the commit refuses.
    try {
      together.commit();
      BOOST_TEST(readings_in(path, "a") > small_session("a").states[0].readings.size());
    } catch (const Refused&) {
      BOOST_TEST(content_of(path) == before);
    }
  }
  BOOST_TEST(store.verify("", {}).sound());
}

BOOST_AUTO_TEST_SUITE_END()
