#include <algorithm>
#include <set>

#include "store/canonical.hpp"
#include "store/filling.hpp"
#include "store/merging.hpp"
#include "store/naming.hpp"
#include "store/redact.hpp"

namespace steelyard::store {
namespace {

struct Revision {
  std::int64_t key = 0;
  Content content;
  bool sealed = false, redacted = false;
};

Revision revision_of(Connection& connection, std::int64_t key) {
  return {key, content_of(connection, key), is_sealed(connection, key), is_redacted(connection, key)};
}

bool same_identity(const Revision& a, const Revision& b) {
  return a.redacted || b.redacted || a.content.identity == b.content.identity;
}

bool is_same(const Revision& a, const Revision& b) {
  return a.content.rows == b.content.rows && same_identity(a, b);
}

/// True where all rows of `a` are rows of `b`, or become so by filling in.
bool is_part(const Revision& a, const Revision& b) {
  return same_identity(a, b) && are_part(a.content.rows, b.content.rows);
}

struct IdAndRevision {
  std::string id;
  int revision = 1;
};

IdAndRevision named(Connection& connection, std::int64_t key) {
  Query row = connection.query("SELECT id, revision FROM session WHERE session = ?");
  if (!row.put(key).next()) connection.damaged("a session is missing");
  IdAndRevision found;
  found.id = row.text();
  found.revision = row.small_integer();
  return found;
}

/// Those here with the same id and revision.
std::vector<Revision> those_here(Connection& here, const IdAndRevision& theirs) {
  std::vector<std::int64_t> keys;
  {
    Query row = here.query("SELECT session FROM session WHERE id = ? AND revision = ? ORDER BY session");
    row.put(theirs.id).put(theirs.revision);
    while (row.next()) keys.push_back(row.integer());
  }
  std::vector<Revision> all;
  for (const std::int64_t key : keys) all.push_back(revision_of(here, key));
  return all;
}

void take_over_redaction(Connection& other, std::int64_t their_key, Connection& here, std::int64_t key,
                         Merged& merged) {
  std::string why, by, at;
  {
    Query row = other.query("SELECT why, redacted_by, redacted_at FROM redaction WHERE session = ?");
    if (!row.put(their_key).next()) return;
    why = row.text();
    by = row.text();
    at = row.text();
  }
  if (is_redacted(here, key)) return;
  erase_identity(here, key, {why, by, at});
  ++merged.redactions;
}

/// Fills in what is empty here and adds the rows that are not here yet. Only tables whose rows can come later have any.
void extend(Connection& other, const Revision& theirs, Connection& here, const Revision& ours) {
  fill_in_from(other, theirs.key, here, ours.key);
  const Content filled = content_of(here, ours.key);
  const std::set<std::string, std::less<>> known(filled.rows.begin(), filled.rows.end());
  for (const SessionTable& table : session_tables().subspan(1))
    copy_rows(other, theirs.key, here, ours.key, table,
              [&](std::string_view row) { return !known.contains(row); });
}

std::int64_t copy_whole(Connection& other, std::int64_t key, Connection& here) {
  const std::int64_t copy = copy_session(other, key, here);
  for (const SessionTable& table : session_tables().subspan(1)) copy_rows(other, key, here, copy, table, {});
  return copy;
}

void check_copy(Connection& here, std::int64_t key, const Revision& theirs) {
  const Content copy = content_of(here, key);
  if (copy.rows != theirs.content.rows)
    here.damaged("a session reads back otherwise than it was in the other store; nothing was merged");
}

}  // namespace

std::int64_t bring_in(Connection& other, std::int64_t key, Connection& here, Merged& merged) {
  const Revision theirs = revision_of(other, key);
  const std::vector<Revision> ours = those_here(here, named(other, key));
  const auto there_already = std::find_if(ours.begin(), ours.end(), [&](const Revision& one) {
    return is_same(theirs, one) || (!theirs.sealed && is_part(theirs, one));
  });
  if (there_already != ours.end()) {
    take_over_redaction(other, key, here, there_already->key, merged);
    merged.already_there.push_back(name_of(here, there_already->key));
    return there_already->key;
  }
  const auto smaller = std::find_if(ours.begin(), ours.end(), [&](const Revision& one) {
    return !one.sealed && is_part(one, theirs);
  });
  std::int64_t copy = 0;
  if (smaller != ours.end()) {
    copy = smaller->key;
    extend(other, theirs, here, *smaller);
  } else {
    copy = copy_whole(other, key, here);
  }
  check_copy(here, copy, theirs);
  take_over_redaction(other, key, here, copy, merged);
  if (smaller != ours.end())
    merged.extended.push_back(name_of(here, copy));
  else
    (ours.empty() ? merged.added : merged.conflicts).push_back(name_of(here, copy));
  return copy;
}

}  // namespace steelyard::store
