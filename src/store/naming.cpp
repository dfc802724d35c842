#include "store/naming.hpp"

#include <algorithm>
#include <charconv>
#include <tuple>

#include "digest/digest.hpp"
#include "store/canonical.hpp"
#include "store/refusal.hpp"

namespace steelyard::store {
namespace {

constexpr std::size_t shortest_hash = 4, hash_in_names = 8;

/// A row with what its rank among rivals rests on.
struct Ranked {
  RevisionKey row;
  std::string sealed_at;  // empty where it is not sealed
  std::string hash;       // name_hash; only where it has rivals
};

std::vector<Ranked> rows_of(Connection& connection, std::string_view id) {
  std::vector<Ranked> all;
  Query row = connection.query(
      "SELECT s.session, s.revision, (SELECT min(sealed_at) FROM seal WHERE session = s.session) FROM session AS s "
      "WHERE s.id = ? ORDER BY s.revision");
  row.put(id);
  while (row.next()) {
    Ranked& one = all.emplace_back();
    one.row.key = row.integer();
    one.row.revision = row.small_integer();
    one.sealed_at = row.optional_text();
  }
  return all;
}

/// Rivals may differ in identity alone, which the content's hash leaves out.
std::string name_hash(Connection& connection, std::int64_t key) {
  const Content content = content_of(connection, key);
  return digest::sha256_hex(content_text(content) + content.identity);
}

bool has_rivals(const std::vector<Ranked>& rows, const Ranked& one) {
  return std::any_of(rows.begin(), rows.end(), [&](const Ranked& other) {
    return other.row.revision == one.row.revision && other.row.key != one.row.key;
  });
}

/// What stands must not depend on the order in which stores were merged: never on keys.
bool stands_before(const Ranked& a, const Ranked& b) {
  const auto rank = [](const Ranked& one) {
    return std::tuple(one.row.revision, one.sealed_at.empty(), std::string_view(one.sealed_at),
                      std::string_view(one.hash));
  };
  return rank(a) < rank(b);
}

/// Of rivals, an unsealed one that is part of another came here before that other did: it says nothing more.
void drop_absorbed(Connection& connection, std::vector<Ranked>& rows) {
  std::vector<std::int64_t> absorbed;
  for (const Ranked& one : rows) {
    if (!one.sealed_at.empty() || !has_rivals(rows, one)) continue;
    const Content content = content_of(connection, one.row.key);
    for (const Ranked& other : rows) {
      if (other.row.revision != one.row.revision || other.row.key == one.row.key) continue;
      const Content whole = content_of(connection, other.row.key);
      if (whole.identity == content.identity && content.rows != whole.rows &&
          are_part(content.rows, whole.rows))
        absorbed.push_back(one.row.key);
    }
  }
  std::erase_if(rows, [&](const Ranked& one) {
    return std::find(absorbed.begin(), absorbed.end(), one.row.key) != absorbed.end();
  });
}

std::vector<Ranked> ranked_rows(Connection& connection, std::string_view id) {
  std::vector<Ranked> rows = rows_of(connection, id);
  drop_absorbed(connection, rows);
  for (Ranked& one : rows)
    if (has_rivals(rows, one)) one.hash = name_hash(connection, one.row.key);
  std::sort(rows.begin(), rows.end(), stands_before);
  return rows;
}

std::optional<std::int64_t> standing(const std::vector<Ranked>& rows) {
  if (rows.empty()) return std::nullopt;
  const int highest = rows.back().row.revision;
  return std::find_if(rows.begin(), rows.end(), [&](const Ranked& one) { return one.row.revision == highest; })
      ->row.key;
}

/// What follows the '@' of a name.
struct Suffix {
  int revision = 0;
  std::string_view hash;
};

std::optional<Suffix> parse_suffix(std::string_view text) {
  Suffix suffix;
  const char* const last = text.data() + text.size();
  const auto end = std::from_chars(text.data(), last, suffix.revision);
  if (end.ec != std::errc() || suffix.revision < 1) return std::nullopt;
  text.remove_prefix(static_cast<std::size_t>(end.ptr - text.data()));
  if (text.empty()) return suffix;
  if (text.front() != '.' || text.size() < shortest_hash + 1) return std::nullopt;
  suffix.hash = text.substr(1);
  return suffix;
}

std::optional<std::int64_t> find_revision(Connection& connection, std::string_view id, const Suffix& suffix) {
  for (const Ranked& one : ranked_rows(connection, id)) {
    if (one.row.revision != suffix.revision) continue;
    if (suffix.hash.empty()) return one.row.key;
    const std::string hash = one.hash.empty() ? name_hash(connection, one.row.key) : one.hash;
    if (hash.starts_with(suffix.hash)) return one.row.key;
  }
  return std::nullopt;
}

}  // namespace

std::optional<std::int64_t> find_session(Connection& connection, std::string_view name) {
  if (const auto key = standing(ranked_rows(connection, name))) return key;
  const auto at = name.rfind('@');
  if (at == std::string_view::npos) return std::nullopt;
  const auto suffix = parse_suffix(name.substr(at + 1));
  return suffix ? find_revision(connection, name.substr(0, at), *suffix) : std::nullopt;
}

std::int64_t key_of(Connection& connection, std::string_view name) {
  if (const auto key = find_session(connection, name)) return *key;
  throw Absent(about(connection.path(), "there is no session " + std::string(name) +
                                             "; steelyard list shows those there are"));
}

std::vector<RevisionKey> revisions_of(Connection& connection, std::string_view id) {
  std::vector<RevisionKey> all;
  for (const Ranked& one : ranked_rows(connection, id)) all.push_back(one.row);
  return all;
}

std::string name_of(Connection& connection, std::int64_t key) {
  std::string id;
  {
    Query row = connection.query("SELECT id FROM session WHERE session = ?");
    if (!row.put(key).next()) connection.damaged("a session is missing");
    id = row.text();
  }
  const std::vector<Ranked> rows = ranked_rows(connection, id);
  for (const Ranked& one : rows) {
    if (one.row.key != key) continue;
    std::string name = id + "@" + std::to_string(one.row.revision);
    if (!one.hash.empty()) (name += '.') += one.hash.substr(0, hash_in_names);
    return name;
  }
  // One that a rival has absorbed goes by the name of its revision.
  int revision = 0;
  {
    Query row = connection.query("SELECT revision FROM session WHERE session = ?");
    row.put(key).next();
    revision = row.small_integer();
  }
  return id + "@" + std::to_string(revision);
}

bool is_sealed(Connection& connection, std::int64_t key) {
  return connection.query("SELECT 1 FROM seal WHERE session = ? LIMIT 1").put(key).next();
}

void check_open(Connection& connection, std::int64_t key) {
  if (is_sealed(connection, key))
    throw Closed(about(connection.path(), "session " + name_of(connection, key) +
                                               " is sealed and takes nothing more; open a new revision with "
                                               "steelyard amend, then repeat"));
  Query row = connection.query(
      "SELECT max(later.revision) FROM session AS this JOIN session AS later ON later.id = this.id WHERE "
      "this.session = ? AND later.revision > this.revision");
  row.put(key).next();
  if (const auto later = row.optional_small_integer())
    throw Closed(about(connection.path(), "session " + name_of(connection, key) + " was replaced by revision " +
                                               std::to_string(*later) + " and takes nothing more; name that one"));
}

}  // namespace steelyard::store
