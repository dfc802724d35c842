// Canonical rows read back: to tell people what differs, and to copy rows from one key to another.
#include <algorithm>
#include <bit>
#include <charconv>
#include <map>
#include <optional>

#include "store/canonical.hpp"
#include "units/number.hpp"

namespace steelyard::store {
namespace {

/// One row, its items as people read them.
struct ReadRow {
  std::string table;
  std::vector<std::string> values;
};

std::optional<std::size_t> whole_number(std::string_view& text) {
  std::size_t value = 0;
  const auto end = std::from_chars(text.data(), text.data() + text.size(), value);
  if (end.ec != std::errc()) return std::nullopt;
  text.remove_prefix(static_cast<std::size_t>(end.ptr - text.data()));
  return value;
}

std::optional<std::string> until_semicolon(std::string_view& text) {
  const auto end = text.find(';');
  if (end == std::string_view::npos) return std::nullopt;
  std::string part(text.substr(0, end));
  text.remove_prefix(end + 1);
  return part;
}

std::optional<std::string> number_of_bits(std::string_view digits) {
  std::uint64_t bits = 0;
  const auto end = std::from_chars(digits.data(), digits.data() + digits.size(), bits, 16);
  if (end.ec != std::errc() || end.ptr != digits.data() + digits.size()) return std::nullopt;
  return units::shortest(std::bit_cast<double>(bits));
}

/// The next item of `text`, which it takes off; nothing where it is no item.
std::optional<std::string> take_item(std::string_view& text) {
  if (text.empty()) return std::nullopt;
  const char kind = text.front();
  text.remove_prefix(1);
  if (kind == 't') {
    const auto size = whole_number(text);
    if (!size || text.size() < *size + 2 || text.front() != ':' || text[*size + 1] != ';') return std::nullopt;
    std::string value(text.substr(1, *size));
    text.remove_prefix(*size + 2);
    return value;
  }
  const auto part = until_semicolon(text);
  if (!part) return std::nullopt;
  if (kind == 'n') return "nothing";
  if (kind == 'i') return part;
  if (kind == 'r') return number_of_bits(*part);
  return std::nullopt;
}

/// Takes the first row off `text`.
std::optional<ReadRow> take_row(std::string_view& text) {
  const auto space = text.find(' ');
  if (space == std::string_view::npos) return std::nullopt;
  ReadRow row{std::string(text.substr(0, space)), {}};
  text.remove_prefix(space + 1);
  while (!text.empty() && text.front() != '\n') {
    auto value = take_item(text);
    if (!value) return std::nullopt;
    row.values.push_back(std::move(*value));
  }
  if (text.empty()) return std::nullopt;
  text.remove_prefix(1);
  return row;
}

std::vector<std::string_view> facts_of(std::string_view table) {
  std::vector<std::string_view> names;
  for (const SessionTable& known : session_tables())
    if (known.name == table)
      for (const Column& column : known.columns)
        if (column.role == Role::fact) names.push_back(column.name);
  return names;
}

std::string_view order_of(std::string_view table) {
  for (const SessionTable& known : session_tables())
    if (known.name == table) return known.order;
  return {};
}

std::string value_of(const ReadRow& row, std::string_view column) {
  const auto names = facts_of(row.table);
  const auto found = std::find(names.begin(), names.end(), column);
  const auto place = static_cast<std::size_t>(found - names.begin());
  return place < row.values.size() ? row.values[place] : std::string();
}

/// The values of the columns that `order` lists, joined.
std::string key_of_row(const ReadRow& row) {
  std::string key;
  std::string_view order = order_of(row.table);
  while (!order.empty()) {
    const auto comma = order.find(", ");
    (key += key.empty() ? "" : " ") += value_of(row, order.substr(0, comma));
    order.remove_prefix(comma == std::string_view::npos ? order.size() : comma + 2);
  }
  return key;
}

/// What people call a row: "reading r3", "rig_limit 2 (tow_rear)".
std::string name_of_row(const ReadRow& row) {
  std::string name = row.table;
  for (const auto& [table, column] : {std::pair{"reading", "id"}, {"scale", "id"}, {"state", "name"}})
    if (row.table == table) return name + " " + value_of(row, column);
  const std::string key = key_of_row(row);
  if (!key.empty()) name += " " + key;
  if (row.table == "rig_limit") name += " (" + value_of(row, "name") + ")";
  if (row.table == "strike") return "strike of reading number " + key;
  return name;
}

using RowsByKey = std::map<std::pair<std::string, std::string>, ReadRow>;

RowsByKey by_key(const std::vector<std::string>& rows) {
  RowsByKey all;
  for (const std::string& text : rows) {
    std::string_view rest = text;
    if (auto row = take_row(rest)) {
      auto key = std::pair{row->table, key_of_row(*row)};
      all.emplace(std::move(key), std::move(*row));
    }
  }
  return all;
}

void compare_row(const ReadRow& sealed, const ReadRow& present, std::vector<std::string>& differences) {
  const auto names = facts_of(sealed.table);
  for (std::size_t i = 0; i < names.size() && i < sealed.values.size() && i < present.values.size(); ++i)
    if (sealed.values[i] != present.values[i])
      differences.push_back(name_of_row(sealed) + ": " + std::string(names[i]) + " is " + present.values[i] +
                            ", sealed as " + sealed.values[i]);
}

std::string insert_statement(const SessionTable& table, bool with_key) {
  std::string columns = with_key ? "session" : "", marks = with_key ? "?" : "";
  for (const Column& column : table.columns) {
    (columns += columns.empty() ? "" : ", ") += column.name;
    marks += marks.empty() ? "?" : ", ?";
  }
  std::string sql = "INSERT INTO ";
  sql += table.name;
  return sql + " (" + columns + ") VALUES (" + marks + ")";
}

std::string select_all(const SessionTable& table) {
  std::string columns;
  for (const Column& column : table.columns) (columns += columns.empty() ? "" : ", ") += column.name;
  std::string sql = "SELECT " + columns + " FROM ";
  sql += table.name;
  sql += " WHERE session = ?";
  if (!table.order.empty()) (sql += " ORDER BY ") += table.order;
  return sql;
}

/// The canonical text of the row that `row` is on, whose columns are then taken from the first again.
std::string canonical_row(const SessionTable& table, Query& row) {
  std::string text(table.name);
  text += ' ';
  for (const Column& column : table.columns) {
    if (column.role == Role::fact)
      append_item(text, row);
    else
      row.skip(1);
  }
  row.skip(-static_cast<int>(table.columns.size()));
  return text + '\n';
}

}  // namespace

std::vector<std::string> rows_of_text(std::string_view text) {
  std::vector<std::string> rows;
  const auto title = text.find('\n');
  if (title == std::string_view::npos) return rows;
  text.remove_prefix(title + 1);
  while (!text.empty()) {
    const std::string_view before = text;
    if (!take_row(text)) return {};
    rows.emplace_back(before.substr(0, before.size() - text.size()));
  }
  return rows;
}

std::vector<std::string> content_differences(const std::vector<std::string>& sealed,
                                             const std::vector<std::string>& present) {
  std::vector<std::string> differences;
  const RowsByKey before = by_key(sealed), now = by_key(present);
  for (const auto& [key, row] : before) {
    const auto found = now.find(key);
    if (found == now.end())
      differences.push_back(name_of_row(row) + " is missing");
    else
      compare_row(row, found->second, differences);
  }
  for (const auto& [key, row] : now)
    if (!before.contains(key)) differences.push_back(name_of_row(row) + " was added");
  return differences;
}

void hand_over(Query& from, Query& to) {
  switch (from.kind()) {
    case Query::Kind::null:
      from.skip(1);
      to.put_null();
      break;
    case Query::Kind::integer:
      to.put(from.integer());
      break;
    case Query::Kind::number:
      to.put(from.number());
      break;
    case Query::Kind::text:
      to.put(from.text());
      break;
    case Query::Kind::blob:
      to.put_blob(from.blob());
      break;
  }
}

void copy_rows(Connection& from, std::int64_t from_session, Connection& to, std::int64_t to_session,
               const SessionTable& table, const std::function<bool(std::string_view row)>& wanted) {
  const std::string read = select_all(table), write = insert_statement(table, true);
  Query row = from.query(read);
  row.put(from_session);
  while (row.next()) {
    if (wanted && !wanted(canonical_row(table, row))) continue;
    Query added = to.query(write);
    added.put(to_session);
    for (std::size_t i = 0; i < table.columns.size(); ++i) hand_over(row, added);
    added.run();
  }
}

std::int64_t copy_session(Connection& from, std::int64_t from_session, Connection& to) {
  const SessionTable& table = session_tables().front();
  const std::string read = select_all(table), write = insert_statement(table, false);
  Query row = from.query(read);
  if (!row.put(from_session).next()) from.damaged("a session is missing");
  Query added = to.query(write);
  for (std::size_t i = 0; i < table.columns.size(); ++i) hand_over(row, added);
  added.run();
  return to.last_key();
}

}  // namespace steelyard::store
