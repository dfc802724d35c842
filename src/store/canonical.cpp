#include "store/canonical.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <charconv>
#include <iterator>
#include <optional>

#include "digest/digest.hpp"
#include "store/filling.hpp"

namespace steelyard::store {
namespace {

constexpr std::string_view content_title = "steelyard-content/1\n", identity_title = "steelyard-identity/1\n";

void append_decimal(std::string& out, std::int64_t value) {
  std::array<char, 24> digits{};
  const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), value);
  out.append(digits.data(), end.ptr);
}

void append_bits(std::string& out, double value) {
  constexpr std::string_view digits = "0123456789abcdef";
  const auto bits = std::bit_cast<std::uint64_t>(value);
  for (int shift = 60; shift >= 0; shift -= 4) out += digits[bits >> shift & 15];
}

/// What is read of a session's rows of one table, in one statement each: facts in order, then identity.
struct Reading {
  std::string_view name;
  std::string facts, identity;  // statements; empty where the table has no such columns
};

std::string select(const SessionTable& table, Role role) {
  std::string columns;
  for (const Column& column : table.columns)
    if (column.role == role) (columns += columns.empty() ? "" : ", ") += column.name;
  if (columns.empty()) return {};
  std::string sql = "SELECT " + columns + " FROM ";
  sql += table.name;
  sql += " WHERE session = ?";
  if (!table.order.empty()) (sql += " ORDER BY ") += table.order;
  return sql;
}

const std::vector<Reading>& readings() {
  static const std::vector<Reading> all = [] {
    std::vector<Reading> made;
    for (const SessionTable& table : session_tables())
      made.push_back({table.name, select(table, Role::fact), select(table, Role::identity)});
    return made;
  }();
  return all;
}

int columns_of(const SessionTable& table, Role role) {
  return static_cast<int>(std::count_if(table.columns.begin(), table.columns.end(),
                                        [role](const Column& column) { return column.role == role; }));
}

std::string row_text(std::string_view table, Query& row, int columns) {
  std::string text(table);
  text += ' ';
  for (int i = 0; i < columns; ++i) append_item(text, row);
  text += '\n';
  return text;
}

}  // namespace

void append_item(std::string& out, Query& row) {
  switch (row.kind()) {
    case Query::Kind::null:
      out += 'n';
      row.skip(1);
      break;
    case Query::Kind::integer:
      append_decimal(out += 'i', row.integer());
      break;
    case Query::Kind::number:
      append_bits(out += 'r', row.number());
      break;
    case Query::Kind::text: {
      const std::string_view text = row.text();
      append_decimal(out += 't', std::ssize(text));
      (out += ':') += text;
      break;
    }
    case Query::Kind::blob:
      row.connection().damaged("bytes stand where a text or a number belongs");
  }
  out += ';';
}

Content content_of(Connection& connection, std::int64_t session) {
  Content content;
  content.identity = identity_title;
  const auto tables = session_tables();
  for (std::size_t i = 0; i < tables.size(); ++i) {
    const Reading& reading = readings()[i];
    {
      Query row = connection.query(reading.facts);
      row.put(session);
      const int columns = columns_of(tables[i], Role::fact);
      while (row.next()) content.rows.push_back(row_text(reading.name, row, columns));
    }
    if (reading.identity.empty()) continue;
    Query row = connection.query(reading.identity);
    row.put(session);
    const int columns = columns_of(tables[i], Role::identity);
    while (row.next()) content.identity += row_text(reading.name, row, columns);
  }
  return content;
}

std::string content_text(const Content& content) {
  std::string text(content_title);
  for (const std::string& row : content.rows) text += row;
  return text;
}

std::string content_hash(const Content& content) {
  return digest::sha256_hex(content_text(content));
}

bool are_part(std::vector<std::string> rows, std::vector<std::string> whole) {
  std::sort(rows.begin(), rows.end());
  std::sort(whole.begin(), whole.end());
  std::vector<std::string> missing;
  std::set_difference(rows.begin(), rows.end(), whole.begin(), whole.end(), std::back_inserter(missing));
  // What was filled in since stands in the whole otherwise; a row has its number in it, so none is taken twice.
  return std::all_of(missing.begin(), missing.end(), [&](const std::string& row) {
    return std::any_of(whole.begin(), whole.end(), [&](const std::string& other) { return becomes(row, other); });
  });
}

}  // namespace steelyard::store
