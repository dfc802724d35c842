#include "store/migrations.hpp"

#include "store/instant.hpp"

namespace steelyard::store {

int version_of(Connection& connection) {
  return static_cast<int>(connection.single_integer("PRAGMA user_version"));
}

namespace {

/// A table that others refer to can only be made anew while foreign keys are off, which a transaction cannot change.
class ForeignKeysOff {
 public:
  explicit ForeignKeysOff(Connection& connection) : connection_(connection) { connection_.run("PRAGMA foreign_keys = OFF"); }
  ForeignKeysOff(const ForeignKeysOff&) = delete;
  ForeignKeysOff& operator=(const ForeignKeysOff&) = delete;
  ~ForeignKeysOff() {
    try {
      connection_.run("PRAGMA foreign_keys = ON");
    } catch (const std::exception&) {
      // Only a lack of memory can be the cause; check_foreign_keys of the opening finds it.
    }
  }

 private:
  Connection& connection_;
};

void check_references(Connection& connection) {
  if (connection.query("PRAGMA foreign_key_check").next())
    connection.damaged("a row refers to another that is not there");
}

void run_one(Connection& connection, const Migration& migration) {
  const Permitting changes(connection, Connection::Permission::migrating);
  const ForeignKeysOff while_it_runs(connection);
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
  check_references(connection);
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
