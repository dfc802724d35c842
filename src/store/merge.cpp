#include <map>
#include <string>

#include "store/backup.hpp"
#include "store/impl.hpp"
#include "store/merging.hpp"
#include "store/opening.hpp"
#include "store/placing.hpp"
#include "store/redact.hpp"
#include "store/refusal.hpp"
#include "store/register.hpp"
#include "store/seal.hpp"
#include "store/verification.hpp"

namespace steelyard::store {
namespace {

namespace fs = std::filesystem;

using Keys = std::map<std::int64_t, std::int64_t>;  // of the other store's sessions, here

std::vector<std::int64_t> all_keys(Connection& other) {
  std::vector<std::int64_t> keys;
  Query row = other.query("SELECT session FROM session ORDER BY id, revision, session");
  while (row.next()) keys.push_back(row.integer());
  return keys;
}

void copy_blob_row(Connection& other, Connection& here, std::string_view read, std::string_view known,
                   std::string_view write, std::string_view hash) {
  if (hash.empty() || here.query(known).put(hash).next()) return;
  Query row = other.query(read);
  if (!row.put(hash).next()) return;
  const std::int64_t size = row.integer();
  here.query(write).put(hash).put(size).put_blob(row.blob()).run();
}

void copy_seal(Connection& other, Connection& here, const Seal& seal, std::int64_t session) {
  copy_blob_row(other, here, "SELECT size, deflated FROM sealed_copy WHERE content_hash = ?",
                "SELECT 1 FROM sealed_copy WHERE content_hash = ?",
                "INSERT INTO sealed_copy (content_hash, size, deflated) VALUES (?, ?, ?)", seal.content_hash);
  copy_blob_row(other, here, "SELECT size, deflated FROM issued_result WHERE result_hash = ?",
                "SELECT 1 FROM issued_result WHERE result_hash = ?",
                "INSERT INTO issued_result (result_hash, size, deflated) VALUES (?, ?, ?)", seal.result_hash);
  write_seal(here, session, seal);
  if (is_redacted(here, session)) return;
  Query salt = other.query("SELECT salt FROM identity_salt WHERE head = ?");
  if (salt.put(seal.head).next())
    here.query("INSERT INTO identity_salt (head, salt) VALUES (?, ?)").put(seal.head).put(salt.text()).run();
}

std::int64_t bring_in_seals(Connection& other, Connection& here, const Keys& keys) {
  static const std::string sql =
      "SELECT session, " + std::string(seal_columns) + " FROM seal ORDER BY origin, number, head";
  std::int64_t added = 0;
  Query row = other.query(sql);
  while (row.next()) {
    const std::int64_t session = keys.at(row.integer());
    const Seal seal = seal_of_row(row);
    if (here.query("SELECT 1 FROM seal WHERE head = ?").put(seal.head).next()) continue;
    copy_seal(other, here, seal, session);
    ++added;
  }
  return added;
}

/// Files that an attachment here wants and that no redaction has erased.
std::int64_t bring_in_files(Connection& other, Connection& here) {
  std::vector<std::string> wanted;
  {
    Query row = here.query(
        "SELECT DISTINCT a.sha256 FROM attachment AS a WHERE NOT EXISTS (SELECT 1 FROM attached_file AS f WHERE f.sha256 "
        "= a.sha256) AND NOT EXISTS (SELECT 1 FROM redaction AS r WHERE r.session = a.session)");
    while (row.next()) wanted.emplace_back(row.text());
  }
  std::int64_t added = 0;
  for (const std::string& hash : wanted) {
    Query row = other.query("SELECT bytes FROM attached_file WHERE sha256 = ?");
    if (!row.put(hash).next()) continue;
    here.query("INSERT INTO attached_file (sha256, bytes) VALUES (?, ?)").put(hash).put_blob(row.blob()).run();
    ++added;
  }
  return added;
}

std::int64_t rows_in(Connection& here, std::string_view table) {
  return here.single_integer("SELECT count(*) FROM " + std::string(table));
}

std::int64_t bring_in_erased_clients(Connection& other, Connection& here) {
  const std::int64_t before = rows_in(here, "client_redaction");
  Query row = other.query("SELECT uid, why, redacted_by, redacted_at FROM client_redaction");
  while (row.next()) {
    const std::string uid(row.text()), why(row.text()), by(row.text()), at(row.text());
    write_client_redaction(here, uid, {why, by, at});
  }
  erase_covered_notes(here);
  return rows_in(here, "client_redaction") - before;
}

bool is_covered(Connection& here, std::string_view kind, std::string_view uid, std::string_view at) {
  return kind == "client" &&
         here.query("SELECT 1 FROM client_redaction WHERE uid = ? AND redacted_at >= ?").put(uid).put(at).next();
}

std::int64_t bring_in_notes(Connection& other, Connection& here) {
  std::int64_t added = 0;
  Query row = other.query("SELECT kind, uid, field, value, noted_at, noted_by, row_hash FROM register_entry");
  while (row.next()) {
    const std::string kind(row.text()), uid(row.text()), field(row.text()), value(row.text()), at(row.text()),
        by(row.text()), hash(row.text());
    if (is_covered(here, kind, uid, at)) continue;
    {
      Query known = here.query(
          "SELECT 1 FROM register_entry WHERE kind = ? AND uid = ? AND field = ? AND value = ? AND noted_at = ? AND "
          "noted_by = ?");
      if (known.put(kind).put(uid).put(field).put(value).put(at).put(by).next()) continue;
    }
    here.query("INSERT INTO register_entry (kind, uid, field, value, noted_at, noted_by, row_hash) VALUES (?, ?, ?, ?, ?, "
               "?, ?)")
        .put(kind)
        .put(uid)
        .put(field)
        .put(value)
        .put(at)
        .put(by)
        .put(hash)
        .run();
    ++added;
  }
  return added;
}

void check_sound(Connection& other, const fs::path& path) {
  const Verification found = verify_all(other, {}, {});
  for (const Remark& remark : found.remarks)
    if (remark.weight == Remark::Weight::fault)
      throw Refused(about(path, "does not verify and was not merged: " +
                                    (remark.session.empty() ? "" : "session " + remark.session + ": ") + remark.what +
                                    "; steelyard verify on it says all"));
}

}  // namespace

Merged Store::merge(const fs::path& other_path, const Progress& progress) {
  Connection& here = *impl_->connection;
  std::error_code none;
  if (fs::equivalent(here.path(), other_path, none))
    throw Refused(about(other_path, "is the store itself; name the other one"));
  Settings settings;
  settings.older_too = true;
  auto other = open_store(other_path, Access::read_only, settings);
  Unfinished copy;  // of an older store, brought up to date
  if (version_of(*other) < static_cast<int>(released_migrations().size())) {
    copy.path = unfinished_name(here.path());
    make_empty_file(copy.path, other_path);
    other = migrated_copy(*other, copy.path, other_path);
  }
  const Transaction moment(*other, Transaction::Kind::reading);
  check_sound(*other, other_path);
  Transaction transaction(here, Transaction::Kind::writing);
  Merged merged;
  Keys keys;
  const std::vector<std::int64_t> theirs = all_keys(*other);
  for (const std::int64_t key : theirs) {
    keys[key] = bring_in(*other, key, here, merged);
    if (progress) progress(keys.size(), theirs.size());
  }
  merged.seals = bring_in_seals(*other, here, keys);
  merged.attachments = bring_in_files(*other, here);
  merged.redactions += bring_in_erased_clients(*other, here);
  merged.notes = bring_in_notes(*other, here);
  transaction.commit();
  return merged;
}

}  // namespace steelyard::store
