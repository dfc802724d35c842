#include "store/sqlite.hpp"

#include <sqlite3.h>

#include <cmath>
#include <stdexcept>
#include <utility>

#include "store/filling.hpp"
#include "store/refusal.hpp"

namespace steelyard::store {
namespace {

// Far above what a sheet can bring (16 MiB), far below what hostile content could make SQLite attempt.
constexpr int longest_value = 32 << 20;
constexpr int longest_sql = 1 << 20;

[[noreturn]] void our_fault(const char* what, const std::string& detail) {
  throw std::logic_error(std::string("store: ") + what + ": " + detail);
}

/// SQLite asks this for each thing that a statement would do; it is asked while preparing, never while running.
int may_do(void* permission, int action, const char* what, const char* detail, const char* /*database*/,
           const char* /*trigger*/) {
  const auto allowed = *static_cast<const Connection::Permission*>(permission);
  switch (action) {
    case SQLITE_READ:
    case SQLITE_SELECT:
    case SQLITE_INSERT:
    case SQLITE_TRANSACTION:
    case SQLITE_SAVEPOINT:
    case SQLITE_PRAGMA:
    case SQLITE_FUNCTION:
    case SQLITE_RECURSIVE:
      return SQLITE_OK;
    case SQLITE_UPDATE:
      if (allowed == Connection::Permission::filling)
        return what && detail && is_filled_later(what, detail) ? SQLITE_OK : SQLITE_DENY;
      return allowed == Connection::Permission::adding ? SQLITE_DENY : SQLITE_OK;
    case SQLITE_DELETE:
      return allowed < Connection::Permission::redacting ? SQLITE_DENY : SQLITE_OK;
    case SQLITE_ATTACH:
    case SQLITE_DETACH:
      return SQLITE_DENY;
    default:
      return allowed == Connection::Permission::migrating ? SQLITE_OK : SQLITE_DENY;
  }
}

}  // namespace

void CloseConnection::operator()(sqlite3* handle) const {
  sqlite3_close_v2(handle);
}
void FinishStatement::operator()(sqlite3_stmt* handle) const {
  sqlite3_finalize(handle);
}

Query::Query(Connection& connection, Prepared& prepared)
    : connection_(connection), prepared_(prepared), handle_(prepared.handle.get()) {
  if (prepared_.in_use) our_fault("a statement is used inside itself", sqlite3_sql(handle_));
  prepared_.in_use = true;
}

Query::~Query() {
  sqlite3_reset(handle_);  // repeats the last step's error, which was thrown there
  prepared_.in_use = false;
}

void Query::check(int code) const {
  if (code != SQLITE_OK) connection_.fail(code);
}

Query& Query::put(std::int64_t value) {
  check(sqlite3_bind_int64(handle_, ++parameter_, value));
  return *this;
}

Query& Query::put(double value) {
  if (!std::isfinite(value))
    throw Refused(
        about(connection_.path(), "a number is not finite; nothing was stored: correct it and repeat"));
  check(sqlite3_bind_double(handle_, ++parameter_, value));
  return *this;
}

Query& Query::put(std::string_view text) {
  // A null pointer would be bound as NULL; an empty view may hold one.
  const char* bytes = text.empty() ? "" : text.data();
  check(sqlite3_bind_text64(handle_, ++parameter_, bytes, text.size(), SQLITE_STATIC, SQLITE_UTF8));
  return *this;
}

Query& Query::put_blob(std::string_view bytes) {
  const char* first = bytes.empty() ? "" : bytes.data();
  check(sqlite3_bind_blob64(handle_, ++parameter_, first, bytes.size(), SQLITE_STATIC));
  return *this;
}

Query& Query::put_null() {
  check(sqlite3_bind_null(handle_, ++parameter_));
  return *this;
}

void Query::check_parameters() const {
  if (parameter_ != prepared_.parameters) our_fault("not every parameter was put once", sqlite3_sql(handle_));
}

void Query::run() {
  check_parameters();
  const int code = sqlite3_step(handle_);
  if (code == SQLITE_ROW) our_fault("a statement gave rows that nobody takes", sqlite3_sql(handle_));
  if (code != SQLITE_DONE) connection_.fail(code);
}

bool Query::next() {
  check_parameters();
  column_ = 0;
  const int code = sqlite3_step(handle_);
  if (code == SQLITE_ROW) return true;
  if (code != SQLITE_DONE) connection_.fail(code);
  return false;
}

bool Query::is_null() const {
  return sqlite3_column_type(handle_, column_) == SQLITE_NULL;
}

Query::Kind Query::kind() const {
  switch (sqlite3_column_type(handle_, column_)) {
    case SQLITE_INTEGER:
      return Kind::integer;
    case SQLITE_FLOAT:
      return Kind::number;
    case SQLITE_TEXT:
      return Kind::text;
    case SQLITE_BLOB:
      return Kind::blob;
    default:
      return Kind::null;
  }
}

std::int64_t Query::integer() {
  if (sqlite3_column_type(handle_, column_) != SQLITE_INTEGER)
    connection_.damaged("a whole number is missing");
  return sqlite3_column_int64(handle_, column_++);
}

double Query::number() {
  if (sqlite3_column_type(handle_, column_) != SQLITE_FLOAT) connection_.damaged("a number is missing");
  return sqlite3_column_double(handle_, column_++);
}

std::string_view Query::text() {
  if (sqlite3_column_type(handle_, column_) != SQLITE_TEXT) connection_.damaged("a text is missing");
  const auto* bytes = reinterpret_cast<const char*>(sqlite3_column_text(handle_, column_));
  if (!bytes) connection_.fail(SQLITE_NOMEM);
  return {bytes, static_cast<std::size_t>(sqlite3_column_bytes(handle_, column_++))};
}

std::string_view Query::blob() {
  if (sqlite3_column_type(handle_, column_) != SQLITE_BLOB) connection_.damaged("bytes are missing");
  const auto* bytes = static_cast<const char*>(sqlite3_column_blob(handle_, column_));
  const auto size = static_cast<std::size_t>(sqlite3_column_bytes(handle_, column_++));
  return bytes ? std::string_view(bytes, size) : std::string_view();
}

std::optional<double> Query::optional_number() {
  if (!is_null()) return number();
  ++column_;
  return std::nullopt;
}

std::optional<int> Query::optional_small_integer() {
  if (!is_null()) return small_integer();
  ++column_;
  return std::nullopt;
}

std::optional<bool> Query::optional_flag() {
  if (!is_null()) return flag();
  ++column_;
  return std::nullopt;
}

std::string_view Query::optional_text() {
  if (!is_null()) return text();
  ++column_;
  return {};
}

Connection::Connection(const std::filesystem::path& file, Mode mode, std::chrono::milliseconds patience,
                       const std::filesystem::path& known_as)
    : path_(known_as) {
  const int access = mode == Mode::read    ? SQLITE_OPEN_READONLY
                     : mode == Mode::write ? SQLITE_OPEN_READWRITE
                                           : SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE | SQLITE_OPEN_MEMORY;
  sqlite3* handle = nullptr;
  // An absolute name, so that no name is taken for a URI or for SQLite's own ":memory:".
  const std::string name = mode == Mode::memory ? ":memory:" : std::filesystem::absolute(file).string();
  const int code =
      sqlite3_open_v2(name.c_str(), &handle, access | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE, nullptr);
  handle_.reset(handle);
  if (code != SQLITE_OK) fail(code);
  lock_down(patience);
}

void Connection::lock_down(std::chrono::milliseconds patience) {
  for (const auto& [option, on] : {std::pair{SQLITE_DBCONFIG_DEFENSIVE, 1},
                                   {SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0},
                                   {SQLITE_DBCONFIG_DQS_DML, 0},
                                   {SQLITE_DBCONFIG_DQS_DDL, 0},
                                   {SQLITE_DBCONFIG_ENABLE_FKEY, 1},
                                   {SQLITE_DBCONFIG_ENABLE_TRIGGER, 1},
                                   {SQLITE_DBCONFIG_ENABLE_LOAD_EXTENSION, 0}}) {
    int now = -1;
    if (sqlite3_db_config(handle_.get(), option, on, &now) != SQLITE_OK || now != on)
      our_fault("this SQLite cannot be locked down", std::to_string(option));
  }
  for (const auto& [limit, most] : {std::pair{SQLITE_LIMIT_LENGTH, longest_value},
                                    {SQLITE_LIMIT_SQL_LENGTH, longest_sql},
                                    {SQLITE_LIMIT_ATTACHED, 0},
                                    {SQLITE_LIMIT_EXPR_DEPTH, 200},
                                    {SQLITE_LIMIT_VARIABLE_NUMBER, 100},
                                    {SQLITE_LIMIT_TRIGGER_DEPTH, 10}})
    sqlite3_limit(handle_.get(), limit, most);
  sqlite3_set_authorizer(handle_.get(), &may_do, permission_.get());
  sqlite3_busy_timeout(handle_.get(), static_cast<int>(patience.count()));
  // None of these reads the file. recursive_triggers: a REPLACE must not slip past the triggers on DELETE.
  for (const std::string_view pragma : {"PRAGMA cell_size_check = ON", "PRAGMA recursive_triggers = ON"})
    run(pragma);
}

Prepared& Connection::prepare(std::string_view sql) {
  if (const auto known = statements_.find(sql); known != statements_.end()) return known->second;
  sqlite3_stmt* handle = nullptr;
  const char* tail = nullptr;
  const int code = sqlite3_prepare_v3(handle_.get(), sql.data(), static_cast<int>(sql.size()),
                                      SQLITE_PREPARE_PERSISTENT, &handle, &tail);
  Prepared prepared;
  prepared.handle.reset(handle);
  if (code != SQLITE_OK) fail(code);
  if (!handle || tail != sql.data() + sql.size()) our_fault("not exactly one statement", std::string(sql));
  prepared.parameters = sqlite3_bind_parameter_count(handle);
  return statements_.emplace(sql, std::move(prepared)).first->second;
}

Query Connection::query(std::string_view sql) {
  return {*this, prepare(sql)};
}

void Connection::run_script(std::string_view sql) {
  const std::string text(sql);
  const int code = sqlite3_exec(handle_.get(), text.c_str(), nullptr, nullptr, nullptr);
  if (code != SQLITE_OK) fail(code);
}

std::int64_t Connection::single_integer(std::string_view sql) {
  Query row = query(sql);
  if (!row.next()) our_fault("no row", std::string(sql));
  return row.integer();
}

std::string Connection::raw_bytes(int offset, int count) const {
  sqlite3_file* file = nullptr;
  const int asked = sqlite3_file_control(handle_.get(), "main", SQLITE_FCNTL_FILE_POINTER, &file);
  if (asked != SQLITE_OK || !file || !file->pMethods) fail(asked == SQLITE_OK ? SQLITE_CANTOPEN : asked);
  std::string bytes(static_cast<std::size_t>(count), '\0');
  const int code = file->pMethods->xRead(file, bytes.data(), count, offset);
  if (code != SQLITE_OK && code != SQLITE_IOERR_SHORT_READ) fail(code);
  return bytes;
}

bool Connection::in_transaction() const {
  return sqlite3_get_autocommit(handle_.get()) == 0;
}
bool Connection::cannot_write() const {
  return sqlite3_db_readonly(handle_.get(), "main") != 0;
}
std::int64_t Connection::last_key() const {
  return sqlite3_last_insert_rowid(handle_.get());
}

void Connection::fail(int code) const {
  const std::string detail = handle_ ? sqlite3_errmsg(handle_.get()) : sqlite3_errstr(code);
  const std::string text = refusal_text(path_, code, detail);
  if (text.empty()) our_fault(sqlite3_errstr(code), detail);
  throw Refused(text);
}

void Connection::damaged(std::string_view what) const {
  throw Refused(refusal_text(path_, SQLITE_CORRUPT, what));
}

Transaction::Transaction(Connection& connection, Kind kind) : connection_(connection), inside_(connection.together()) {
  // SQLite would begin on a read-only file and fail only at the first change.
  if (kind == Kind::writing && connection_.cannot_write()) connection_.fail(SQLITE_READONLY);
  // After an error (a full disk) SQLite may have undone the whole: nothing may be kept as a part of it then.
  if (inside_ && !connection_.in_transaction())
    throw Refused(about(connection_.path(), "what was to be kept together was undone; try again"));
  connection_.run(inside_ ? "SAVEPOINT inside" : kind == Kind::writing ? "BEGIN IMMEDIATE" : "BEGIN");
}

Transaction::~Transaction() {
  // After an error (a full disk) SQLite may have rolled back by itself; a second ROLLBACK would be an error.
  if (!connection_.in_transaction() || (inside_ && done_)) return;
  try {
    connection_.run(inside_ ? "ROLLBACK TO inside" : "ROLLBACK");
    if (inside_) connection_.run("RELEASE inside");
  } catch (const std::exception&) {
    // Closing the connection undoes what is left; the error that led here is already on its way.
  }
}

void Transaction::commit() {
  connection_.run(inside_ ? "RELEASE inside" : "COMMIT");
  done_ = true;
}

}  // namespace steelyard::store
