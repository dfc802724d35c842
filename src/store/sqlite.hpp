// A thin layer on SQLite for this part alone: a connection, its statements, a transaction.
//
// Every statement is prepared once for each text and kept; values go in only as bound parameters. Errors
// become Refused (refusal.hpp) where the file, the disk or another program is at fault, and std::logic_error
// where we are. A connection and its statements belong to one thread.
#pragma once

#include <chrono>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>

#include "store/store.hpp"

struct sqlite3;
struct sqlite3_stmt;

namespace steelyard::store {

struct CloseConnection {
  void operator()(sqlite3* handle) const;
};
struct FinishStatement {
  void operator()(sqlite3_stmt* handle) const;
};

struct Prepared {
  std::unique_ptr<sqlite3_stmt, FinishStatement> handle;
  int parameters = 0;
  bool in_use = false;
};

class Connection;

/// One use of a statement: put() the parameters in order, then run(), or next() for each row and take the
/// columns in order. Texts are not copied: what is put must live until the use is over.
class Query {
 public:
  Query(Connection& connection, Prepared& prepared);
  Query(const Query&) = delete;
  Query& operator=(const Query&) = delete;
  ~Query();

  Query& put(std::int64_t value);
  Query& put(int value) { return put(std::int64_t{value}); }
  Query& put(bool value) { return put(std::int64_t{value ? 1 : 0}); }
  /// A number that is not finite is refused: SQLite would keep NaN as NULL.
  Query& put(double value);
  Query& put(std::string_view text);
  Query& put(const std::string& text) { return put(std::string_view(text)); }
  Query& put(std::string&& text) = delete;  // would be gone before the statement runs
  Query& put(const char* text) = delete;    // would pass for a bool
  Query& put_blob(std::string_view bytes);
  Query& put_null();
  template <class Value>
  Query& put(const std::optional<Value>& value) {
    return value ? put(*value) : put_null();
  }

  /// A statement that gives no rows.
  void run();
  /// True while there is a row; its columns are then taken from the first again.
  bool next();

  [[nodiscard]] bool is_null() const;  // of the column that comes next
  enum class Kind { null, integer, number, text, blob };
  [[nodiscard]] Kind kind() const;  // of the column that comes next
  void skip(int columns) { column_ += columns; }
  std::int64_t integer();
  int small_integer() { return static_cast<int>(integer()); }
  bool flag() { return integer() != 0; }
  double number();
  /// Lives until the next row.
  std::string_view text();
  /// Lives until the next row.
  std::string_view blob();
  std::optional<double> optional_number();
  std::optional<int> optional_small_integer();
  std::optional<bool> optional_flag();
  /// Empty where the column is NULL.
  std::string_view optional_text();

  Connection& connection() { return connection_; }

 private:
  void check_parameters() const;
  void check(int code) const;
  Connection& connection_;
  Prepared& prepared_;
  sqlite3_stmt* handle_;
  int parameter_ = 0, column_ = 0;
};

class Connection {
 public:
  enum class Mode { read, write, memory };
  /// Opens an existing file (a new one in memory) and locks the connection down; reads nothing of it yet.
  /// `known_as` is the name that messages use.
  Connection(const std::filesystem::path& file, Mode mode, std::chrono::milliseconds patience,
             const std::filesystem::path& known_as);

  Query query(std::string_view sql);
  /// A statement without parameters or rows.
  void run(std::string_view sql) { query(sql).run(); }
  /// Several statements, for migrations alone.
  void run_script(std::string_view sql);
  std::int64_t single_integer(std::string_view sql);

  /// Bytes of the file as they lie there, without a lock; zeros beyond its end.
  [[nodiscard]] std::string raw_bytes(int offset, int count) const;
  [[nodiscard]] bool in_transaction() const;
  [[nodiscard]] bool cannot_write() const;
  /// While several transactions are kept together (together.hpp): each is a part of one around them.
  [[nodiscard]] bool together() const { return together_; }
  void set_together(bool together) { together_ = together; }
  [[nodiscard]] std::int64_t last_key() const;
  [[nodiscard]] const std::filesystem::path& path() const { return path_; }
  [[nodiscard]] sqlite3* handle() const { return handle_.get(); }  // for the backup API

  /// What statements may do beyond reading and adding rows, each more than the one before it: fill in the columns of
  /// filling.hpp, redact, migrate. Everything else is refused while it is prepared.
  enum class Permission { adding, filling, redacting, migrating };

  /// Throws what an SQLite result code means for the user of this file.
  [[noreturn]] void fail(int code) const;
  /// Throws Refused: the file's content contradicts itself.
  [[noreturn]] void damaged(std::string_view what) const;

 private:
  friend class Query;
  friend class Permitting;
  void lock_down(std::chrono::milliseconds patience);
  Prepared& prepare(std::string_view sql);

  struct TextHash : std::hash<std::string_view> {
    using is_transparent = void;
  };
  std::filesystem::path path_;
  bool together_ = false;
  // On the heap: SQLite keeps its address.
  std::unique_ptr<Permission> permission_ = std::make_unique<Permission>(Permission::adding);
  std::unique_ptr<sqlite3, CloseConnection> handle_;
  std::unordered_map<std::string, Prepared, TextHash, std::equal_to<>> statements_;
};

/// While it lives the connection may fill in (UPDATE of some columns), redact (UPDATE, DELETE) or migrate (change the
/// schema as well).
class Permitting {
 public:
  Permitting(Connection& connection, Connection::Permission permission)
      : permission_(*connection.permission_), before_(permission_) {
    permission_ = permission;
  }
  Permitting(const Permitting&) = delete;
  Permitting& operator=(const Permitting&) = delete;
  ~Permitting() { permission_ = before_; }

 private:
  Connection::Permission& permission_;
  Connection::Permission before_;
};

/// Undone on destruction unless commit() was called. Within Together it is a part of the one around it, undone by itself
/// and kept with the others.
class Transaction {
 public:
  enum class Kind { reading, writing };
  Transaction(Connection& connection, Kind kind);
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;
  ~Transaction();
  void commit();

 private:
  Connection& connection_;
  bool inside_ = false, done_ = false;
};

}  // namespace steelyard::store
