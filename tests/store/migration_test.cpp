// Migrations, with an invented one after those released; and real stores of every released version.
#include <boost/test/unit_test.hpp>
#include <fstream>
#include <utility>
#include <vector>

#include "sheet/sheet.hpp"
#include "store/migrations.hpp"
#include "support.hpp"

using namespace steelyard;
using namespace steelyard::test;
using store::Access;
using store::Migration;
using store::Opener;
using store::Settings;
using store::Store;

namespace fs = std::filesystem;

namespace {

const fs::path released_stores = fs::path(STEELYARD_SOURCE_DIR) / "tests/store/released";

std::vector<Migration> with_one_more(std::string_view sql) {
  const auto released = store::released_migrations();
  std::vector<Migration> all(released.begin(), released.end());
  all.push_back({static_cast<int>(all.size()) + 1, "0005_invented", sql});
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
  BOOST_TEST(holds(refusal_of([&] { Opener::open(path, Access::read_only, newer); }), "older format (4)"));
  BOOST_TEST((bytes_of(path) == before));

  BOOST_TEST((Opener::open(path, Access::read_write, newer).load("a") == full_session("a")));
  BOOST_TEST(Raw(path).integer("PRAGMA user_version") == 5);
  BOOST_TEST(Raw(path).texts("SELECT number, name FROM migration ORDER BY number") ==
                 (std::vector<std::string>{"1|0001_initial", "2|0002_records", "3|0003_settings", "4|0004_filling_in",
                                           "5|0005_invented"}),
             boost::test_tools::per_element());
  BOOST_TEST(Opener::open(path, Access::read_only, newer).ids().size() == 1u);
  BOOST_TEST(holds(refusal_of([&] { Store::open(path, Access::read_write); }), "update steelyard"));
}

BOOST_AUTO_TEST_CASE(a_new_store_has_every_migration) {
  const Folder folder;
  const auto migrations = with_one_more("CREATE TABLE note (text TEXT NOT NULL) STRICT;");
  Opener::create(folder / "fleet.db", using_migrations(migrations));
  BOOST_TEST(Raw(folder / "fleet.db").integer("PRAGMA user_version") == 5);
  BOOST_TEST(Raw(folder / "fleet.db").integer("SELECT count(*) FROM migration") == 5);
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
  BOOST_TEST(Raw(path).integer("PRAGMA user_version") == 4);
  BOOST_TEST((Store::open(path, Access::read_write).load("a") == full_session("a")));
}

fs::path copy_of_old_store(const Folder& folder, const std::string& version = "1") {
  const fs::path path = folder / "fleet.db";
  fs::copy_file(released_stores / ("format-" + version + ".db"), path);
  fs::permissions(path, fs::perms(0644));
  return path;
}

/// What an old program showed of its store: each a sheet on one line, or over several that end with a line "}".
std::vector<std::string> shown_by_version(const std::string& version) {
  std::ifstream shown(released_stores / ("format-" + version + ".jsonl"));
  std::vector<std::string> texts;
  for (std::string line, text; std::getline(shown, line);) {
    text += line + "\n";
    if (line == "}" || (line.starts_with("{") && line.ends_with("}"))) texts.push_back(std::exchange(text, {}));
  }
  return texts;
}

/// The old program's own words for each session, against what is read now; gives what verify finds.
store::Verification check_old_store(const std::string& version, std::size_t sessions) {
  const Folder folder;
  Store store = Store::open(copy_of_old_store(folder, version), Access::read_write);
  const auto texts = shown_by_version(version);
  const auto ids = store.ids();
  BOOST_REQUIRE(ids.size() == sessions);
  BOOST_REQUIRE(texts.size() == sessions);
  for (std::size_t i = 0; i < ids.size(); ++i) {
    const sheet::Read read = sheet::read(texts[i]);
    BOOST_REQUIRE(read.session.has_value());
    BOOST_TEST((store.load(ids[i]) == *read.session), ids[i]);
  }
  return store.verify({}, {});
}

BOOST_AUTO_TEST_CASE(a_real_store_of_version_1_gives_the_same_sessions) {
  const store::Verification found = check_old_store("1", 4);
  BOOST_TEST(found.sound());
  BOOST_TEST(found.unsealed == 4);
}

BOOST_AUTO_TEST_CASE(a_real_store_of_version_2_gives_the_same_sessions_and_seals) {
  const store::Verification found = check_old_store("2", 5);
  BOOST_TEST(found.sound());
  BOOST_TEST(found.sealed == 1);
  BOOST_TEST(found.unsealed == 5);
}

BOOST_AUTO_TEST_CASE(a_real_store_of_version_3_gives_the_same_sessions_seals_and_settings) {
  const store::Verification found = check_old_store("3", 5);
  BOOST_TEST(found.sound());
  BOOST_TEST(found.sealed == 1);
  BOOST_TEST(found.unsealed == 5);
  const Folder folder;
  Store store = Store::open(copy_of_old_store(folder, "3"), Access::read_write);
  const auto settings = store.settings();
  BOOST_REQUIRE(settings.size() == 2u);
  BOOST_TEST(settings[0].value == "Weighing section, Tallow Creek Water Board");
  BOOST_TEST(settings[1].client == "tcwb");
  // SHA-256 of the 33 bytes of the picture, as sha256sum gives it.
  const std::string amended = store.resolve("9a781b84");
  BOOST_TEST(store.attachments(amended).at(0).sha256 ==
             "d1a1cb9e92a79ba697174582940c4e3dfd911d7d361b8db48c91f8524e830e11");
  BOOST_TEST(store.attached_bytes(amended, 1).size() == 33u);
  // The amended revision has no seal: what is empty in it can be filled in now; in the sealed one before it never.
  rig::Session grown = store.load(amended);
  grown.scales.at(0).zero_after = units::Load{0.5, units::LoadUnit::kilogram};
  grown.states.at(1).slope = rig::MeasuredSlope{0.5, std::nullopt};
  BOOST_TEST((store.extend(amended, grown) == grown));
  BOOST_TEST(holds(Raw(folder / "fleet.db").error_of("UPDATE scale SET zero_after_kg = 1, zero_after_figure = 1, "
                                                     "zero_after_unit = 'kg' WHERE session = (SELECT session FROM seal)"),
                   "never changed"));
  BOOST_TEST(store.verify({}, {}).sound());
}

BOOST_AUTO_TEST_CASE(a_copy_is_made_before_the_format_changes) {
  const Folder folder;
  const fs::path path = copy_of_old_store(folder);
  const std::string before = content_of(path);
  BOOST_TEST(holds(refusal_of([&] { Store::open(path, Access::read_only); }), "older format (1)"));
  BOOST_TEST(folder.names().size() == 1u);
  Store::open(path, Access::read_write);
  const auto names = folder.names();
  BOOST_REQUIRE(names.size() == 2u);
  BOOST_TEST(names[1].starts_with("fleet.db.format-1-20"), names[1]);
  BOOST_TEST(content_of(folder / names[1]) == before);
  BOOST_TEST(Raw(folder / names[1]).integer("PRAGMA user_version") == 1);
  Store::open(path, Access::read_write);
  BOOST_TEST(folder.names().size() == 2u);
}

BOOST_AUTO_TEST_CASE(without_its_copy_no_format_is_changed) {
  const Folder folder;
  fs::create_directory(folder / "in");
  const fs::path path = folder / "in/fleet.db";
  fs::copy_file(released_stores / "format-1.db", path);
  fs::permissions(path, fs::perms(0666));
  const std::string before = bytes_of(path);
  // Names of 255 bytes fit; what the copy would be called does not.
  const fs::path long_name = folder / ("in/" + std::string(245, 'f') + ".db");
  fs::rename(path, long_name);
  BOOST_TEST(holds(refusal_of([&] { Store::open(long_name, Access::read_write); }), "cannot be made"));
  BOOST_TEST((bytes_of(long_name) == before));
}

// Opening remembers how a list of migrations lays a store out; the same place in memory is not the same list.
BOOST_AUTO_TEST_CASE(a_list_of_migrations_is_known_by_what_it_says) {
  auto migrations = with_one_more("CREATE TABLE first (text TEXT NOT NULL) STRICT;");
  const Settings settings = using_migrations(migrations);
  const Folder folder;
  Opener::create(folder / "one.db", settings);
  migrations.back().sql = "CREATE TABLE second (text TEXT NOT NULL) STRICT;";
  BOOST_TEST(Opener::create(folder / "other.db", settings).ids().empty());
  BOOST_TEST(holds(refusal_of([&] { Opener::open(folder / "one.db", Access::read_only, settings); }), "laid out"));
  migrations.back().sql = "CREATE TABLE first (text TEXT NOT NULL) STRICT;";
  BOOST_TEST(Opener::open(folder / "one.db", Access::read_only, settings).ids().empty());
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
