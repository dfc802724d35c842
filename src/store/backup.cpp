#include "store/backup.hpp"

#include <sqlite3.h>

#include <algorithm>
#include <chrono>
#include <string>
#include <thread>

#include "store/impl.hpp"
#include "store/instant.hpp"
#include "store/opening.hpp"
#include "store/placing.hpp"
#include "store/refusal.hpp"
#include "store/seal.hpp"
#include "store/verification.hpp"

namespace steelyard::store {
namespace {

namespace fs = std::filesystem;

constexpr int pages_a_step = 1000, most_restarts = 3;
constexpr std::chrono::milliseconds patience{5000}, pause{20};

struct FinishBackup {
  void operator()(sqlite3_backup* backup) const { sqlite3_backup_finish(backup); }
};

/// Steps until the copy is whole. A write by another program makes SQLite start again; after some of these everything
/// is copied in one step, in which the writers wait.
class Copying {
 public:
  Copying(const Connection& from, const Connection& to) : to_(to) {
    backup_.reset(sqlite3_backup_init(to.handle(), "main", from.handle(), "main"));
    if (!backup_) to.fail(sqlite3_errcode(to.handle()));
  }

  void run(const Store::Progress& progress) {
    auto waited = std::chrono::milliseconds::zero();
    for (int left = -1, restarts = 0;;) {
      const int code = sqlite3_backup_step(backup_.get(), restarts < most_restarts ? pages_a_step : -1);
      if (code == SQLITE_DONE) break;
      if (code == SQLITE_BUSY || code == SQLITE_LOCKED) {
        if ((waited += pause) > patience) to_.fail(code);
        std::this_thread::sleep_for(pause);
        continue;
      }
      if (code != SQLITE_OK) to_.fail(code);
      const int remaining = sqlite3_backup_remaining(backup_.get()), all = sqlite3_backup_pagecount(backup_.get());
      if (left >= 0 && remaining >= left) ++restarts;
      left = remaining;
      if (progress) progress(static_cast<std::size_t>(std::max(0, all - remaining)), static_cast<std::size_t>(all));
    }
    sqlite3_backup* const finished = backup_.release();
    if (const int code = sqlite3_backup_finish(finished); code != SQLITE_OK) to_.fail(code);
  }

 private:
  const Connection& to_;
  std::unique_ptr<sqlite3_backup, FinishBackup> backup_;
};

void check_integrity(Connection& copy) {
  Query row = copy.query("PRAGMA integrity_check(1)");
  if (!row.next() || row.text() != "ok") copy.damaged("the copy does not pass SQLite's integrity check");
}

/// "20261125T184144Z" of this moment.
std::string stamp() {
  std::string text = utc_now();
  std::erase_if(text, [](char c) { return c == '-' || c == ':'; });
  return text;
}

fs::path free_name(const fs::path& store, int version) {
  fs::path name = store;
  name += ".format-" + std::to_string(version) + "-" + stamp();
  fs::path found = name;
  std::error_code ignored;
  for (int number = 2; fs::exists(fs::symlink_status(found, ignored)); ++number) {
    found = name;
    found += "-" + std::to_string(number);
  }
  return found;
}

void check_target(const fs::path& store, const fs::path& to, bool replace) {
  std::error_code error;
  if (fs::equivalent(store, to, error))
    throw Refused(about(to, "is the store itself; name another file for the backup"));
  const fs::file_status status = fs::symlink_status(to, error);
  if (!fs::exists(status)) return;
  if (!replace) throw Refused(about(to, "is there already and was left as it is; name another file, or say --replace"));
  if (!fs::is_regular_file(status)) throw Refused(about(to, "is no file that a backup could replace; name another"));
}

/// What the copy is judged by: all that verify can see, but for faults that the store itself has.
Chain verified(Connection& copy, const Verification& of_store) {
  const Transaction moment(copy, Transaction::Kind::reading);
  const Verification found = verify_all(copy, {}, {});
  const auto faults = [](const Verification& one) {
    return std::count_if(one.remarks.begin(), one.remarks.end(),
                         [](const Remark& remark) { return remark.weight == Remark::Weight::fault; });
  };
  if (faults(found) > faults(of_store))
    copy.damaged("the copy does not verify as the store does; check the disk and repeat");
  return own_chain(copy);
}

}  // namespace

void copy_database(const Connection& from, const fs::path& to, const fs::path& asked, const Store::Progress& progress) {
  Connection copy(to, Connection::Mode::write, patience, asked);
  Copying(from, copy).run(progress);
  check_integrity(copy);
}

void copy_before_migration(const Connection& connection, int version, std::span<const Migration> migrations) {
  const fs::path name = free_name(connection.path(), version);
  const Unfinished unfinished{unfinished_name(name)};
  make_empty_file(unfinished.path, name);
  copy_database(connection, unfinished.path, name, {});
  {
    Connection copy(unfinished.path, Connection::Mode::read, patience, name);
    if (schema_text(copy) != expected_schema_text(migrations.first(static_cast<std::size_t>(version))) ||
        version_of(copy) != version)
      copy.damaged("the copy made before the change of format does not read as it should; nothing was changed");
  }
  sync_file(unfinished.path, name);
  put_in_place(unfinished.path, name, false);
}

std::unique_ptr<Connection> migrated_copy(const Connection& from, const fs::path& path, const fs::path& known_as) {
  copy_database(from, path, known_as, {});
  auto copy = std::make_unique<Connection>(path, Connection::Mode::write, patience, known_as);
  migrate(*copy, released_migrations());
  return copy;
}

Chain Store::backup(const fs::path& to, bool replace, const Progress& progress) const {
  Connection& connection = *impl_->connection;
  check_target(connection.path(), to, replace);
  Verification of_store;
  {
    const ReadingMoment moment(connection);
    of_store = verify_all(connection, {}, {});
  }
  const Unfinished unfinished{unfinished_name(to)};
  make_empty_file(unfinished.path, to);
  copy_database(connection, unfinished.path, to, progress);
  Chain chain;
  {
    const auto copy = open_store(unfinished.path, Access::read_only, {});
    chain = verified(*copy, of_store);
  }
  sync_file(unfinished.path, to);
  put_in_place(unfinished.path, to, replace);
  return chain;
}

}  // namespace steelyard::store
