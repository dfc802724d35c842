// What it costs that a record stands up.
//
//   bench_records [SESSIONS = 10000] [READINGS = 300]
//
// A reading recorded, from the call to its being durable, against the bare transaction of the same rows on the same disk
// with the same pragmas. Sealing so many sessions, solving and sealing apart. Verifying them, without and with computing
// the issued figures anew, on one thread. A backup, and a merge into an empty store.
#include <sqlite3.h>
#include <unistd.h>

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <stdexcept>
#include <string>
#include <vector>

#include "import_fleet.hpp"
#include "issued/issued.hpp"
#include "sheet/sheet.hpp"
#include "store/store.hpp"

namespace {

namespace fs = std::filesystem;
using namespace steelyard;

template <class Action>
double seconds(const Action& action) {
  const auto from = std::chrono::steady_clock::now();
  action();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - from).count();
}

void import_fleet(const fs::path& path, int sessions) {
  store::Store store = store::Store::create(path);
  auto import = store.begin_import();
  for (int number = 0; number < sessions; ++number) {
    rig::Session session = bench::fleet_session(number);
    session.placement_u = 0.2;  // its loads are no rig's: without doubts about each the search for suspects would be timed
    import.add(session, sheet::content_hash(session));
  }
  import.commit();
}

void must(int code, sqlite3* db) {
  if (code != SQLITE_OK) throw std::runtime_error(sqlite3_errmsg(db));
}

/// The same rows as record() adds, each pair in a transaction, into a store of the same content.
double bare_readings(const fs::path& path, int readings, int first) {
  sqlite3* db = nullptr;
  must(sqlite3_open(path.c_str(), &db), db);
  must(sqlite3_exec(db, "PRAGMA foreign_keys = ON; PRAGMA synchronous = EXTRA; PRAGMA secure_delete = ON;", nullptr,
                    nullptr, nullptr),
       db);
  const double took = seconds([&] {
    for (int i = 0; i < readings; ++i) {
      const std::string seq = std::to_string(first + i);
      const std::string sql =
          "BEGIN IMMEDIATE; INSERT INTO reading VALUES (1, " + seq + ", 1, 'b" + seq +
          "', 'tow.1', 900.0, 900.0, 'kg', NULL, NULL, NULL, '', '2026-10-03T06:40:00Z'); INSERT INTO reading_scale "
          "VALUES (1, " + seq + ", 1, 1); COMMIT;";
      must(sqlite3_exec(db, sql.c_str(), nullptr, nullptr, nullptr), db);
    }
  });
  sqlite3_close(db);
  return took;
}

double recorded(const fs::path& path, int readings) {
  store::Store store = store::Store::open(path, store::Access::read_write);
  const rig::Session session = store.load(store.ids().front());
  rig::Reading reading;
  reading.at = rig::Position::whole_axle(rig::Vehicle::tow, 1);
  reading.load = {900, units::LoadUnit::kilogram};
  reading.scales = {session.scales.front().id};
  return seconds([&] {
    for (int i = 0; i < readings; ++i) store.record(session.id, session.states.front().name, reading);
  });
}

void time_recording(const fs::path& folder, int readings) {
  import_fleet(folder / "recorded.db", 1);
  fs::copy_file(folder / "recorded.db", folder / "bare.db");
  double ours = 0, bare = 0;
  // In turns, since a disk's mood changes.
  for (int round = 0; round < 3; ++round) {
    ours += recorded(folder / "recorded.db", readings / 3);
    bare += bare_readings(folder / "bare.db", readings / 3, 1000 + round * readings);
  }
  std::printf("record     %.2f ms a reading, bare transaction %.2f ms: %.2f times\n", 1e3 * ours / readings,
              1e3 * bare / readings, ours / bare);
}

void time_sealing(const fs::path& path, int sessions) {
  store::Store store = store::Store::open(path, store::Access::read_write);
  double solving = 0, setting = 0, commit = 0;
  {
    auto sealing = store.begin_sealing();
    for (const std::string& id : store.ids()) {
      rig::Session session;
      issued::Issue issue;
      solving += seconds([&] {
        session = store.load(id);
        issue = issued::issue(session);
      });
      setting += seconds([&] { sealing.add(session, "R. Okoye", {issue.engine, issue.build, issue.result}); });
    }
    commit = seconds([&] { sealing.commit(); });
  }
  std::printf("seal       %.2f s solving (%.0f a second), %.2f s sealing (%.0f a second), %.2f s commit\n", solving,
              sessions / solving, setting, sessions / setting, commit);
}

void time_verifying(const fs::path& path, int sessions) {
  const store::Store store = store::Store::open(path, store::Access::read_only);
  bool sound = false;
  const double checks = seconds([&] { sound = store.verify({}, {}).sound(); });
  std::size_t equal = 0;
  const double figures = seconds([&] {
    store.each_issued([&](const rig::Session& session, const store::SealedResult& one) {
      equal += issued::issue(session).result == one.issued.result ? 1u : 0u;
    });
  });
  std::printf("verify     %.2f s (%.0f a second, %s), figures anew %.2f s (%.0f a second, %zu equal)\n", checks,
              sessions / checks, sound ? "sound" : "NOT SOUND", figures, sessions / figures, equal);
}

}  // namespace

int main(int count, char** words) {
  const int sessions = count > 1 ? std::atoi(words[1]) : 10000, readings = count > 2 ? std::atoi(words[2]) : 300;
  const fs::path folder = fs::current_path() / ("bench-records-" + std::to_string(::getpid()));
  fs::create_directory(folder);
  time_recording(folder, readings);
  import_fleet(folder / "fleet.db", sessions);
  time_sealing(folder / "fleet.db", sessions);
  time_verifying(folder / "fleet.db", sessions);
  std::printf("size       %.1f kB a sealed session\n",
              static_cast<double>(fs::file_size(folder / "fleet.db")) / 1e3 / sessions);
  {
    const store::Store store = store::Store::open(folder / "fleet.db", store::Access::read_only);
    std::printf("backup     %.2f s, verified\n", seconds([&] { store.backup(folder / "copy.db", false, {}); }));
    store::Store office = store::Store::create(folder / "office.db");
    const double took = seconds([&] { office.merge(folder / "fleet.db"); });
    std::printf("merge      %.2f s (%.0f a second)\n", took, sessions / took);
  }
  if (!std::getenv("KEEP")) fs::remove_all(folder);
  return 0;
}
