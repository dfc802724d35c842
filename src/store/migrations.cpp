#include "store/migrations.hpp"

#include "store/instant.hpp"

namespace steelyard::store {

int version_of(Connection& connection) {
  return static_cast<int>(connection.single_integer("PRAGMA user_version"));
}

namespace {

void run_one(Connection& connection, const Migration& migration) {
  Transaction transaction(connection, Transaction::Kind::writing);
  // Another program may have run it while this one waited for the lock.
  if (version_of(connection) >= migration.number) return;
  connection.run_script(migration.sql);
  // A pragma takes no parameters; both are whole numbers of ours.
  if (migration.number == 1)
    connection.run_script("PRAGMA application_id = " + std::to_string(application_id));
  connection.run_script("PRAGMA user_version = " + std::to_string(migration.number));
  const std::string now = utc_now();
  connection.query("INSERT INTO migration (number, name, applied_at, program_version) VALUES (?, ?, ?, ?)")
      .put(migration.number)
      .put(migration.name)
      .put(now)
      .put(std::string_view(STEELYARD_VERSION))
      .run();
  transaction.commit();
}

}  // namespace

void migrate(Connection& connection, std::span<const Migration> migrations) {
  const int have = version_of(connection);
  for (const Migration& migration : migrations)
    if (migration.number > have) run_one(connection, migration);
}

std::string schema_text(Connection& connection) {
  std::string all;
  // Names beginning sqlite_ are SQLite's own: automatic indexes, and the statistics of ANALYZE, which are
  // harmless.
  Query row = connection.query(
      "SELECT type, name, tbl_name, sql FROM sqlite_schema WHERE substr(name, 1, 7) <> 'sqlite_' ORDER BY "
      "type, name");
  while (row.next()) {
    for (int column = 0; column < 4; ++column) {
      all += row.optional_text();
      all += '\n';
    }
  }
  return all;
}

std::string expected_schema_text(std::span<const Migration> migrations) {
  Connection memory({}, Connection::Mode::memory, {}, "(a schema in memory)");
  migrate(memory, migrations);
  return schema_text(memory);
}

}  // namespace steelyard::store
