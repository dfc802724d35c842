// The canonical content of a session, which a seal covers, and the rows that make a session.
//
// Form 1. Tables in the order of session_tables(), rows in the order of their keys, columns in the order given there.
// A row is
//   the table's name, ' ', an item for each column that is a fact, a line end
// where an item is "n;" for NULL, "i", decimal digits, ';' for a whole number, "r", the 16 hexadecimal digits of its
// IEEE 754 bits, ';' for a number, "t", the length in bytes in decimal digits, ':', the bytes, ';' for a text.
// The canonical content is "steelyard-content/1", a line end, and all rows; its hash is SHA-256. Left out are the key
// of the session in this file, columns that only this file needs (local), and identity, whose canonical text is
// "steelyard-identity/1", a line end, and the rows of the tables that have identity columns, of these columns alone.
// A later form may add tables and columns; a seal says which form it was taken over.
#pragma once

#include <cstdint>
#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "store/sqlite.hpp"

namespace steelyard::store {

enum class Role { fact, identity, local };

struct Column {
  std::string_view name;
  Role role = Role::fact;
};

struct SessionTable {
  std::string_view name, order;  // ORDER BY within a session; empty where there is one row
  std::span<const Column> columns;  // all but the session's key in this file
};

inline constexpr int newest_form = 1;

/// Every table with rows of a session, each after those that it refers to.
std::span<const SessionTable> session_tables();

struct Content {
  std::vector<std::string> rows;  // each with its line end
  std::string identity;
};

Content content_of(Connection& connection, std::int64_t session);

/// The canonical content as one text.
std::string content_text(const Content& content);
/// SHA-256 of content_text.
std::string content_hash(const Content& content);

/// True where every row of one is a row of the other, or becomes one of them by filling in (filling.hpp), whatever
/// their order.
bool are_part(std::vector<std::string> rows, std::vector<std::string> whole);

/// Splits a canonical content into its rows; empty where it is none.
std::vector<std::string> rows_of_text(std::string_view text);

/// What differs between sealed and present rows, for people: "reading r3: load_kg is 641, sealed as 655".
std::vector<std::string> content_differences(const std::vector<std::string>& sealed,
                                             const std::vector<std::string>& present);

/// Adds the item of the column that comes next, as above.
void append_item(std::string& out, Query& row);

/// Hands the column that comes next over as it is.
void hand_over(Query& from, Query& to);

/// Copies a session's rows of one table from one connection to another (which may be the same) under another key.
/// `wanted` says of each canonical row whether it is copied; none copies all. For `session` itself: copy_session.
void copy_rows(Connection& from, std::int64_t from_session, Connection& to, std::int64_t to_session,
               const SessionTable& table, const std::function<bool(std::string_view row)>& wanted);
/// Copies the row of table session, with every column; gives its new key.
std::int64_t copy_session(Connection& from, std::int64_t from_session, Connection& to);

}  // namespace steelyard::store
