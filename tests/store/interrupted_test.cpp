// Full disks, other programs at work, writes that stopped half-way, damaged files.
#include <sqlite3.h>

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

Settings impatient() {
  Settings settings;
  settings.patience = std::chrono::milliseconds(30);
  return settings;
}

/// Makes beside `path` a copy of it as a program leaves it that dies while writing: half-written, with its
/// journal.
fs::path interrupted_copy(const fs::path& path) {
  const Raw raw(path);
  raw.run("BEGIN IMMEDIATE; DROP TRIGGER reading_is_never_changed; UPDATE reading SET taken_at = 'half'");
  BOOST_REQUIRE(sqlite3_db_cacheflush(raw.handle()) == SQLITE_OK);
  const fs::path copy = path.parent_path() / "copy.db";
  fs::copy_file(path, copy);
  fs::copy_file(fs::path(path) += "-journal", fs::path(copy) += "-journal");
  raw.run("ROLLBACK");
  return copy;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(interrupted)

BOOST_AUTO_TEST_CASE(a_full_disk_stores_nothing_and_says_so) {
  const Folder folder;
  const auto path = make_store(folder, {full_session("a")});
  const std::string before = content_of(path);
  Settings small_disk;
  small_disk.most_pages = static_cast<int>(Raw(path).integer("PRAGMA page_count")) + 2;
  {
    Store store = Opener::open(path, Access::read_write, small_disk);
    const std::string text = refusal_of([&] {
      auto import = store.begin_import();
      for (int i = 0; i < 500; ++i) import.add(full_session("more " + std::to_string(i)), hash_of("x"));
      import.commit();
    });
    BOOST_TEST(text.starts_with(path.string() + ": the disk is full"), text);
    BOOST_TEST((store.load("a") == full_session("a")));
    BOOST_TEST(store.ids().size() == 1u);
  }
  BOOST_TEST(content_of(path) == before);
  BOOST_TEST(folder.names() == std::vector<std::string>{"fleet.db"}, boost::test_tools::per_element());
}

BOOST_AUTO_TEST_CASE(a_second_writer_is_told_to_wait) {
  const Folder folder;
  const auto path = make_store(folder, {full_session("a")});
  Store first = Store::open(path, Access::read_write);
  Store second = Opener::open(path, Access::read_write, impatient());
  {
    auto import = first.begin_import();
    import.add(full_session("b"), hash_of("b"));
    BOOST_TEST(holds(refusal_of([&] { second.begin_import(); }), "another program is using the store"));
    BOOST_TEST(holds(refusal_of([&] { second.strike("a", "r1", {"x", "", ""}); }), "wait until it is done"));
    BOOST_TEST(second.ids().size() == 1u);  // reading goes on, of what was committed
    import.commit();
  }
  second.strike("a", "r1", {"x", "", ""});
  BOOST_TEST(second.ids().size() == 2u);
  BOOST_TEST(first.load("a").states[0].readings[0].struck.has_value());
}

BOOST_AUTO_TEST_CASE(a_reader_that_stays_makes_the_writer_give_up_whole) {
  const Folder folder;
  const auto path = make_store(folder, {full_session("a")});
  const Raw reader(path);
  reader.run("BEGIN; SELECT count(*) FROM session");
  {
    Store writer = Opener::open(path, Access::read_write, impatient());
    BOOST_TEST(holds(refusal_of([&] { import_all(writer, {full_session("b")}); }), "another program"));
    BOOST_TEST(writer.ids().size() == 1u);
    reader.run("COMMIT");
    import_all(writer, {full_session("b")});
    BOOST_TEST(writer.ids().size() == 2u);
  }
}

BOOST_AUTO_TEST_CASE(an_exclusive_lock_makes_the_reader_give_up) {
  const Folder folder;
  const auto path = make_store(folder, {full_session("a")});
  const Raw other(path);
  other.run("BEGIN EXCLUSIVE");
  BOOST_TEST(
      holds(refusal_of([&] { Opener::open(path, Access::read_only, impatient()); }), "another program"));
  other.run("ROLLBACK");
  BOOST_TEST(Opener::open(path, Access::read_only, impatient()).ids().size() == 1u);
}

BOOST_AUTO_TEST_CASE(a_write_that_stopped_half_way_is_undone_by_whoever_comes_next) {
  const Folder folder;
  const auto path = interrupted_copy(make_store(folder, {full_session("a")}));
  const std::string half = bytes_of(path);
  BOOST_TEST((half != bytes_of(folder / "fleet.db")));  // the copy is half-written indeed
  fs::permissions(path, fs::perms(0444));
  BOOST_TEST(holds(refusal_without_rights([&] { Store::open(path, Access::read_only); }),
                   "an earlier write was interrupted"));
  BOOST_TEST((bytes_of(path) == half));
  fs::permissions(path, fs::perms(0644));
  BOOST_TEST((Store::open(path, Access::read_only).load("a") == full_session("a")));
  BOOST_TEST(content_of(path) == content_of(folder / "fleet.db"));
}

BOOST_AUTO_TEST_CASE(a_foreign_database_keeps_its_unfinished_journal) {
  const Folder folder;
  const fs::path path = folder / "other.db", copy = folder / "copy.db", journal = folder / "copy.db-journal";
  {
    const Raw raw(path);
    raw.run("CREATE TABLE t (a); INSERT INTO t VALUES (1); BEGIN; UPDATE t SET a = 2");
    BOOST_REQUIRE(sqlite3_db_cacheflush(raw.handle()) == SQLITE_OK);
    fs::copy_file(path, copy);
    fs::copy_file(folder / "other.db-journal", journal);
  }
  const std::string before = bytes_of(copy), journal_before = bytes_of(journal);
  for (const Access access : {Access::read_only, Access::read_write})
    BOOST_TEST(holds(refusal_of([&] { Store::open(copy, access); }), "another program"));
  BOOST_TEST((bytes_of(copy) == before));
  BOOST_TEST((bytes_of(journal) == journal_before));
}

BOOST_AUTO_TEST_CASE(a_file_cut_short_is_damaged) {
  const Folder folder;
  const auto path = make_store(folder, {full_session("a"), full_session("b")});
  fs::resize_file(path, fs::file_size(path) / 2);
  const std::string before = bytes_of(path);
  for (const Access access : {Access::read_only, Access::read_write})
    BOOST_TEST(holds(refusal_of([&] { Store::open(path, access).load("a"); }), "restore"));
  BOOST_TEST((bytes_of(path) == before));
}

// Each page in turn is overwritten: whatever is then asked either still gives the session or is refused as
// damaged.
BOOST_AUTO_TEST_CASE(an_overwritten_page_is_never_believed) {
  const Folder folder;
  const auto path = make_store(folder, {full_session("a")});
  const std::string sound = bytes_of(path);
  constexpr std::size_t page = 4096;
  int refused = 0;
  for (std::size_t at = page; at < sound.size(); at += page) {
    std::string bytes = sound;
    bytes.replace(at, page, page, '\x5a');
    write_bytes(path, bytes);
    try {
      BOOST_TEST((Store::open(path, Access::read_only).load("a") == full_session("a")));
    } catch (const store::Refused& refusal) {
      ++refused;
      BOOST_TEST(holds(refusal.what(), "restore"), refusal.what());
    }
  }
  BOOST_TEST(refused >= 20);  // the schema's pages and those of the 15 tables that a full session fills
}

BOOST_AUTO_TEST_CASE(kilograms_that_contradict_the_figure_are_damage) {
  const Folder folder;
  const auto path = make_store(folder, {full_session("a")});
  const std::string trigger =
      Raw(path).text("SELECT sql FROM sqlite_schema WHERE name = 'reading_is_never_changed'");
  Raw(path).run(
      "DROP TRIGGER reading_is_never_changed; UPDATE reading SET load_kg = load_kg + 1 WHERE seq = 2; " +
      trigger);
  const Store store = Store::open(path, Access::read_only);
  BOOST_TEST(holds(refusal_of([&] { store.load("a"); }), "disagree"));
}

BOOST_AUTO_TEST_SUITE_END()
