#include "support.hpp"

#include <grp.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <functional>
#include <iterator>
#include <stdexcept>

namespace steelyard::test {

namespace fs = std::filesystem;

Folder::Folder() {
  std::string name = (fs::temp_directory_path() / "steelyard-store-").string() + std::string(6, 'X');
  if (!::mkdtemp(name.data())) throw std::runtime_error("no temporary folder");
  path_ = name;
  ::chmod(name.c_str(), 0755);
}

Folder::~Folder() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
}

std::vector<std::string> Folder::names() const {
  std::vector<std::string> all;
  for (const auto& entry : fs::directory_iterator(path_)) all.push_back(entry.path().filename().string());
  std::sort(all.begin(), all.end());
  return all;
}

namespace {

struct Finish {
  void operator()(sqlite3_stmt* handle) const { sqlite3_finalize(handle); }
};
using Statement = std::unique_ptr<sqlite3_stmt, Finish>;

Statement prepare(sqlite3* handle, const std::string& sql) {
  sqlite3_stmt* statement = nullptr;
  if (sqlite3_prepare_v2(handle, sql.c_str(), -1, &statement, nullptr) != SQLITE_OK)
    throw std::runtime_error(sql + ": " + sqlite3_errmsg(handle));
  return Statement(statement);
}

std::string column_text(sqlite3_stmt* row, int column) {
  switch (sqlite3_column_type(row, column)) {
    case SQLITE_NULL:
      return "NULL";
    case SQLITE_FLOAT: {
      char text[64];
      std::snprintf(text, sizeof text, "%a", sqlite3_column_double(row, column));
      return text;
    }
    default: {
      const auto* bytes = reinterpret_cast<const char*>(sqlite3_column_text(row, column));
      return {bytes, static_cast<std::size_t>(sqlite3_column_bytes(row, column))};
    }
  }
}

}  // namespace

void Raw::Close::operator()(sqlite3* handle) const {
  sqlite3_close_v2(handle);
}

Raw::Raw(const fs::path& path) {
  sqlite3* handle = nullptr;
  const int code =
      sqlite3_open_v2(path.c_str(), &handle, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, nullptr);
  handle_.reset(handle);
  if (code != SQLITE_OK) throw std::runtime_error("raw handle: " + path.string());
}

void Raw::run(const std::string& sql) const {
  if (const std::string error = error_of(sql); !error.empty()) throw std::runtime_error(sql + ": " + error);
}

std::string Raw::error_of(const std::string& sql) const {
  return sqlite3_exec(handle_.get(), sql.c_str(), nullptr, nullptr, nullptr) == SQLITE_OK
             ? std::string()
             : sqlite3_errmsg(handle_.get());
}

std::vector<std::string> Raw::texts(const std::string& sql) const {
  const Statement row = prepare(handle_.get(), sql);
  std::vector<std::string> all;
  int code = SQLITE_ROW;
  while ((code = sqlite3_step(row.get())) == SQLITE_ROW) {
    std::string line;
    for (int column = 0; column < sqlite3_column_count(row.get()); ++column)
      line.append(column ? "|" : "").append(column_text(row.get(), column));
    all.push_back(line);
  }
  if (code != SQLITE_DONE) throw std::runtime_error(sql + ": " + sqlite3_errmsg(handle_.get()));
  return all;
}

std::string Raw::text(const std::string& sql) const {
  return texts(sql).at(0);
}
long long Raw::integer(const std::string& sql) const {
  return std::stoll(text(sql));
}

double Raw::number(const std::string& sql) const {
  const Statement row = prepare(handle_.get(), sql);
  if (sqlite3_step(row.get()) != SQLITE_ROW) throw std::runtime_error(sql + ": no row");
  return sqlite3_column_double(row.get(), 0);
}

std::string content_of(const fs::path& path) {
  const Raw raw(path);
  std::string all;
  for (const std::string& table :
       raw.texts("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name")) {
    all += table + "\n";
    std::vector<std::string> rows = raw.texts("SELECT * FROM " + table);
    std::sort(rows.begin(), rows.end());
    for (const std::string& row : rows) all += row + "\n";
  }
  return all;
}

std::string bytes_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

void write_bytes(const fs::path& path, std::string_view bytes) {
  std::ofstream out(path, std::ios::binary | std::ios::trunc);
  out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  if (!out.flush()) throw std::runtime_error("cannot write " + path.string());
}

std::string hash_of(std::string_view seed) {
  std::string hash;
  std::size_t state = std::hash<std::string_view>{}(seed);
  while (hash.size() < 64) {
    hash += "0123456789abcdef"[state & 15];
    state = state * 6364136223846793005u + 1442695040888963407u;
    state ^= state >> 29;
  }
  return hash;
}

void import_all(store::Store& store, const std::vector<rig::Session>& sessions) {
  auto import = store.begin_import();
  for (const rig::Session& session : sessions) import.add(session, hash_of(session.id));
  import.commit();
}

fs::path make_store(const Folder& folder, const std::vector<rig::Session>& sessions) {
  const fs::path path = folder / "fleet.db";
  store::Store made = store::Store::create(path);
  import_all(made, sessions);
  return path;
}

std::string refusal_of(const std::function<void()>& action) {
  try {
    action();
  } catch (const store::Refused& refused) {
    return refused.what();
  }
  BOOST_ERROR("nothing was refused");
  return {};
}

std::string refusal_without_rights(const std::function<void()>& action) {
  int ends[2];
  if (::pipe(ends) != 0) throw std::runtime_error("no pipe");
  const pid_t child = ::fork();
  if (child == 0) {
    std::string text = "nothing was refused";
    constexpr unsigned nobody = 65534;
    if (::geteuid() == 0 && (::setgroups(0, nullptr) || ::setgid(nobody) || ::setuid(nobody))) ::_exit(1);
    try {
      action();
    } catch (const std::exception& error) {
      text = error.what();
    }
    const bool written = ::write(ends[1], text.data(), text.size()) == static_cast<ssize_t>(text.size());
    ::_exit(written ? 0 : 1);
  }
  ::close(ends[1]);
  std::string text;
  char buffer[512];
  for (ssize_t got = 0; (got = ::read(ends[0], buffer, sizeof buffer)) > 0;)
    text.append(buffer, static_cast<std::size_t>(got));
  ::close(ends[0]);
  int status = -1;
  ::waitpid(child, &status, 0);
  BOOST_TEST(status == 0);
  return text;
}

bool holds(std::string_view text, std::string_view part) {
  return text.find(part) != std::string_view::npos;
}

}  // namespace steelyard::test
