// What the file itself refuses, whoever writes to it, and what our connection refuses.
#include <sqlite3.h>

#include <boost/test/unit_test.hpp>
#include <limits>

#include "store/sqlite.hpp"
#include "support.hpp"

using namespace steelyard;
using namespace steelyard::test;
using store::Connection;

namespace {

struct WithStore {
  Folder folder;
  std::filesystem::path path = make_store(folder, {full_session("a")});
};

/// A store with a row in every table.
struct WithEverything : WithStore {
  WithEverything() {
    store::Store store = store::Store::open(path, store::Access::read_write);
    import_all(store, {small_session("b")});
    store.attach("a", {.limit = 1, .reading = "", .what = "compliance plate", .media_type = "", .sha256 = "", .by = "",
                       .at = ""}, "a picture");
    auto sealing = store.begin_sealing();
    sealing.add(store.load("a"), "R. Okoye", {"0.1.0", "a build", "{}"});
    sealing.commit();
    store.note({{store::RegisterKind::client, "gone", "name", "G. Orme", "R. Okoye"}});
    store.redact_client("gone", "asked for", "R. Okoye");
    store.redact_session("b", "asked for", "R. Okoye");
    store.choose({{.name = "words", .client = "tcwb", .value = "au", .by = "R. Okoye", .at = {}}});
    store.note({{store::RegisterKind::client, "tcwb", "contact", "stores@tcwb.example", "R. Okoye"}});
  }
};

/// Gives a column another value than it has.
std::string altered(const std::string& column) {
  return column + " = CASE WHEN " + column + " IS 1 THEN 2 ELSE 1 END";
}

/// SQLite's answer to a reading whose load is these three values.
std::string reading_error(const Raw& raw, double kg, double figure, const char* unit) {
  sqlite3_stmt* row = nullptr;
  sqlite3_prepare_v2(
      raw.handle(),
      "INSERT INTO reading (session, seq, state, id, position, load_kg, load_figure, load_unit, taken_at) "
      "VALUES (1, 99, 1, 'r99', 'tow.1', ?, ?, ?, '')",
      -1, &row, nullptr);
  sqlite3_bind_double(row, 1, kg);
  sqlite3_bind_double(row, 2, figure);
  sqlite3_bind_text(row, 3, unit, -1, SQLITE_STATIC);
  const std::string error = sqlite3_step(row) == SQLITE_DONE ? "" : sqlite3_errmsg(raw.handle());
  sqlite3_finalize(row);
  return error;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(guard)

BOOST_FIXTURE_TEST_CASE(no_fact_is_changed_or_removed, WithEverything) {
  const std::string before = content_of(path);
  const Raw raw(path);
  const auto tables = raw.texts("SELECT name FROM sqlite_schema WHERE type = 'table'");
  BOOST_TEST(tables.size() == 28u);
  for (const std::string& table : tables) {
    BOOST_TEST(raw.integer("SELECT count(*) FROM " + table) > 0, table);
    const std::string column = raw.text("SELECT name FROM pragma_table_info('" + table + "') LIMIT 1");
    BOOST_TEST(raw.error_of("UPDATE " + table + " SET " + column + " = " + column) ==
               table + ": a fact is never changed");
    BOOST_TEST(raw.error_of("DELETE FROM " + table) == table + ": a fact is never removed");
  }
  BOOST_TEST(content_of(path) == before);
}

// full_session: scale 1 (P1) has zero_after, 2 and 3 have none; states 1 and 2 have height and slope, 2 both without u,
// 3 has neither. The revision has no seal.
BOOST_FIXTURE_TEST_CASE(only_what_is_empty_is_filled_in, WithStore) {
  const std::string before = content_of(path);
  const std::string zero = "zero_after_kg = 1, zero_after_figure = 1, zero_after_unit = 'kg'",
                    height = "coupling_height_mm = 441, coupling_height_figure = 441, coupling_height_unit = 'mm'",
                    height_u = "coupling_height_u_mm = 4, coupling_height_u_figure = 4, coupling_height_u_unit = 'mm'",
                    slope = "slope = 1.5, slope_u = 0.5";
  const Raw raw(path);
  const auto scale = [&](const std::string& set, int seq) {
    return raw.error_of("UPDATE scale SET " + set + " WHERE seq = " + std::to_string(seq));
  };
  const auto state = [&](const std::string& set, int seq) {
    return raw.error_of("UPDATE state SET " + set + " WHERE seq = " + std::to_string(seq));
  };
  const std::string scale_fact = "scale: a fact is never changed", state_fact = "state: a fact is never changed";
  const std::string none = "zero_after_kg = NULL, zero_after_figure = NULL, zero_after_unit = NULL";
  BOOST_TEST(scale(zero, 1) == scale_fact);  // was given
  BOOST_TEST(scale(none, 1) == scale_fact);
  BOOST_TEST(scale(none, 2) == scale_fact);  // changes nothing
  for (const std::string& column :
       raw.texts("SELECT name FROM pragma_table_info('scale') WHERE name NOT LIKE 'zero_after%'"))
    BOOST_TEST(scale(zero + ", " + altered(column), 2) == scale_fact, column);
  BOOST_TEST(holds(scale("zero_after_kg = 1", 2), "CHECK constraint failed"));
  BOOST_TEST(holds(scale("zero_after_figure = 1", 2), scale_fact));

  for (const int given : {1, 2}) {
    BOOST_TEST(state(height, given) == state_fact);
    BOOST_TEST(state(height_u, given) == state_fact);  // a height without u takes none later
    BOOST_TEST(state("slope = 1.5", given) == state_fact);
    BOOST_TEST(state("slope_u = 0.5", given) == state_fact);
    BOOST_TEST(state("slope = NULL, slope_u = NULL", given) == state_fact);
  }
  BOOST_TEST(state(height_u, 3) == state_fact);
  BOOST_TEST(state("slope_u = 0.5", 3) == state_fact);
  BOOST_TEST(state("slope = NULL", 3) == state_fact);
  BOOST_TEST(holds(state("coupling_height_mm = 441", 3), "CHECK constraint failed"));
  for (const std::string& column : raw.texts("SELECT name FROM pragma_table_info('state') WHERE name NOT LIKE "
                                             "'coupling_height%' AND name NOT LIKE 'slope%'"))
    BOOST_TEST(state(slope + ", " + altered(column), 3) == state_fact, column);
  BOOST_TEST(content_of(path) == before);

  BOOST_TEST(scale(zero, 2) == "");
  BOOST_TEST(scale(zero, 2) == scale_fact);
  BOOST_TEST(state(slope, 3) == "");
  BOOST_TEST(state(slope + ", " + height, 3) == "");  // the slope as it is, the height new
  BOOST_TEST(state("slope = 2", 3) == state_fact);
  BOOST_TEST(state(height_u, 3) == state_fact);

  store::Store store = store::Store::open(path, store::Access::read_write);
  BOOST_TEST(store.load("a").scales[1].zero_after->figure == 1);
  BOOST_TEST(store.load("a").states[2].coupling_height->value.figure == 441);
  BOOST_TEST(store.load("a").states[2].slope->value == 1.5);
  auto sealing = store.begin_sealing();
  sealing.add(store.load("a"), "R. Okoye", {"0.1.0", "a build", "{}"});
  sealing.commit();
  BOOST_TEST(scale(zero, 3) == scale_fact);
  BOOST_TEST(store.verify({}, {}).sound());
}

BOOST_FIXTURE_TEST_CASE(our_connection_fills_in_nothing_else, WithStore) {
  Connection connection(path, Connection::Mode::write, {}, path);
  const std::string_view allowed = "UPDATE state SET slope = 1 WHERE seq = 3";
  BOOST_CHECK_THROW(connection.run(allowed), std::logic_error);
  const store::Permitting filling(connection, Connection::Permission::filling);
  BOOST_CHECK_NO_THROW(connection.run(allowed));
  for (const std::string_view refused :
       {"UPDATE state SET name = 'b' WHERE seq = 3", "UPDATE state SET slope = 1, seq = 9 WHERE seq = 3",
        "UPDATE scale SET zero_before_kg = 1", "UPDATE reading SET load_kg = 1", "UPDATE session SET place = ''",
        "DELETE FROM state", "DROP TABLE state"})
    BOOST_CHECK_THROW(connection.run(refused), std::logic_error);
}

BOOST_FIXTURE_TEST_CASE(every_table_is_strict_and_explained, WithStore) {
  const Raw raw(path);
  BOOST_TEST(
      raw.texts("SELECT name FROM pragma_table_list WHERE schema = 'main' AND NOT strict").size() == 1u,
      "only sqlite_schema itself is not strict");
  for (const std::string& sql : raw.texts("SELECT sql FROM sqlite_schema WHERE type = 'table'"))
    BOOST_TEST(holds(sql, "(\n  -- "), sql);
}

BOOST_FIXTURE_TEST_CASE(a_load_that_is_no_load_is_refused_by_the_file, WithStore) {
  const Raw raw(path);
  const double nan = std::numeric_limits<double>::quiet_NaN(),
               infinite = std::numeric_limits<double>::infinity();
  BOOST_TEST(holds(reading_error(raw, nan, 900, "kg"), "NOT NULL constraint failed: reading.load_kg"));
  BOOST_TEST(holds(reading_error(raw, 900, nan, "kg"), "NOT NULL constraint failed: reading.load_figure"));
  BOOST_TEST(holds(reading_error(raw, infinite, 900, "kg"), "CHECK constraint failed: load_kg"));
  BOOST_TEST(holds(reading_error(raw, 900, infinite, "kg"), "CHECK constraint failed: load_figure"));
  BOOST_TEST(holds(reading_error(raw, -1, -1, "kg"), "CHECK constraint failed: load_kg"));
  BOOST_TEST(holds(reading_error(raw, 900, 900, "t"), "CHECK constraint failed: load_unit"));
  BOOST_TEST(reading_error(raw, 900, 900, "kg") == "");
}

BOOST_FIXTURE_TEST_CASE(what_belongs_nowhere_is_refused_by_the_file, WithStore) {
  const Raw raw(path);
  raw.run("PRAGMA foreign_keys = ON");
  const std::string foreign = "FOREIGN KEY constraint failed";
  const std::string into =
      "INSERT INTO reading (session, seq, state, id, position, load_kg, load_figure, load_unit, "
      "taken_at) VALUES ";
  BOOST_TEST(raw.error_of(into + "(1, 99, 9, 'r99', 'tow.1', 1, 1, 'kg', '')") == foreign);
  BOOST_TEST(raw.error_of(into + "(2, 99, 1, 'r99', 'tow.1', 1, 1, 'kg', '')") == foreign);
  BOOST_TEST(raw.error_of(into + "(1, 99, 1, 'r99', 'tow.21', 1, 1, 'kg', '')") == foreign);
  BOOST_TEST(raw.error_of("INSERT INTO reading_scale VALUES (1, 1, 9, 1)") == foreign);
  BOOST_TEST(raw.error_of("INSERT INTO strike VALUES (1, 99, 'x', '', '', NULL)") == foreign);
  BOOST_TEST(holds(raw.error_of("INSERT INTO strike VALUES (1, 4, 'x', '', '', NULL)"), "UNIQUE"));
  BOOST_TEST(
      holds(raw.error_of("INSERT INTO scale (session, seq, id, uid, serial, certificate, calibrated, due, "
                         "capacity_figure, capacity_unit) VALUES (1, 9, 'P9', '', '', '', '', '', 5, 'kg')"),
            "capacity_kg IS NULL"));
}

BOOST_FIXTURE_TEST_CASE(our_connection_is_locked_down, WithStore) {
  Connection connection(path, Connection::Mode::write, {}, path);
  BOOST_TEST(connection.single_integer("PRAGMA foreign_keys") == 1);
  BOOST_TEST(connection.single_integer("PRAGMA trusted_schema") == 0);
  BOOST_TEST(connection.single_integer("PRAGMA cell_size_check") == 1);
  BOOST_CHECK_THROW(connection.run("SELECT \"no such column\" FROM session"), std::logic_error);
  BOOST_CHECK_THROW(connection.run("ATTACH ':memory:' AS other"), std::logic_error);
  BOOST_CHECK_THROW(connection.run("DELETE FROM sqlite_schema"), std::logic_error);
  // Rows are added and nothing else, even where no trigger would forbid it.
  BOOST_CHECK_THROW(connection.run("UPDATE register_entry SET note = ''"), std::logic_error);
  BOOST_CHECK_THROW(connection.run("DELETE FROM attached_file"), std::logic_error);
  BOOST_CHECK_THROW(connection.run("DROP TABLE strike"), std::logic_error);
  BOOST_CHECK_THROW(connection.run("CREATE TABLE note (a)"), std::logic_error);
  // REPLACE removes the row it meets; with recursive triggers even that is a removal.
  BOOST_CHECK_THROW(connection.run("INSERT OR REPLACE INTO strike VALUES (1, 4, 'x', '', '', NULL)"),
                    store::Refused);
}

BOOST_FIXTURE_TEST_CASE(a_statement_is_used_as_it_is_meant, WithStore) {
  Connection connection(path, Connection::Mode::read, {}, path);
  const std::string_view one = "SELECT id FROM session WHERE session = ?";
  BOOST_CHECK_THROW(connection.query(one).run(), std::logic_error);                // no parameter
  BOOST_CHECK_THROW(connection.query(one).put(1).put(2).run(), std::logic_error);  // one too many
  BOOST_CHECK_THROW(connection.query(one).put(1).run(), std::logic_error);         // nobody takes the row
  BOOST_CHECK_THROW(connection.query("SELECT 1; DELETE FROM session").next(), std::logic_error);
  BOOST_CHECK_THROW(connection.query("SELECT 1 -- and so on").run(), std::logic_error);
  BOOST_CHECK_THROW(connection.query("").run(), std::logic_error);
  BOOST_CHECK_THROW(connection.query("SELECT nothing").run(), std::logic_error);
  {
    auto row = connection.query(one);
    BOOST_CHECK_THROW(connection.query(one), std::logic_error);  // used inside itself
    BOOST_TEST(row.put(1).next());
    BOOST_TEST(row.text() == "a");
    BOOST_TEST(!row.next());
  }
  auto again = connection.query(one);  // kept and ready for the next use
  BOOST_TEST(again.put(1).next());
  BOOST_CHECK_THROW(again.integer(), store::Refused);  // of another type than it must be: damaged
}

BOOST_AUTO_TEST_SUITE_END()
