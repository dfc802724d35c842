#include <algorithm>

#include "store/impl.hpp"
#include "store/instant.hpp"
#include "store/refusal.hpp"
#include "store/rows.hpp"
#include "store/seal.hpp"

namespace steelyard::store {
namespace {

[[noreturn]] void refuse(const Connection& connection, std::string_view what) {
  throw Refused(about(connection.path(), what));
}

const rig::Reading* find_reading(const rig::Session& session, std::string_view state, std::string_view id) {
  for (const rig::State& one : session.states)
    if (one.name == state)
      for (const rig::Reading& reading : one.readings)
        if (reading.id == id) return &reading;
  return nullptr;
}

[[noreturn]] void in_conflict(const Connection& connection, std::string_view what) {
  throw Conflict(about(connection.path(), what));
}

/// What was read stays read: an amendment may strike a reading, never drop or alter it.
void check_readings(const Connection& connection, const rig::Session& standing, const rig::Session& corrected) {
  for (const rig::State& state : standing.states)
    for (const rig::Reading& reading : state.readings) {
      const rig::Reading* const found = find_reading(corrected, state.name, reading.id);
      if (!found)
        in_conflict(connection, "the amended sheet leaves out reading " + reading.id + " of state " + state.name +
                                  "; give it as it was and strike it with the reason");
      rig::Reading as_it_was = *found;
      if (!reading.struck) as_it_was.struck.reset();
      if (as_it_was != reading)
        in_conflict(connection, "the amended sheet alters reading " + reading.id + " of state " + state.name +
                                  "; give it as it was, strike it with the reason, and add another");
    }
}

std::int64_t newest_revision(Connection& connection, std::string_view id) {
  Query row = connection.query("SELECT max(revision) FROM session WHERE id = ?");
  row.put(id).next();
  return row.integer();
}

/// The numbers under which an attachment's limit and reading stand in the new revision; none where they are gone.
std::optional<std::int64_t> same_reading(Connection& connection, std::int64_t from, std::int64_t to,
                                         std::optional<int> seq) {
  if (!seq) return std::nullopt;
  Query row = connection.query(
      "SELECT b.seq FROM reading AS a JOIN reading AS b ON b.session = ? AND b.id = a.id WHERE a.session = ? AND "
      "a.seq = ?");
  if (!row.put(to).put(from).put(*seq).next()) return std::nullopt;
  return row.integer();
}

std::optional<std::int64_t> same_limit(Connection& connection, std::int64_t from, std::int64_t to,
                                       std::optional<int> seq) {
  if (!seq) return std::nullopt;
  Query row = connection.query(
      "SELECT b.seq FROM rig_limit AS a JOIN rig_limit AS b ON b.session = ? AND b.name = a.name AND b.part = a.part "
      "AND b.source = a.source WHERE a.session = ? AND a.seq = ? ORDER BY b.seq <> a.seq, b.seq");
  if (!row.put(to).put(from).put(*seq).next()) return std::nullopt;
  return row.integer();
}

/// The attachments of a revision under another whose readings and limits may be numbered otherwise.
void take_over_attachments(Connection& connection, std::int64_t from, std::int64_t to) {
  Query row = connection.query(
      "SELECT seq, rig_limit, reading, what, media_type, size, sha256, attached_by, attached_at FROM attachment WHERE "
      "session = ? ORDER BY seq");
  row.put(from);
  while (row.next()) {
    Query added = connection.query(
        "INSERT INTO attachment (session, seq, rig_limit, reading, what, media_type, size, sha256, attached_by, "
        "attached_at) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
    added.put(to).put(row.integer());
    const auto limit = row.optional_small_integer(), reading = row.optional_small_integer();
    added.put(same_limit(connection, from, to, limit)).put(same_reading(connection, from, to, reading));
    added.put(row.text()).put(row.text()).put(row.integer());
    added.put(row.text()).put(row.text()).put(row.text()).run();
  }
}

/// When a reading or a strike was recorded belongs to it: it stays so in the new revision.
std::int64_t copy_revision(Connection& connection, std::int64_t from, const rig::Session& amended,
                           std::string_view import_hash) {
  rig::Session without_states = amended;
  without_states.states.clear();
  without_states.modifications.clear();
  without_states.scales.clear();
  without_states.rig.limits.clear();
  without_states.extras.clear();
  const std::int64_t to = write_session(connection, without_states, import_hash);
  for (const SessionTable& table : session_tables())
    if (table.name != "session" && table.name != "tow_vehicle" && table.name != "axle" && table.name != "trailer")
      copy_rows(connection, from, connection, to, table, {});
  return to;
}

void check_reason(const Connection& connection, std::string_view id, std::string_view why) {
  if (why.find_first_not_of(' ') == std::string_view::npos)
    refuse(connection, "an amendment needs a reason: say why session " + std::string(id) + " is amended");
}

/// What a new revision writes in `replaces`: an unsealed one takes nothing more once it is replaced, so its content
/// stays what it is now.
std::string replacement_of(Connection& connection, std::int64_t from, int revision) {
  const auto seals = seals_on(connection, from);
  return replaced_text(revision,
                       seals.empty() ? content_hash(content_of(connection, from)) : seals.front().content_hash);
}

std::string import_hash_of(Connection& connection, std::int64_t key) {
  Query row = connection.query("SELECT import_hash FROM session WHERE session = ?");
  row.put(key).next();
  return std::string(row.text());
}

struct Amendment {
  std::string_view why, by;
  const rig::Session* corrected = nullptr;  // none: the same content
};

/// Adds the revision after `standing`, which is `from` in the file.
rig::Session add_revision(Connection& connection, std::int64_t from, const rig::Session& standing,
                          const Amendment& amendment) {
  if (amendment.corrected) check_readings(connection, standing, *amendment.corrected);
  rig::Session amended = amendment.corrected ? *amendment.corrected : standing;
  amended.id = standing.id;
  amended.revision = standing.revision + 1;
  amended.replaces = replacement_of(connection, from, standing.revision);
  amended.revised = rig::Revised{std::string(amendment.why), std::string(amendment.by), utc_now()};
  const std::string import_hash = import_hash_of(connection, from);
  std::int64_t to = 0;
  if (amendment.corrected) {
    to = write_session(connection, amended, import_hash, recorded_times(connection, from));
    take_over_attachments(connection, from, to);
  } else {
    to = copy_revision(connection, from, amended, import_hash);
  }
  if (read_session(connection, to) != amended)
    connection.damaged("the new revision reads back otherwise than written; nothing was stored");
  return amended;
}

}  // namespace

rig::Session Store::amend(std::string_view session, std::string_view why, std::string_view by,
                          const std::optional<rig::Session>& corrected) {
  Connection& connection = *impl_->connection;
  Transaction transaction(connection, Transaction::Kind::writing);
  const std::int64_t from = key_of(connection, session);
  const rig::Session sealed = read_session(connection, from);
  check_reason(connection, sealed.id, why);
  if (!is_sealed(connection, from))
    refuse(connection, "session " + name_of(connection, from) +
                           " is not sealed: strike and record until it is right, then seal it");
  if (const auto newest = newest_revision(connection, sealed.id); newest > sealed.revision)
    refuse(connection, "session " + name_of(connection, from) + " was replaced by revision " + std::to_string(newest) +
                           "; amend that one");
  rig::Session amended = add_revision(connection, from, sealed, {why, by, corrected ? &*corrected : nullptr});
  transaction.commit();
  return amended;
}

rig::Session Store::revise(const rig::Session& expected, const rig::Session& corrected, std::string_view why,
                           std::string_view by) {
  Connection& connection = *impl_->connection;
  Transaction transaction(connection, Transaction::Kind::writing);
  const std::int64_t from = key_of(connection, expected.id);
  check_reason(connection, expected.id, why);
  if (read_session(connection, from) != expected)
    throw Conflict(about(connection.path(), "session " + expected.id +
                                                " was changed while it was being corrected; look at it and repeat"));
  rig::Session revised = add_revision(connection, from, expected, {why, by, &corrected});
  transaction.commit();
  return revised;
}

}  // namespace steelyard::store
