#include <algorithm>
#include <bit>
#include <cstddef>
#include <utility>

#include "store/impl.hpp"
#include "store/refusal.hpp"
#include "store/rows.hpp"

namespace steelyard::store {
namespace {

/// An import of at most this many sessions is read back whole; of a longer one every reading's figure and the
/// number of rows are, which costs a few per cent of the import.
constexpr std::size_t most_compared_whole = 50;

/// What an import added, counted as it was given.
struct Tally {
  std::int64_t sessions = 0, scales = 0, states = 0, limits = 0, readings = 0, scales_used = 0, strikes = 0;
  std::uint64_t figures = 0;  // of all readings, in their order

  void add_figure(double figure) {
    // FNV-1a over whole figures: any changed, missing or moved figure changes it.
    figures = (figures ^ std::bit_cast<std::uint64_t>(figure + 0.0)) * 0x100000001b3u;
  }

  void add(const rig::Session& session) {
    ++sessions;
    scales += std::ssize(session.scales);
    states += std::ssize(session.states);
    limits += std::ssize(session.rig.limits);
    for (const rig::State& state : session.states) {
      readings += std::ssize(state.readings);
      for (const rig::Reading& reading : state.readings) {
        scales_used += std::ssize(reading.scales);
        strikes += reading.struck ? 1 : 0;
        add_figure(reading.load.figure);
      }
    }
  }

  bool operator==(const Tally&) const = default;
};

std::int64_t count_from(Connection& connection, std::string_view sql, std::int64_t first) {
  Query row = connection.query(sql);
  row.put(first).next();
  return row.integer();
}

/// The tally of the file from a session on.
Tally stored_tally(Connection& connection, std::int64_t first) {
  Tally tally;
  tally.sessions = count_from(connection, "SELECT count(*) FROM session WHERE session >= ?", first);
  tally.scales = count_from(connection, "SELECT count(*) FROM scale WHERE session >= ?", first);
  tally.states = count_from(connection, "SELECT count(*) FROM state WHERE session >= ?", first);
  tally.limits = count_from(connection, "SELECT count(*) FROM rig_limit WHERE session >= ?", first);
  tally.scales_used = count_from(connection, "SELECT count(*) FROM reading_scale WHERE session >= ?", first);
  tally.strikes = count_from(connection, "SELECT count(*) FROM strike WHERE session >= ?", first);
  Query row = connection.query("SELECT load_figure FROM reading WHERE session >= ? ORDER BY session, seq");
  row.put(first);
  while (row.next()) {
    ++tally.readings;
    tally.add_figure(row.number());
  }
  return tally;
}

/// True where any revision of this id was imported with this content.
bool was_imported(Connection& connection, std::string_view id, std::string_view hash) {
  Query row = connection.query("SELECT 1 FROM session WHERE id = ? AND import_hash = ?");
  return row.put(id).put(hash).next();
}

/// True where a revision of this id has this content now.
bool is_stored(Connection& connection, const std::vector<RevisionKey>& known, const rig::Session& session) {
  return std::any_of(known.begin(), known.end(), [&](const RevisionKey& one) {
    return one.revision == session.revision && read_session(connection, one.key) == session;
  });
}

/// A first revision comes alone, an amended sheet says what it replaces; neither may meet another of its number.
bool fits_beside(const std::vector<RevisionKey>& known, const rig::Session& session) {
  const bool taken = std::any_of(known.begin(), known.end(), [&](const RevisionKey& one) {
    return one.revision == session.revision;
  });
  return !taken && (session.revision == 1 || !session.replaces.empty());
}

}  // namespace

struct Store::Import::State {
  State(Connection& to, Transaction::Kind kind) : connection(to), transaction(to, kind) {}

  Connection& connection;
  Transaction transaction;
  Tally tally;
  std::int64_t first = 0;                                      // key of the first session added
  std::vector<std::pair<std::int64_t, rig::Session>> samples;  // the first ones, to be compared whole
  bool broken = false, done = false;

  void write(const rig::Session& session, std::string_view hash);
  void compare() const;
};

void Store::Import::State::write(const rig::Session& session, std::string_view hash) {
  broken = true;  // until the whole session is in
  const std::int64_t key = write_session(connection, session, hash);
  if (tally.sessions == 0) first = key;
  tally.add(session);
  if (samples.size() < most_compared_whole) samples.emplace_back(key, session);
  broken = false;
}

void Store::Import::State::compare() const {
  if (tally.sessions == 0) return;
  if (stored_tally(connection, first) != tally)
    connection.damaged("what was read back is not what was written; nothing was stored");
  for (const auto& [key, session] : samples)
    if (read_session(connection, key) != session)
      connection.damaged("session " + session.id + " reads back otherwise than written; nothing was stored");
}

Store::Import::Import(std::unique_ptr<State> state) : state_(std::move(state)) {}
Store::Import::Import(Import&&) noexcept = default;
Store::Import::~Import() = default;

Store::Added Store::Import::add(const rig::Session& session, std::string_view hash) {
  if (state_->done) throw std::logic_error("store: an import goes on after its commit");
  Connection& connection = state_->connection;
  if (state_->broken)
    throw Refused(about(connection.path(), "the import has failed already; nothing was stored"));
  const std::vector<RevisionKey> known = revisions_of(connection, session.id);
  if (!known.empty()) {
    if (was_imported(connection, session.id, hash) || is_stored(connection, known, session))
      return Added::already_there;
    if (!fits_beside(known, session))
      throw Conflict(
          about(connection.path(), "session " + session.id +
                                       " is stored with other content; correct the sheet, or give what is "
                                       "really another session another id"));
  }
  state_->write(session, hash);
  return Added::added;
}

void Store::Import::commit() {
  if (state_->done) throw std::logic_error("store: an import is committed twice");
  if (state_->broken)
    throw Refused(about(state_->connection.path(), "the import has failed already; nothing was stored"));
  state_->compare();
  state_->transaction.commit();
  state_->done = true;
}

Store::Import Store::begin_import() {
  return Import(std::make_unique<Import::State>(*impl_->connection, Transaction::Kind::writing));
}

}  // namespace steelyard::store
