#include <algorithm>
#include <charconv>

#include "digest/digest.hpp"
#include "store/deflate.hpp"
#include "store/impl.hpp"
#include "store/rows.hpp"
#include "store/verification.hpp"

namespace steelyard::store {
namespace {

constexpr std::size_t most_told = 10;

struct Revision {
  std::int64_t key = 0;
  std::string id;
  int revision = 1;
  bool redacted = false;
};

std::vector<Revision> all_revisions(Connection& connection) {
  std::vector<Revision> all;
  Query row = connection.query(
      "SELECT session, id, revision, EXISTS (SELECT 1 FROM redaction AS r WHERE r.session = s.session) "
      "FROM session AS s ORDER BY session");
  while (row.next()) {
    Revision& one = all.emplace_back();
    one.key = row.integer();
    one.id = row.text();
    one.revision = row.small_integer();
    one.redacted = row.flag();
  }
  return all;
}

/// Checks one revision and its seals.
class RevisionCheck {
 public:
  RevisionCheck(Connection& connection, const Revision& revision, Verification& found)
      : connection_(connection), revision_(revision), found_(found) {}

  void run() {
    content_ = content_of(connection_, revision_.key);
    text_ = content_text(content_);
    const std::vector<Seal> seals = seals_on(connection_, revision_.key);
    ++(seals.empty() ? found_.unsealed : found_.sealed);
    for (const Seal& seal : seals) check(seal);
    // What is not sealed has no hash to be held against, but must be a session that the program could have written.
    if (seals.empty()) read_session(connection_, revision_.key);
    if (revision_.redacted) check_erased();
    check_replaced();
  }

 private:
  std::string name() const { return revision_.id + "@" + std::to_string(revision_.revision); }
  void fault(std::string_view kind, std::string what) { add_fault(found_, kind, name(), std::move(what)); }

  void check(const Seal& seal) {
    if (seal.session_id != revision_.id || seal.revision != revision_.revision)
      fault("content_changed", "its seal " + std::to_string(seal.number) + " was set on session " + seal.session_id +
                                   ", revision " + std::to_string(seal.revision));
    if (seal.form != newest_form)
      fault("form_unknown", "its seal was taken over canonical form " + std::to_string(seal.form) +
                                ", which this program does not know; update steelyard");
    check_content(seal);
    check_identity(seal);
    check_result(seal);
  }

  void check_content(const Seal& seal) {
    const bool as_sealed = digest::sha256_hex(text_) == seal.content_hash;
    const auto copy = sealed_copy(seal.content_hash);
    if (as_sealed && copy != text_) fault("copy_changed", "the copy kept of its sealed content is missing or altered");
    if (as_sealed) return;
    if (!copy || digest::sha256_hex(*copy) != seal.content_hash) {
      fault("content_changed", "its content is not what was sealed, and the copy kept of that is altered too");
      return;
    }
    const auto differences = content_differences(rows_of_text(*copy), content_.rows);
    for (std::size_t i = 0; i < differences.size() && i < most_told; ++i) fault("content_changed", differences[i]);
    if (differences.size() > most_told)
      fault("content_changed", std::to_string(differences.size() - most_told) + " more differences");
    if (differences.empty()) fault("content_changed", "the order of its rows is not what was sealed");
  }

  std::optional<std::string> sealed_copy(const std::string& hash) {
    Query row = connection_.query("SELECT size, deflated FROM sealed_copy WHERE content_hash = ?");
    if (!row.put(hash).next()) return std::nullopt;
    const std::int64_t size = row.integer();
    return inflated(row.blob(), size);
  }

  void check_identity(const Seal& seal) {
    Query row = connection_.query("SELECT salt FROM identity_salt WHERE head = ?");
    if (!row.put(seal.head).next()) {
      if (!revision_.redacted) fault("identity_changed", "the salt of its identity is missing without a redaction");
      return;
    }
    if (identity_hash(row.text(), content_) != seal.identity_hash)
      fault("identity_changed", "client's name, reference, place, registration or VIN is not what was sealed");
  }

  void check_result(const Seal& seal) {
    if (seal.result_hash.empty()) return;
    Query row = connection_.query("SELECT size, deflated FROM issued_result WHERE result_hash = ?");
    if (!row.put(seal.result_hash).next()) {
      fault("result_changed", "the result issued with its seal is missing");
      return;
    }
    const std::int64_t size = row.integer();
    const auto text = inflated(row.blob(), size);
    if (!text || digest::sha256_hex(*text) != seal.result_hash)
      fault("result_changed", "the result issued with its seal was altered");
  }

  void check_erased() {
    Query row = connection_.query(
        "SELECT 1 FROM session AS s LEFT JOIN tow_vehicle AS v USING (session) LEFT JOIN trailer AS t USING (session) "
        "WHERE s.session = ? AND (s.client_name <> '' OR s.client_reference <> '' OR s.place <> '' OR "
        "v.registration <> '' OR v.vin <> '' OR t.registration <> '')");
    if (row.put(revision_.key).next())
      fault("redaction_incomplete", "its identity was erased and stands there again");
  }

  void check_replaced() {
    std::string replaces;
    {
      Query row = connection_.query("SELECT replaces FROM session WHERE session = ?");
      row.put(revision_.key).next();
      replaces = row.text();
    }
    const auto replaced = parse_replaced(replaces);
    if (!replaced) return;
    if (!is_here(*replaced))
      add_notice(found_, "replaced_missing", name(),
                 "the revision that it replaces (" + replaces + ") is not in this store");
  }

  /// Sealed with that content, or with that content now: one that was not sealed can be replaced too.
  bool is_here(const Replaced& replaced) {
    {
      Query row = connection_.query(
          "SELECT 1 FROM session AS s JOIN seal USING (session) WHERE s.id = ? AND s.revision = ? AND content_hash "
          "= ?");
      if (row.put(revision_.id).put(replaced.revision).put(replaced.content_hash).next()) return true;
    }
    for (const RevisionKey& one : revisions_of(connection_, revision_.id))
      if (one.revision == replaced.revision && content_hash(content_of(connection_, one.key)) == replaced.content_hash)
        return true;
    return false;
  }

  Connection& connection_;
  const Revision& revision_;
  Verification& found_;
  Content content_;
  std::string text_;
};

/// Record::name in a canonical row of table session: "session t10:small-0002;i1;…"; empty where it is none.
std::string named_in(std::string_view row) {
  constexpr std::string_view begin = "session t";
  if (!row.starts_with(begin)) return {};
  row.remove_prefix(begin.size());
  std::size_t length = 0;
  const auto end = std::from_chars(row.data(), row.data() + row.size(), length);
  row.remove_prefix(static_cast<std::size_t>(end.ptr - row.data()));
  if (end.ec != std::errc() || row.size() < 2 || length > row.size() - 2) return {};
  std::string name(row.substr(1, length));
  row.remove_prefix(1 + length);
  if (!row.starts_with(";i")) return name;
  return (name += '@') += row.substr(2, row.find(';', 2) - 2);
}

/// Copies and results without a seal: the seal was removed, or the row that a seal names was altered.
void check_orphans(Connection& connection, Verification& found) {
  Query copy = connection.query(
      "SELECT size, deflated FROM sealed_copy WHERE content_hash NOT IN (SELECT content_hash FROM seal)");
  while (copy.next()) {
    const std::int64_t size = copy.integer();
    const auto text = inflated(copy.blob(), size);
    const auto rows = text ? rows_of_text(*text) : std::vector<std::string>();
    add_fault(found, "seal_missing", rows.empty() ? std::string() : named_in(rows.front()),
              "a copy of sealed content belongs to no seal: a seal was removed");
  }
  Query result = connection.query(
      "SELECT result_hash FROM issued_result WHERE result_hash NOT IN (SELECT result_hash FROM seal)");
  while (result.next())
    add_fault(found, "seal_missing", {}, "an issued result (" + std::string(result.text().substr(0, 16)) +
                                             "…) belongs to no seal: a seal was removed");
}

void tell_changed_file(Connection& connection, const std::string& hash, Verification& found) {
  Query row = connection.query(
      "SELECT s.id, s.revision, a.seq, a.what FROM attachment AS a JOIN session AS s USING (session) WHERE a.sha256 = ? "
      "ORDER BY s.id, s.revision, a.seq");
  row.put(hash);
  bool told = false;
  for (; row.next(); told = true) {
    std::string name(row.text());
    (name += '@') += std::to_string(row.integer());
    std::string what = "the file of attachment " + std::to_string(row.integer());
    ((what += " (") += row.text()) += ") was altered";
    add_fault(found, "file_changed", name, std::move(what));
  }
  if (!told) add_fault(found, "file_changed", {}, "an attached file that no session has (" + hash.substr(0, 16) + "…) was altered");
}

void check_attached(Connection& connection, Verification& found) {
  {
    Query row = connection.query("SELECT sha256, bytes FROM attached_file");
    while (row.next()) {
      const std::string hash(row.text());
      if (digest::sha256_hex(row.blob()) != hash) tell_changed_file(connection, hash, found);
    }
  }
  Query row = connection.query(
      "SELECT s.id, s.revision, a.seq FROM attachment AS a JOIN session AS s USING (session) WHERE NOT EXISTS (SELECT 1 "
      "FROM attached_file AS f WHERE f.sha256 = a.sha256) AND NOT EXISTS (SELECT 1 FROM redaction AS r WHERE r.session "
      "= a.session)");
  while (row.next()) {
    std::string name(row.text());
    (name += '@') += std::to_string(row.integer());
    add_fault(found, "file_missing", name, "the file of attachment " + std::to_string(row.integer()) + " is missing");
  }
}

}  // namespace

void verify_contents(Connection& connection, const Store::Progress& progress, Verification& found) {
  const std::vector<Revision> revisions = all_revisions(connection);
  std::size_t done = 0;
  for (const Revision& revision : revisions) {
    try {
      RevisionCheck(connection, revision, found).run();
    } catch (const Refused& refused) {
      add_fault(found, "unreadable", revision.id + "@" + std::to_string(revision.revision), refused.what());
    }
    if (progress) progress(++done, revisions.size());
  }
  found.revisions = std::ssize(revisions);
}

void verify_files(Connection& connection, Verification& found) {
  check_orphans(connection, found);
  check_attached(connection, found);
}

}  // namespace steelyard::store
