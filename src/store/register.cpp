#include "store/register.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <set>

#include "digest/digest.hpp"
#include "store/impl.hpp"
#include "store/instant.hpp"
#include "store/refusal.hpp"
#include "store/verification.hpp"

namespace steelyard::store {
namespace {

constexpr std::array kind_words{std::pair{RegisterKind::client, std::string_view("client")},
                                std::pair{RegisterKind::scale, std::string_view("scale")},
                                std::pair{RegisterKind::tow_vehicle, std::string_view("tow_vehicle")},
                                std::pair{RegisterKind::trailer, std::string_view("trailer")}};

struct Field {
  std::string_view name;
  std::string RegisterEntry::*value;
};

/// The fields of a kind, in the order in which of_sessions() selects them.
std::vector<Field> fields_of(RegisterKind kind) {
  switch (kind) {
    case RegisterKind::client:
      return {{"name", &RegisterEntry::name}, {"contact", &RegisterEntry::contact}, {"note", &RegisterEntry::note}};
    case RegisterKind::scale:
      return {{"serial", &RegisterEntry::serial},
              {"certificate", &RegisterEntry::certificate},
              {"calibrated", &RegisterEntry::calibrated},
              {"due", &RegisterEntry::due},
              {"note", &RegisterEntry::note}};
    case RegisterKind::tow_vehicle:
      return {{"label", &RegisterEntry::label},
              {"registration", &RegisterEntry::registration},
              {"vin", &RegisterEntry::vin},
              {"note", &RegisterEntry::note}};
    case RegisterKind::trailer:
      return {{"label", &RegisterEntry::label},
              {"registration", &RegisterEntry::registration},
              {"note", &RegisterEntry::note}};
  }
  return {};
}

/// Of every revision that no later one replaces: key, id, weighed_at, weighed_ms, uid, and the kind's fields in order;
/// '' for fields that sessions do not have.
std::string_view of_sessions(RegisterKind kind) {
  switch (kind) {
    case RegisterKind::client:
      return "SELECT s.session, s.id, s.weighed_at, s.weighed_ms, s.client_uid, s.client_name, '', '' FROM session AS s "
             "WHERE s.client_uid <> '' AND NOT EXISTS (SELECT 1 FROM session AS l WHERE l.id = s.id AND l.revision > "
             "s.revision) ORDER BY s.weighed_ms NULLS FIRST, s.id";
    case RegisterKind::scale:
      return "SELECT s.session, s.id, s.weighed_at, s.weighed_ms, c.uid, c.serial, c.certificate, c.calibrated, c.due, '' "
             "FROM session AS s JOIN scale AS c USING (session) WHERE c.uid <> '' AND NOT EXISTS (SELECT 1 FROM session "
             "AS l WHERE l.id = s.id AND l.revision > s.revision) ORDER BY s.weighed_ms NULLS FIRST, s.id";
    case RegisterKind::tow_vehicle:
      return "SELECT s.session, s.id, s.weighed_at, s.weighed_ms, v.uid, v.label, v.registration, v.vin, '' FROM session "
             "AS s JOIN tow_vehicle AS v USING (session) WHERE v.uid <> '' AND NOT EXISTS (SELECT 1 FROM session AS l "
             "WHERE l.id = s.id AND l.revision > s.revision) ORDER BY s.weighed_ms NULLS FIRST, s.id";
    case RegisterKind::trailer:
      return "SELECT s.session, s.id, s.weighed_at, s.weighed_ms, t.uid, t.label, t.registration, '' FROM session AS s "
             "JOIN trailer AS t USING (session) WHERE t.uid <> '' AND NOT EXISTS (SELECT 1 FROM session AS l WHERE l.id = "
             "s.id AND l.revision > s.revision) ORDER BY s.weighed_ms NULLS FIRST, s.id";
  }
  return {};
}

/// An entry while it is put together: beside each field the instant that it is of.
struct Growing {
  RegisterEntry entry;
  std::map<std::string_view, std::int64_t> of;
  std::set<std::string, std::less<>> sessions;
};
using Entries = std::map<std::string, Growing, std::less<>>;

constexpr std::int64_t never = INT64_MIN;

Growing& entry_of(Entries& entries, RegisterKind kind, std::string_view uid) {
  auto found = entries.find(uid);
  if (found == entries.end()) {
    found = entries.emplace(std::string(uid), Growing{}).first;
    found->second.entry.kind = kind;
    found->second.entry.uid = uid;
  }
  return found->second;
}

void put_latest(Growing& growing, const Field& field, std::string_view value, std::int64_t at) {
  const auto known = growing.of.find(field.name);
  if (value.empty() || (known != growing.of.end() && known->second > at)) return;
  growing.entry.*field.value = value;
  growing.of[field.name] = at;
}

/// Of revisions side by side the one that stands takes part.
std::set<std::int64_t> standing_aside(Connection& connection) {
  std::set<std::int64_t> aside;
  std::vector<std::string> ids;
  {
    Query row = connection.query("SELECT DISTINCT a.id FROM session AS a JOIN session AS b ON b.id = a.id AND b.revision "
                                 "= a.revision AND b.session <> a.session");
    while (row.next()) ids.emplace_back(row.text());
  }
  for (const std::string& id : ids) {
    const auto standing = find_session(connection, id);
    for (const RevisionKey& one : revisions_of(connection, id))
      if (one.key != standing) aside.insert(one.key);
  }
  return aside;
}

void add_sessions(Connection& connection, RegisterKind kind, Entries& entries) {
  const std::set<std::int64_t> aside = standing_aside(connection);
  const std::vector<Field> fields = fields_of(kind);
  Query row = connection.query(of_sessions(kind));
  while (row.next()) {
    if (aside.contains(row.integer())) continue;
    const std::string id(row.text()), at(row.text());
    const std::int64_t ms = row.is_null() ? never : row.integer();
    if (ms == never) row.skip(1);
    Growing& growing = entry_of(entries, kind, row.text());
    for (const Field& field : fields) put_latest(growing, field, row.text(), ms);
    if (!growing.sessions.insert(id).second) continue;  // a scale may be listed twice
    ++growing.entry.sessions;
    if (growing.entry.first_at.empty()) growing.entry.first_at = at;
    growing.entry.last_at = at;
  }
}

/// Of each field the latest note; an empty one takes back those before it.
void add_notes(Connection& connection, RegisterKind kind, Entries& entries) {
  const std::vector<Field> fields = fields_of(kind);
  Query row = connection.query(
      "SELECT uid, field, value, noted_at FROM register_entry WHERE kind = ? ORDER BY uid, field, noted_at DESC, value, "
      "noted_by");
  row.put(to_text(kind));
  std::pair<std::string, std::string> last;
  while (row.next()) {
    std::pair<std::string, std::string> of;
    of.first = row.text();
    of.second = row.text();
    if (of == last) continue;
    last = of;
    const std::string value(row.text());
    const auto at = instant_ms(row.text());
    Growing& growing = entry_of(entries, kind, of.first);
    for (const Field& field : fields)
      if (field.name == of.second) put_latest(growing, field, value, at.value_or(never));
  }
}

void write_note(Connection& connection, const RegisterNote& note, std::string_view at) {
  const std::string_view kind = to_text(note.kind);
  const std::string hash = note_hash(kind, note.uid, note.field, note.value, at, note.by);
  connection
      .query("INSERT INTO register_entry (kind, uid, field, value, noted_at, noted_by, row_hash) VALUES (?, ?, ?, ?, ?, "
             "?, ?)")
      .put(kind)
      .put(note.uid)
      .put(note.field)
      .put(note.value)
      .put(at)
      .put(note.by)
      .put(hash)
      .run();
}

void check_note(const Connection& connection, const RegisterNote& note) {
  if (note.uid.empty())
    throw Refused(about(connection.path(), "a note belongs to somebody: say whose uid it is, as in the sheets"));
  const auto fields = fields_of(note.kind);
  if (std::none_of(fields.begin(), fields.end(), [&](const Field& field) { return field.name == note.field; }))
    throw Refused(about(connection.path(), "the register keeps no " + note.field + " of a " +
                                               std::string(to_text(note.kind))));
}

}  // namespace

std::string_view to_text(RegisterKind kind) {
  for (const auto& [known, word] : kind_words)
    if (known == kind) return word;
  return {};
}

std::optional<RegisterKind> parse_register_kind(std::string_view text) {
  for (const auto& [kind, word] : kind_words)
    if (word == text) return kind;
  return std::nullopt;
}

std::string note_hash(std::string_view kind, std::string_view uid, std::string_view field, std::string_view value,
                      std::string_view at, std::string_view by) {
  std::string text = "steelyard-note/1\n";
  for (const std::string_view item : {kind, uid, field, value, at, by})
    (((text += 't') += std::to_string(item.size()) += ':') += item) += ';';
  return digest::sha256_hex(text);
}

void verify_notes(Connection& connection, Verification& found) {
  Query row = connection.query("SELECT kind, uid, field, value, noted_at, noted_by, row_hash FROM register_entry");
  while (row.next()) {
    std::array<std::string, 7> texts;
    for (std::string& text : texts) text = row.text();
    if (note_hash(texts[0], texts[1], texts[2], texts[3], texts[4], texts[5]) != texts[6])
      add_fault(found, "register_changed", {},
                "the register's note of the " + texts[2] + " of " + texts[0] + " " + texts[1] + " was altered");
  }
}

void Store::note(const std::vector<RegisterNote>& notes) {
  Connection& connection = *impl_->connection;
  Transaction transaction(connection, Transaction::Kind::writing);
  const std::string now = utc_now_ms();
  for (const RegisterNote& note : notes) {
    check_note(connection, note);
    write_note(connection, note, now);
  }
  Verification found;
  verify_notes(connection, found);
  if (!found.sound()) connection.damaged("a note reads back otherwise than written; nothing was noted");
  transaction.commit();
}

std::vector<RegisterEntry> Store::register_of(RegisterKind kind) const {
  Connection& connection = *impl_->connection;
  const ReadingMoment moment(connection);
  Entries entries;
  add_sessions(connection, kind, entries);
  add_notes(connection, kind, entries);
  std::vector<RegisterEntry> all;
  for (auto& [uid, growing] : entries) all.push_back(std::move(growing.entry));
  return all;
}

std::vector<Summary> Store::history(RegisterKind kind, std::string_view uid) const {
  Connection& connection = *impl_->connection;
  const ReadingMoment moment(connection);
  std::set<std::string, std::less<>> ids;
  {
    Query row = connection.query(of_sessions(kind));
    while (row.next()) {
      row.skip(1);
      const std::string id(row.text());
      row.skip(2);
      if (row.text() == uid) ids.insert(id);
    }
  }
  std::vector<Summary> all = list();
  std::erase_if(all, [&](const Summary& one) { return !ids.contains(one.id); });
  return all;
}

}  // namespace steelyard::store
