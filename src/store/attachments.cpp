#include <algorithm>

#include "digest/digest.hpp"
#include "store/impl.hpp"
#include "store/instant.hpp"
#include "store/refusal.hpp"

namespace steelyard::store {
namespace {

using namespace std::string_view_literals;

// A photograph at full size has 3 to 12 MB; a value of SQLite's may have 32 MiB here (sqlite.cpp).
constexpr std::size_t longest_file = 24u << 20;

[[noreturn]] void refuse(const Connection& connection, std::string_view what) {
  throw Refused(about(connection.path(), what));
}

/// By the file's first bytes (its name may lie): JPEG ISO/IEC 10918-1 annex B, PNG ISO/IEC 15948 5.2, HEIF ISO/IEC
/// 23008-12 with ISO/IEC 14496-12 4.3, WebP RFC 9649 2.4, PDF ISO 32000-1 7.5.2.
std::string_view media_type_of(std::string_view bytes) {
  if (bytes.starts_with("\xff\xd8\xff"sv)) return "image/jpeg";
  if (bytes.starts_with("\x89PNG\r\n\x1a\n"sv)) return "image/png";
  if (bytes.starts_with("%PDF-"sv)) return "application/pdf";
  const std::string_view rest = bytes.size() > 12 ? bytes.substr(4, 8) : ""sv;
  if (rest == "ftypheic"sv || rest == "ftypheix"sv || rest == "ftypmif1"sv) return "image/heic";
  if (bytes.starts_with("RIFF"sv) && bytes.size() > 12 && bytes.substr(8, 4) == "WEBP"sv) return "image/webp";
  return "application/octet-stream";
}

std::optional<std::int64_t> reading_number(Connection& connection, std::int64_t key, const std::string& id) {
  if (id.empty()) return std::nullopt;
  Query row = connection.query("SELECT seq FROM reading WHERE session = ? AND id = ?");
  if (!row.put(key).put(id).next())
    refuse(connection, "session " + name_of(connection, key) + " has no reading " + id +
                           "; steelyard show lists its readings");
  return row.integer();
}

void check_limit(Connection& connection, std::int64_t key, std::optional<int> limit) {
  if (!limit) return;
  if (!connection.query("SELECT 1 FROM rig_limit WHERE session = ? AND seq = ?").put(key).put(*limit).next())
    refuse(connection, "session " + name_of(connection, key) + " has no limit number " + std::to_string(*limit) +
                           "; steelyard show lists its limits, counted from 1");
}

void keep_file(Connection& connection, const std::string& hash, std::string_view bytes) {
  if (connection.query("SELECT 1 FROM attached_file WHERE sha256 = ?").put(hash).next()) return;
  connection.query("INSERT INTO attached_file (sha256, bytes) VALUES (?, ?)").put(hash).put_blob(bytes).run();
}

std::vector<Attachment> attachments_of(Connection& connection, std::int64_t key) {
  std::vector<Attachment> all;
  Query row = connection.query(
      "SELECT a.seq, a.rig_limit, (SELECT id FROM reading AS r WHERE r.session = a.session AND r.seq = a.reading), "
      "a.what, a.media_type, a.size, a.sha256, a.attached_by, a.attached_at, "
      "EXISTS (SELECT 1 FROM attached_file AS f WHERE f.sha256 = a.sha256) "
      "FROM attachment AS a WHERE a.session = ? ORDER BY a.seq");
  row.put(key);
  while (row.next()) {
    Attachment& one = all.emplace_back();
    one.number = row.small_integer();
    one.limit = row.optional_small_integer();
    one.reading = row.optional_text();
    one.what = row.text();
    one.media_type = row.text();
    one.size = row.integer();
    one.sha256 = row.text();
    one.by = row.text();
    one.at = row.text();
    one.there = row.flag();
  }
  return all;
}

}  // namespace

Attachment Store::attach(std::string_view session, const Attachment& attachment, std::string_view bytes) {
  Connection& connection = *impl_->connection;
  if (bytes.empty()) refuse(connection, "an empty file is no attachment; nothing was attached");
  if (bytes.size() > longest_file)
    refuse(connection, "a file of more than 24 MiB is not kept; make the picture smaller and repeat");
  if (attachment.limit && !attachment.reading.empty())
    refuse(connection, "a file belongs to a limit or to a reading, not to both; attach it twice");
  Transaction transaction(connection, Transaction::Kind::writing);
  const std::int64_t key = key_of(connection, session);
  check_open(connection, key);
  check_limit(connection, key, attachment.limit);
  const auto reading = reading_number(connection, key, attachment.reading);
  Attachment added = attachment;
  std::vector<Attachment> before = attachments_of(connection, key);
  added.number = before.empty() ? 1 : before.back().number + 1;
  added.media_type = media_type_of(bytes);
  added.sha256 = digest::sha256_hex(bytes);
  added.size = std::ssize(bytes);
  added.at = utc_now();
  added.there = true;
  keep_file(connection, added.sha256, bytes);
  connection
      .query("INSERT INTO attachment (session, seq, rig_limit, reading, what, media_type, size, sha256, attached_by, "
             "attached_at) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)")
      .put(key)
      .put(added.number)
      .put(added.limit)
      .put(reading)
      .put(added.what)
      .put(added.media_type)
      .put(added.size)
      .put(added.sha256)
      .put(added.by)
      .put(added.at)
      .run();
  if (attachments_of(connection, key).back() != added || attached_bytes(name_of(connection, key), added.number) != bytes)
    connection.damaged("the attachment reads back otherwise than written; nothing was attached");
  transaction.commit();
  return added;
}

std::vector<Attachment> Store::attachments(std::string_view session) const {
  Connection& connection = *impl_->connection;
  const ReadingMoment moment(connection);
  return attachments_of(connection, key_of(connection, session));
}

std::string Store::attached_bytes(std::string_view session, int number) const {
  Connection& connection = *impl_->connection;
  const ReadingMoment moment(connection);
  const std::int64_t key = key_of(connection, session);
  const auto all = attachments_of(connection, key);
  const auto found = std::find_if(all.begin(), all.end(), [&](const Attachment& one) { return one.number == number; });
  if (found == all.end())
    refuse(connection, "session " + name_of(connection, key) + " has no attachment " + std::to_string(number) +
                           "; steelyard attach SESSION lists those there are");
  if (!found->there)
    refuse(connection, "the file of attachment " + std::to_string(number) + " of session " + name_of(connection, key) +
                           " was erased with the identity; only its hash is kept");
  Query row = connection.query("SELECT bytes FROM attached_file WHERE sha256 = ?");
  if (!row.put(found->sha256).next()) connection.damaged("an attached file is missing");
  std::string bytes(row.blob());
  if (digest::sha256_hex(bytes) != found->sha256) connection.damaged("an attached file was altered");
  return bytes;
}

}  // namespace steelyard::store
