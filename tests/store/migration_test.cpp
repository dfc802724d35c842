// Migrations, with an invented second one after those released.
#include <boost/test/unit_test.hpp>
#include <vector>

#include "store/migrations.hpp"
#include "support.hpp"

using namespace steelyard;
using namespace steelyard::test;
using store::Access;
using store::Migration;
using store::Opener;
using store::Settings;
using store::Store;

namespace {

std::vector<Migration> with_one_more(std::string_view sql) {
  const auto released = store::released_migrations();
  std::vector<Migration> all(released.begin(), released.end());
  all.push_back({static_cast<int>(all.size()) + 1, "0002_invented", sql});
  return all;
}

Settings using_migrations(const std::vector<Migration>& migrations) {
  Settings settings;
  settings.migrations = migrations;
  return settings;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(migration)

BOOST_AUTO_TEST_CASE(released_migrations_are_numbered_from_one) {
  int number = 0;
  for (const Migration& one : store::released_migrations()) {
    BOOST_TEST(one.number == ++number);
    BOOST_TEST(!one.sql.empty());
  }
  BOOST_TEST(number >= 1);
}

BOOST_AUTO_TEST_CASE(an_older_store_is_brought_up_to_date_by_a_writer) {
  const Folder folder;
  const auto path = make_store(folder, {full_session("a")});
  const auto migrations =
      with_one_more("CREATE TABLE note (text TEXT NOT NULL) STRICT; INSERT INTO note VALUES ('n');");
  const Settings newer = using_migrations(migrations);
  const std::string before = bytes_of(path);
  BOOST_TEST(holds(refusal_of([&] { Opener::open(path, Access::read_only, newer); }), "older format (1)"));
  BOOST_TEST((bytes_of(path) == before));

  BOOST_TEST((Opener::open(path, Access::read_write, newer).load("a") == full_session("a")));
  BOOST_TEST(Raw(path).integer("PRAGMA user_version") == 2);
  BOOST_TEST(Raw(path).texts("SELECT number, name FROM migration ORDER BY number") ==
                 (std::vector<std::string>{"1|0001_initial", "2|0002_invented"}),
             boost::test_tools::per_element());
  BOOST_TEST(Opener::open(path, Access::read_only, newer).ids().size() == 1u);
  BOOST_TEST(holds(refusal_of([&] { Store::open(path, Access::read_write); }), "update steelyard"));
}

BOOST_AUTO_TEST_CASE(a_new_store_has_every_migration) {
  const Folder folder;
  const auto migrations = with_one_more("CREATE TABLE note (text TEXT NOT NULL) STRICT;");
  Opener::create(folder / "fleet.db", using_migrations(migrations));
  BOOST_TEST(Raw(folder / "fleet.db").integer("PRAGMA user_version") == 2);
  BOOST_TEST(Raw(folder / "fleet.db").integer("SELECT count(*) FROM migration") == 2);
}

BOOST_AUTO_TEST_CASE(a_migration_that_fails_leaves_the_older_store) {
  const Folder folder;
  const auto path = make_store(folder, {full_session("a")});
  const std::string before = content_of(path);
  const auto migrations =
      with_one_more("CREATE TABLE note (text TEXT NOT NULL) STRICT; INSERT INTO note VALUES (NULL);");
  BOOST_TEST(holds(refusal_of([&] { Opener::open(path, Access::read_write, using_migrations(migrations)); }),
                   "note.text"));
  BOOST_TEST(content_of(path) == before);
  BOOST_TEST(Raw(path).integer("PRAGMA user_version") == 1);
  BOOST_TEST((Store::open(path, Access::read_write).load("a") == full_session("a")));
}

// A schema that quietly spoils what is written stands for any fault between the program and the page.
BOOST_AUTO_TEST_CASE(what_reads_back_otherwise_is_not_kept) {
  for (const std::string_view spoil :
       {"BEFORE INSERT ON reading WHEN NEW.id = 'r2' BEGIN SELECT RAISE(IGNORE); END",
        "AFTER INSERT ON reading WHEN NEW.id = 'r2' BEGIN INSERT INTO strike VALUES (NEW.session, NEW.seq, 'x', '', "
        "'', NULL); END"}) {
    const std::string sql = "CREATE TRIGGER spoil " + std::string(spoil) + ";";
    const auto migrations = with_one_more(sql);
    const Folder folder;
    Store store = Opener::create(folder / "fleet.db", using_migrations(migrations));
    for (const int many : {1, 60}) {
      std::vector<rig::Session> sessions;
      for (int i = 1; i < many; ++i) {
        sessions.push_back(full_session("sound " + std::to_string(i)));  // has no r2
      }
      sessions.push_back(small_session("spoilt"));
      BOOST_TEST(holds(refusal_of([&] { import_all(store, sessions); }), "read"));
      BOOST_TEST(store.ids().empty());
    }
    import_all(store, {full_session("sound")});
    const auto at = rig::Position::whole_axle(rig::Vehicle::tow, 1);
    BOOST_TEST(
        holds(refusal_of([&] { store.record("sound", "apart", reading("r2", at, 900)); }), "reads back"));
    BOOST_TEST((store.load("sound") == full_session("sound")));
  }
}

BOOST_AUTO_TEST_SUITE_END()
