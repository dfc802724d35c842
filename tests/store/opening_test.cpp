// Making and opening: what is not a sound store is refused by name and left byte for byte as it was.
#include <sys/stat.h>

#include <boost/test/unit_test.hpp>
#include <filesystem>

#include "support.hpp"

using namespace steelyard;
using namespace steelyard::test;
using store::Access;
using store::Opener;
using store::Settings;
using store::Store;
namespace fs = std::filesystem;

namespace {

/// Opening `path` either way is refused with a text that names the file and holds `part`; the folder stays as
/// it was.
void check_refused(const Folder& folder, const fs::path& path, std::string_view part) {
  const bool file = fs::is_regular_file(path);
  const std::string before = file ? bytes_of(path) : std::string();
  const auto names = folder.names();
  for (const Access access : {Access::read_only, Access::read_write}) {
    const std::string text = refusal_of([&] { Store::open(path, access); });
    BOOST_TEST(holds(text, part), text << " should hold: " << part);
    BOOST_TEST(text.starts_with(path.string() + ": "));
  }
  if (file) BOOST_TEST((bytes_of(path) == before));
  BOOST_TEST(folder.names() == names, boost::test_tools::per_element());
}

void check_edited(const std::string& edit, std::string_view part) {
  const Folder folder;
  const auto path = make_store(folder, {full_session("a")});
  Raw(path).run(edit);
  check_refused(folder, path, part);
}

}  // namespace

BOOST_AUTO_TEST_SUITE(opening)

BOOST_AUTO_TEST_CASE(what_is_no_file_is_refused) {
  const Folder folder;
  check_refused(folder, folder / "nowhere.db", "steelyard init");
  fs::create_directory(folder / "folder.db");
  check_refused(folder, folder / "folder.db", "is a folder");
  BOOST_REQUIRE(::mkfifo((folder / "pipe.db").c_str(), 0600) == 0);
  check_refused(folder, folder / "pipe.db", "pipe");
  check_refused(folder, "/dev/null", "device");
  fs::create_symlink("nowhere.db", folder / "dangling.db");
  check_refused(folder, folder / "dangling.db", "steelyard init");
}

BOOST_AUTO_TEST_CASE(what_is_another_kind_of_file_is_refused) {
  const Folder folder;
  write_bytes(folder / "empty.db", "");
  check_refused(folder, folder / "empty.db", "is empty");
  write_bytes(folder / "text.db", "session,state,at,load\n");
  check_refused(folder, folder / "text.db", "another kind");
  write_bytes(folder / "long.db", std::string(100'000, 'x'));
  check_refused(folder, folder / "long.db", "another kind");
  write_bytes(folder / "header.db", std::string("SQLite format 3\0", 16));
  check_refused(folder, folder / "header.db", "another program");
}

BOOST_AUTO_TEST_CASE(another_programs_database_is_refused) {
  const Folder folder;
  Raw(folder / "nameless.db").run("CREATE TABLE reading (load REAL); INSERT INTO reading VALUES (1)");
  check_refused(folder, folder / "nameless.db", "another program");
  Raw(folder / "named.db").run("PRAGMA application_id = 1196444487; CREATE TABLE t (a)");
  check_refused(folder, folder / "named.db", "another program");
  Raw(folder / "log.db").run("PRAGMA journal_mode = WAL; CREATE TABLE t (a)");
  check_refused(folder, folder / "log.db", "another program");
}

BOOST_AUTO_TEST_CASE(a_newer_store_is_refused) {
  check_edited("PRAGMA user_version = 5", "update steelyard");
}

BOOST_AUTO_TEST_CASE(a_store_with_a_changed_schema_is_refused) {
  const std::string_view changed = "changed how the store is laid out";
  check_edited("CREATE TABLE notes (a)", changed);
  check_edited("DROP TRIGGER reading_is_never_changed", changed);
  check_edited("ALTER TABLE reading ADD COLUMN operator TEXT", changed);
  check_edited("CREATE INDEX scales_by_uid ON scale (uid)", changed);
  check_edited("PRAGMA user_version = 0", changed);
  check_edited("PRAGMA journal_mode = WAL", "write-ahead log");
}

BOOST_AUTO_TEST_CASE(statistics_of_sqlite_are_no_change) {
  const Folder folder;
  const auto path = make_store(folder, {full_session("a")});
  Raw(path).run("ANALYZE");
  BOOST_TEST((Store::open(path, Access::read_write).load("a") == full_session("a")));
}

BOOST_AUTO_TEST_CASE(reading_leaves_every_byte) {
  const Folder folder;
  const auto path = make_store(folder, {full_session("a")});
  const std::string before = bytes_of(path);
  {
    const Store store = Store::open(path, Access::read_only);
    BOOST_TEST(store.list().size() == 1u);
    BOOST_TEST((store.load(store.resolve("a")) == full_session("a")));
  }
  BOOST_TEST((bytes_of(path) == before));
  BOOST_TEST(folder.names() == std::vector<std::string>{"fleet.db"}, boost::test_tools::per_element());
}

BOOST_AUTO_TEST_CASE(names_are_only_names) {
  const Folder folder;
  for (const std::string_view name : {"file:x?mode=memory", ":memory:", "ö ü'.db", "100%41.db"}) {
    import_all(*std::make_unique<Store>(Store::create(folder / name)), {small_session("a")});
    BOOST_TEST(Store::open(folder / name, Access::read_only).ids().size() == 1u);
  }
  BOOST_TEST(folder.names().size() == 4u);
}

BOOST_AUTO_TEST_CASE(a_store_is_made_only_where_nothing_is) {
  const Folder folder;
  const auto path = make_store(folder, {full_session("a")});
  write_bytes(folder / "text.db", "figures");
  fs::create_directory(folder / "folder.db");
  fs::create_symlink("nowhere.db", folder / "dangling.db");
  const auto names = folder.names();
  const std::string before = bytes_of(path);
  for (const std::string_view name : {"fleet.db", "text.db", "folder.db", "dangling.db"})
    BOOST_TEST(holds(refusal_of([&] { Store::create(folder / name); }), "is there already"));
  BOOST_TEST(holds(refusal_of([&] { Store::create(folder / "no/such/folder.db"); }), "cannot be made"));
  BOOST_TEST((bytes_of(path) == before));
  BOOST_TEST(bytes_of(folder / "text.db") == "figures");
  BOOST_TEST(folder.names() == names, boost::test_tools::per_element());
}

BOOST_AUTO_TEST_CASE(a_store_that_cannot_be_finished_leaves_nothing) {
  const Folder folder;
  Settings small_disk;
  small_disk.most_pages = 4;  // the schema needs more
  const std::string text = refusal_of([&] { Opener::create(folder / "fleet.db", small_disk); });
  BOOST_TEST(text.starts_with((folder / "fleet.db").string() + ": the disk is full"), text);
  BOOST_TEST(folder.names().empty());
}

BOOST_AUTO_TEST_CASE(a_new_store_is_marked_as_ours) {
  const Folder folder;
  const auto path = make_store(folder, {});
  const Raw raw(path);
  BOOST_TEST(raw.integer("PRAGMA application_id") == 0x53544c59);
  BOOST_TEST(raw.integer("PRAGMA user_version") == 4);
  BOOST_TEST(raw.text("PRAGMA journal_mode") == "delete");
  BOOST_TEST(raw.text("PRAGMA integrity_check") == "ok");
  BOOST_TEST(raw.texts("SELECT number, name FROM migration ORDER BY number") ==
                 (std::vector<std::string>{"1|0001_initial", "2|0002_records", "3|0003_settings", "4|0004_filling_in"}),
             boost::test_tools::per_element());
  BOOST_TEST(raw.integer("SELECT count(*) FROM migration WHERE applied_at LIKE '20__-__-__T__:__:__Z'") == 4);
}

BOOST_AUTO_TEST_CASE(where_permissions_forbid_writing_nothing_is_written) {
  const Folder folder;
  fs::create_directory(folder / "locked");
  const fs::path path = folder / "locked/fleet.db";
  import_all(*std::make_unique<Store>(Store::create(path)), {small_session("a")});
  const std::string before = bytes_of(path);
  const auto open_to_write = [&] { Store::open(path, Access::read_write); };

  fs::permissions(path, fs::perms(0666));
  fs::permissions(folder / "locked", fs::perms(0555));
  BOOST_TEST(holds(refusal_without_rights(open_to_write), "its folder cannot be written"));
  BOOST_TEST(
      holds(refusal_without_rights([&] { Store::create(folder / "locked/new.db"); }), "cannot be made"));

  fs::permissions(path, fs::perms(0444));
  fs::permissions(folder / "locked", fs::perms(0777));
  BOOST_TEST(holds(refusal_without_rights(open_to_write), "the file cannot be written"));

  fs::permissions(folder / "locked", fs::perms(0555));
  BOOST_TEST(refusal_without_rights([&] {
               if (Store::open(path, Access::read_only).load("a") != small_session("a"))
                 throw store::Refused("differs");
             }) == "nothing was refused");

  fs::permissions(path, fs::perms(0000));
  BOOST_TEST(
      holds(refusal_without_rights([&] { Store::open(path, Access::read_only); }), "cannot be opened"));
  fs::permissions(path, fs::perms(0600));
  fs::permissions(folder / "locked", fs::perms(0700));
  BOOST_TEST((bytes_of(path) == before));
}

BOOST_AUTO_TEST_SUITE_END()
