#include "store/filling.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <vector>

#include "store/canonical.hpp"

namespace steelyard::store {
namespace {

constexpr std::string_view zero_after[] = {"zero_after_kg", "zero_after_figure", "zero_after_unit"};
constexpr std::string_view coupling_height[] = {"coupling_height_mm",       "coupling_height_figure",
                                                "coupling_height_unit",     "coupling_height_u_mm",
                                                "coupling_height_u_figure", "coupling_height_u_unit"};
constexpr std::string_view slope[] = {"slope", "slope_u"};
constexpr FilledLater all[] = {{"scale", zero_after}, {"state", coupling_height}, {"state", slope}};

std::span<const Column> columns_of(std::string_view table) {
  for (const SessionTable& known : session_tables())
    if (known.name == table) return known.columns;
  return {};
}

/// The items of a canonical row as they stand there; empty where it is none.
std::vector<std::string_view> items_of(std::string_view row) {
  std::vector<std::string_view> items;
  row.remove_prefix(std::min(row.size(), row.find(' ') + 1));
  while (!row.empty() && row.front() != '\n') {
    std::size_t size = row.find(';');
    if (row.front() == 't') {
      std::size_t length = 0;
      const auto digits = std::from_chars(row.data() + 1, row.data() + row.size(), length);
      size = static_cast<std::size_t>(digits.ptr - row.data()) + 1 + length;  // the colon, the bytes
    }
    if (size >= row.size()) return {};
    items.push_back(row.substr(0, size));
    row.remove_prefix(size + 1);
  }
  return items;
}

/// Which group of its table a column belongs to.
const FilledLater* group_of(std::string_view table, std::string_view column) {
  for (const FilledLater& group : all)
    if (group.table == table && std::find(group.columns.begin(), group.columns.end(), column) != group.columns.end())
      return &group;
  return nullptr;
}

std::string joined(std::span<const std::string_view> columns, std::string_view after_each) {
  std::string text;
  for (const std::string_view column : columns) ((text += text.empty() ? "" : ", ") += column) += after_each;
  return text;
}

}  // namespace

std::span<const FilledLater> filled_later() {
  return all;
}

bool is_filled_later(std::string_view table, std::string_view column) {
  return group_of(table, column) != nullptr;
}

bool becomes(std::string_view row, std::string_view whole) {
  const std::string_view table = row.substr(0, row.find(' '));
  if (table != whole.substr(0, whole.find(' '))) return false;
  const auto columns = columns_of(table);
  const auto before = items_of(row), after = items_of(whole);
  if (before.size() != columns.size() || after.size() != columns.size()) return false;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (before[i] == after[i]) continue;
    const FilledLater* const group = group_of(table, columns[i].name);
    if (!group) return false;
    // A group is given whole: a value without u takes no u later.
    for (std::size_t k = 0; k < columns.size(); ++k)
      if (group_of(table, columns[k].name) == group && before[k] != "n") return false;
  }
  return true;
}

void fill_in_from(Connection& from, std::int64_t from_session, Connection& to, std::int64_t to_session) {
  const Permitting filling(to, Connection::Permission::filling);
  for (const FilledLater& group : all) {
    const std::string table(group.table), first(group.columns.front());
    const std::string read =
        "SELECT " + joined(group.columns, "") + ", seq FROM " + table + " WHERE session = ? AND " + first +
        " IS NOT NULL";
    const std::string write = "UPDATE " + table + " SET " + joined(group.columns, " = ?") +
                              " WHERE seq = ? AND session = ? AND " + first + " IS NULL";
    Query row = from.query(read);
    row.put(from_session);
    while (row.next()) {
      Query filled = to.query(write);
      for (std::size_t i = 0; i <= group.columns.size(); ++i) hand_over(row, filled);
      filled.put(to_session).run();
    }
  }
}

}  // namespace steelyard::store
