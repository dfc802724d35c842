#include "store/redact.hpp"

#include "digest/digest.hpp"
#include "store/impl.hpp"
#include "store/instant.hpp"
#include "store/refusal.hpp"
#include "store/seal.hpp"
#include "store/verification.hpp"

namespace steelyard::store {
namespace {

[[noreturn]] void refuse(const Connection& connection, std::string_view what) {
  throw Refused(about(connection.path(), what));
}

std::int64_t count(Connection& connection, std::string_view sql) {
  return connection.single_integer(sql);
}

void check_reason(const Connection& connection, std::string_view why) {
  if (why.find_first_not_of(' ') == std::string_view::npos)
    refuse(connection, "an erasure needs a reason: say why");
}

/// Reads back that nothing of it is left.
void check_erased(Connection& connection, std::int64_t session) {
  const bool left =
      connection
          .query("SELECT 1 FROM session AS s LEFT JOIN tow_vehicle AS v USING (session) LEFT JOIN trailer AS t USING "
                 "(session) WHERE s.session = ? AND (s.client_name <> '' OR s.client_reference <> '' OR s.place <> '' OR "
                 "v.registration <> '' OR v.vin <> '' OR t.registration <> '' OR EXISTS (SELECT 1 FROM identity_salt AS i "
                 "JOIN seal USING (head) WHERE seal.session = s.session))")
          .put(session)
          .next();
  if (left) connection.damaged("identity reads back after it was erased; nothing was erased");
}

void erase_session(Connection& connection, const RevisionKey& one, const Redaction& redaction, Redacted& done) {
  if (is_redacted(connection, one.key)) return;
  done.files += erase_identity(connection, one.key, redaction);
  check_erased(connection, one.key);
  done.sessions.push_back(name_of(connection, one.key));
}

}  // namespace

std::string redaction_hash(std::string_view uid, const Redaction& redaction) {
  std::string text = "steelyard-redaction/1\n";
  for (const std::string_view item : {uid, redaction.at, redaction.why, redaction.by})
    (((text += 't') += std::to_string(item.size()) += ':') += item) += ';';
  return digest::sha256_hex(text);
}

void write_client_redaction(Connection& connection, std::string_view uid, const Redaction& redaction) {
  const std::string hash = redaction_hash(uid, redaction);
  connection
      .query("INSERT OR IGNORE INTO client_redaction (uid, redacted_at, why, redacted_by, row_hash) VALUES (?, ?, ?, ?, ?)")
      .put(uid)
      .put(redaction.at)
      .put(redaction.why)
      .put(redaction.by)
      .put(hash)
      .run();
}

void verify_redactions(Connection& connection, Verification& found) {
  for (const std::string_view sql : {"SELECT '', redacted_at, why, redacted_by, row_hash FROM redaction",
                                     "SELECT uid, redacted_at, why, redacted_by, row_hash FROM client_redaction"}) {
    Query row = connection.query(sql);
    while (row.next()) {
      const std::string uid(row.text()), at(row.text()), why(row.text()), by(row.text());
      if (redaction_hash(uid, {why, by, at}) != row.text())
        add_fault(found, "redaction_changed", {}, "what is noted of the erasure of " + at + " was altered");
    }
  }
}

bool is_redacted(Connection& connection, std::int64_t session) {
  return connection.query("SELECT 1 FROM redaction WHERE session = ?").put(session).next();
}

std::int64_t erase_identity(Connection& connection, std::int64_t session, const Redaction& redaction) {
  if (is_redacted(connection, session)) return 0;
  const Permitting erasing(connection, Connection::Permission::redacting);
  const std::string hash = redaction_hash({}, redaction);
  connection.query("INSERT INTO redaction (session, why, redacted_by, redacted_at, row_hash) VALUES (?, ?, ?, ?, ?)")
      .put(session)
      .put(redaction.why)
      .put(redaction.by)
      .put(redaction.at)
      .put(hash)
      .run();
  connection.query("UPDATE session SET client_name = '', client_reference = '', place = '' WHERE session = ?")
      .put(session)
      .run();
  connection.query("UPDATE tow_vehicle SET registration = '', vin = '' WHERE session = ?").put(session).run();
  connection.query("UPDATE trailer SET registration = '' WHERE session = ?").put(session).run();
  connection.query("DELETE FROM identity_salt WHERE head IN (SELECT head FROM seal WHERE session = ?)")
      .put(session)
      .run();
  const std::int64_t before = count(connection, "SELECT count(*) FROM attached_file");
  connection
      .query("DELETE FROM attached_file WHERE sha256 IN (SELECT sha256 FROM attachment WHERE session = ?) AND NOT EXISTS "
             "(SELECT 1 FROM attachment AS a WHERE a.sha256 = attached_file.sha256 AND NOT EXISTS (SELECT 1 FROM "
             "redaction AS r WHERE r.session = a.session))")
      .put(session)
      .run();
  return before - count(connection, "SELECT count(*) FROM attached_file");
}

std::int64_t erase_covered_notes(Connection& connection) {
  const Permitting erasing(connection, Connection::Permission::redacting);
  const std::int64_t before = count(connection, "SELECT count(*) FROM register_entry");
  connection.run(
      "DELETE FROM register_entry WHERE kind = 'client' AND EXISTS (SELECT 1 FROM client_redaction AS r WHERE r.uid = "
      "register_entry.uid AND r.redacted_at >= register_entry.noted_at)");
  return before - count(connection, "SELECT count(*) FROM register_entry");
}

std::int64_t erase_client(Connection& connection, std::string_view uid, const Redaction& redaction) {
  write_client_redaction(connection, uid, redaction);
  return erase_covered_notes(connection);
}

Redacted Store::redact_session(std::string_view session, std::string_view why, std::string_view by) {
  Connection& connection = *impl_->connection;
  check_reason(connection, why);
  Transaction transaction(connection, Transaction::Kind::writing);
  std::string id;
  {
    Query row = connection.query("SELECT id FROM session WHERE session = ?");
    row.put(key_of(connection, session)).next();
    id = row.text();
  }
  const std::string now = utc_now_ms();
  Redacted done;
  for (const RevisionKey& one : revisions_of(connection, id)) erase_session(connection, one, {why, by, now}, done);
  transaction.commit();
  return done;
}

Redacted Store::redact_client(std::string_view uid, std::string_view why, std::string_view by) {
  Connection& connection = *impl_->connection;
  check_reason(connection, why);
  Transaction transaction(connection, Transaction::Kind::writing);
  std::vector<RevisionKey> rows;
  {
    Query row = connection.query("SELECT session, revision FROM session WHERE client_uid = ? ORDER BY id, revision");
    row.put(uid);
    while (row.next()) {
      RevisionKey& one = rows.emplace_back();
      one.key = row.integer();
      one.revision = row.small_integer();
    }
  }
  const bool noted =
      connection.query("SELECT 1 FROM register_entry WHERE kind = 'client' AND uid = ? LIMIT 1").put(uid).next();
  if (uid.empty() || (rows.empty() && !noted))
    refuse(connection, "there is no client with the uid " + std::string(uid) + "; steelyard register shows those there are");
  const std::string now = utc_now_ms();
  Redacted done;
  for (const RevisionKey& one : rows) erase_session(connection, one, {why, by, now}, done);
  done.notes = noted ? erase_client(connection, uid, {why, by, now}) : 0;
  transaction.commit();
  return done;
}

}  // namespace steelyard::store
