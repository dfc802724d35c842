// How fast sheets are imported, against bare prepared inserts of the same rows into the same schema, both in
// one transaction and with the same pragmas, one after the other in one run.
//
//   bench_import [SESSIONS = 20000] [RUNS = 3]
//
// The ratio is that of the rates: 0.5 means that reading, checking, hashing, storing and reading back take
// together twice as long as the inserts alone.
#include <sqlite3.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <memory>
#include <sstream>
#include <stdexcept>
#include <string>
#include <variant>
#include <vector>

#include "import_fleet.hpp"
#include "sheet/sheet.hpp"
#include "store/store.hpp"

namespace {

namespace fs = std::filesystem;
using namespace steelyard;

/// Adds up the time between start() and stop().
class Watch {
 public:
  void start() { from_ = std::chrono::steady_clock::now(); }
  void stop() { seconds_ += std::chrono::duration<double>(std::chrono::steady_clock::now() - from_).count(); }
  [[nodiscard]] double seconds() const { return seconds_; }

 private:
  std::chrono::steady_clock::time_point from_;
  double seconds_ = 0;
};

std::string fleet_file(int sessions) {
  std::string lines;
  for (int number = 0; number < sessions; ++number)
    lines.append(sheet::write(bench::fleet_session(number))).append("\n");
  return lines;
}

struct ImportTimes {
  Watch read, write, add, commit;
  [[nodiscard]] double seconds() const {
    return read.seconds() + write.seconds() + add.seconds() + commit.seconds();
  }
};

ImportTimes time_import(const fs::path& path, const std::string& lines) {
  store::Store store = store::Store::create(path);
  std::istringstream in(lines);
  sheet::FleetReader reader(in);
  ImportTimes times;
  auto import = store.begin_import();
  for (;;) {
    times.read.start();
    const auto read = reader.next();
    times.read.stop();
    if (!read) break;
    if (!read->session) throw std::runtime_error(sheet::to_text(read->faults.front()));
    times.write.start();
    const std::string hash = sheet::content_hash(*read->session);
    times.write.stop();
    times.add.start();
    import.add(*read->session, hash);
    times.add.stop();
  }
  times.commit.start();
  import.commit();
  times.commit.stop();
  return times;
}

void check(sqlite3* db, int code) {
  if (code != SQLITE_OK && code != SQLITE_DONE && code != SQLITE_ROW)
    throw std::runtime_error(sqlite3_errmsg(db));
}

struct CloseDatabase {
  void operator()(sqlite3* db) const { sqlite3_close(db); }
};
struct FinishStatement {
  void operator()(sqlite3_stmt* row) const { sqlite3_finalize(row); }
};
using Database = std::unique_ptr<sqlite3, CloseDatabase>;
using Statement = std::unique_ptr<sqlite3_stmt, FinishStatement>;

Database open_file(const fs::path& path) {
  sqlite3* db = nullptr;
  const int code = sqlite3_open_v2(path.c_str(), &db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX, nullptr);
  Database owner(db);
  check(db, code);
  check(db,
        sqlite3_exec(db, "PRAGMA synchronous = EXTRA; PRAGMA foreign_keys = ON", nullptr, nullptr, nullptr));
  return owner;
}

Statement prepare(sqlite3* db, const std::string& sql) {
  sqlite3_stmt* row = nullptr;
  check(db, sqlite3_prepare_v3(db, sql.c_str(), -1, SQLITE_PREPARE_PERSISTENT, &row, nullptr));
  return Statement(row);
}

using Value = std::variant<std::monostate, std::int64_t, double, std::string>;

Value column_value(sqlite3_stmt* row, int column) {
  switch (sqlite3_column_type(row, column)) {
    case SQLITE_INTEGER:
      return sqlite3_column_int64(row, column);
    case SQLITE_FLOAT:
      return sqlite3_column_double(row, column);
    case SQLITE_TEXT:
      return std::string(reinterpret_cast<const char*>(sqlite3_column_text(row, column)));
    default:
      return {};
  }
}

void bind(sqlite3_stmt* row, int parameter, const Value& value) {
  if (const auto* whole = std::get_if<std::int64_t>(&value))
    sqlite3_bind_int64(row, parameter, *whole);
  else if (const auto* number = std::get_if<double>(&value))
    sqlite3_bind_double(row, parameter, *number);
  else if (const auto* text = std::get_if<std::string>(&value))
    sqlite3_bind_text64(row, parameter, text->data(), text->size(), SQLITE_STATIC, SQLITE_UTF8);
  else
    sqlite3_bind_null(row, parameter);
}

/// The tables of a session, those that others refer to first.
constexpr const char* tables[] = {"session",       "modification", "scale", "tow_vehicle", "axle",
                                  "trailer",       "rig_limit",    "state", "ride_height", "reading",
                                  "reading_scale", "strike",       "extra"};

struct Row {
  sqlite3_stmt* insert;
  std::vector<Value> values;
};

/// Copies the sessions of one file into another; only the inserts are timed, not the reading.
class BareInserts {
 public:
  BareInserts(const fs::path& from, const fs::path& to) : from_(open_file(from)), to_(open_file(to)) {
    for (const char* table : tables) {
      selects_.push_back(prepare(from_.get(), std::string("SELECT * FROM ") + table + " WHERE session = ?"));
      std::string marks = "?";
      for (int column = 1; column < sqlite3_column_count(selects_.back().get()); ++column) marks += ", ?";
      inserts_.push_back(prepare(to_.get(), std::string("INSERT INTO ") + table + " VALUES (" + marks + ")"));
    }
  }

  void copy(int sessions) {
    run("BEGIN IMMEDIATE");
    constexpr int at_once = 500;  // bounds the memory; the transaction stays open
    for (int first = 1; first <= sessions; first += at_once) {
      std::vector<Row> batch;
      for (int session = first; session < std::min(first + at_once, sessions + 1); ++session)
        fetch(session, batch);
      watch.start();
      for (const Row& row : batch) insert(row);
      watch.stop();
      rows += batch.size();
    }
    run("COMMIT");
  }

  Watch watch;
  std::size_t rows = 0;

 private:
  void run(const char* sql) {
    watch.start();
    check(to_.get(), sqlite3_exec(to_.get(), sql, nullptr, nullptr, nullptr));
    watch.stop();
  }

  void fetch(int session, std::vector<Row>& batch) {
    for (std::size_t table = 0; table < selects_.size(); ++table) {
      sqlite3_stmt* const row = selects_[table].get();
      sqlite3_bind_int64(row, 1, session);
      while (sqlite3_step(row) == SQLITE_ROW) {
        Row& kept = batch.emplace_back(Row{inserts_[table].get(), {}});
        for (int column = 0; column < sqlite3_column_count(row); ++column)
          kept.values.push_back(column_value(row, column));
      }
      check(from_.get(), sqlite3_reset(row));
    }
  }

  void insert(const Row& row) {
    int parameter = 0;
    for (const Value& value : row.values) bind(row.insert, ++parameter, value);
    check(to_.get(), sqlite3_step(row.insert));
    sqlite3_reset(row.insert);
  }

  Database from_, to_;
  std::vector<Statement> selects_, inserts_;
};

double one_run(const fs::path& folder, const std::string& lines, int sessions) {
  const fs::path imported = folder / "imported.db", copied = folder / "copied.db";
  fs::remove(imported);
  fs::remove(copied);
  const ImportTimes import = time_import(imported, lines);
  { const store::Store made = store::Store::create(copied); }
  BareInserts bare(imported, copied);
  bare.copy(sessions);
  if (fs::file_size(copied) < fs::file_size(imported) / 2)
    throw std::runtime_error("the rows were not copied");
  const double ratio = bare.watch.seconds() / import.seconds();
  std::printf(
      "import %6.2f s (%.0f sessions/s; reading %.2f, hashing %.2f, storing %.2f, commit %.2f)\n"
      "bare   %6.2f s (%.0f sessions/s, %.0f rows/s, %zu rows)\nratio  %6.2f\n",
      import.seconds(), sessions / import.seconds(), import.read.seconds(), import.write.seconds(),
      import.add.seconds(), import.commit.seconds(), bare.watch.seconds(), sessions / bare.watch.seconds(),
      static_cast<double>(bare.rows) / bare.watch.seconds(), bare.rows, ratio);
  return ratio;
}

}  // namespace

int main(int count, char** words) {
  const int sessions = count > 1 ? std::atoi(words[1]) : 20'000;
  const int runs = count > 2 ? std::atoi(words[2]) : 3;
  if (sessions < 1 || runs < 1) {
    std::fputs("bench_import [SESSIONS] [RUNS]: both are whole numbers above 0\n", stderr);
    return 2;
  }
  std::string name = (fs::temp_directory_path() / "steelyard-bench-").string() + std::string(6, 'X');
  if (!::mkdtemp(name.data())) return 1;
  int failed = 0;
  try {
    const std::string lines = fleet_file(sessions);
    std::vector<double> ratios;
    for (int run = 0; run < runs; ++run) ratios.push_back(one_run(name, lines, sessions));
    std::sort(ratios.begin(), ratios.end());
    std::printf("median ratio %.2f\n", ratios[ratios.size() / 2]);
  } catch (const std::exception& error) {
    std::fprintf(stderr, "bench_import: %s\n", error.what());
    failed = 1;
  }
  fs::remove_all(name);
  return failed;
}
