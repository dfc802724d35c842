#include <set>

#include "store/impl.hpp"
#include "store/migrations.hpp"
#include "store/redact.hpp"
#include "store/register.hpp"
#include "store/settings.hpp"
#include "store/verification.hpp"

namespace steelyard::store {
namespace {

// One damaged page makes hundreds of lines; the first say enough.
constexpr int most_lines = 20;

void check_integrity(Connection& connection, Verification& found) {
  Query row = connection.query("PRAGMA integrity_check(20)");
  while (row.next())
    if (const std::string_view line = row.text(); line != "ok")
      add_fault(found, "integrity", {}, "SQLite's integrity check says: " + std::string(line));
}

void check_references(Connection& connection, Verification& found) {
  Query row = connection.query("PRAGMA foreign_key_check");
  for (int lines = 0; lines < most_lines && row.next(); ++lines) {
    const std::string table(row.text());
    row.skip(1);
    add_fault(found, "reference", {},
              "a row of " + table + " refers to a row of " + std::string(row.text()) + " that is not there");
  }
}

std::set<std::string> rows(Connection& connection, std::string_view sql, int columns) {
  std::set<std::string> all;
  Query row = connection.query(sql);
  while (row.next()) {
    std::string text;
    for (int i = 0; i < columns; ++i) append_item(text, row);
    all.insert(std::move(text));
  }
  return all;
}

/// The rows that only migrations write.
void check_words(Connection& connection, Verification& found) {
  Connection released({}, Connection::Mode::memory, {}, "(the released schema)");
  migrate(released, released_migrations());
  struct Words {
    std::string_view table, sql;
    int columns;
  };
  for (const Words& words :
       {Words{"position", "SELECT position, extent, vehicle, axle, side FROM position", 5},
        Words{"limit_name", "SELECT name, measure FROM limit_name", 2},
        Words{"migration", "SELECT number, name FROM migration", 2}})
    if (rows(connection, words.sql, words.columns) != rows(released, words.sql, words.columns))
      add_fault(found, "words_changed", {},
                "the rows of table " + std::string(words.table) + " are not those that Steelyard wrote");
  if (connection.single_integer("SELECT count(*) FROM store") != 1 ||
      connection.single_integer("SELECT count(*) FROM store WHERE origin = again") != 1)
    add_fault(found, "words_changed", {}, "the store's own name is missing, altered or not the only one");
}

}  // namespace

bool Verification::sound() const {
  for (const Remark& remark : remarks)
    if (remark.weight == Remark::Weight::fault) return false;
  return true;
}

void add_fault(Verification& found, std::string_view kind, std::string_view session, std::string what) {
  found.remarks.push_back({Remark::Weight::fault, std::string(kind), std::string(session), std::move(what)});
}

void add_notice(Verification& found, std::string_view kind, std::string_view session, std::string what) {
  found.remarks.push_back({Remark::Weight::notice, std::string(kind), std::string(session), std::move(what)});
}

void verify_file(Connection& connection, Verification& found) {
  check_integrity(connection, found);
  check_references(connection, found);
  check_words(connection, found);
}

Verification verify_all(Connection& connection, std::string_view head, const Store::Progress& progress) {
  Verification found;
  const auto attempt = [&](auto&& part) {
    try {
      part();
    } catch (const Refused& refused) {
      // A damaged page ends one part; what the others find still helps to say what is lost.
      add_fault(found, "unreadable", {}, refused.what());
    }
  };
  attempt([&] { verify_file(connection, found); });
  attempt([&] { verify_chains(connection, head, found); });
  attempt([&] { verify_contents(connection, progress, found); });
  attempt([&] { verify_files(connection, found); });
  attempt([&] { verify_notes(connection, found); });
  attempt([&] { verify_settings(connection, found); });
  attempt([&] { verify_redactions(connection, found); });
  return found;
}

Verification Store::verify(std::string_view head, const Progress& progress) const {
  Connection& connection = *impl_->connection;
  const ReadingMoment moment(connection);
  return verify_all(connection, head, progress);
}

}  // namespace steelyard::store
