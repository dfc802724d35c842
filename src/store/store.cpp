#include "store/store.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "store/impl.hpp"
#include "store/instant.hpp"
#include "store/opening.hpp"
#include "store/refusal.hpp"
#include "store/rows.hpp"

namespace steelyard::store {

namespace {

constexpr std::size_t shortest_prefix = 4, most_named = 10;

[[noreturn]] void refuse(const Connection& connection, std::string_view what) {
  throw Refused(about(connection.path(), what));
}

std::string joined(const std::vector<std::string>& names) {
  std::string all;
  for (std::size_t i = 0; i < names.size() && i < most_named; ++i) all += (i ? ", " : "") + names[i];
  if (names.size() > most_named) all += " and " + std::to_string(names.size() - most_named) + " more";
  return all;
}

/// Ids that begin with `text`, each once, in order.
std::vector<std::string> ids_beginning(Connection& connection, std::string_view text) {
  std::vector<std::string> found;
  Query row = connection.query("SELECT DISTINCT id FROM session WHERE id >= ? ORDER BY id");
  row.put(text);
  while (row.next()) {
    const std::string_view id = row.text();
    if (!id.starts_with(text)) break;
    found.emplace_back(id);
  }
  return found;
}

/// A session's readings as record and strike need them.
struct ReadingKeys {
  std::set<std::string, std::less<>> ids;
  int last_seq = 0;
};

ReadingKeys reading_keys(Connection& connection, std::int64_t session) {
  ReadingKeys keys;
  Query row = connection.query("SELECT id, seq FROM reading WHERE session = ?");
  row.put(session);
  while (row.next()) {
    keys.ids.emplace(row.text());
    keys.last_seq = std::max(keys.last_seq, row.small_integer());
  }
  return keys;
}

/// The rule by which a sheet's readings get theirs: the first of r1, r2 … that is free.
std::string free_id(const ReadingKeys& keys) {
  for (std::size_t number = 1;; ++number) {
    const std::string id = std::to_string(number).insert(0, 1, 'r');
    if (!keys.ids.contains(id)) return id;
  }
}

int state_number(const Connection& connection, const rig::Session& session, std::string_view name) {
  std::vector<std::string> names;
  for (const rig::State& state : session.states) {
    if (state.name == name) return static_cast<int>(names.size()) + 1;
    names.push_back(state.name);
  }
  refuse(connection,
         "session " + session.id + " has no state " + std::string(name) + "; it has " + joined(names));
}

const rig::Reading* find_reading(const rig::Session& session, std::string_view id) {
  for (const rig::State& state : session.states)
    for (const rig::Reading& reading : state.readings)
      if (reading.id == id) return &reading;
  return nullptr;
}

/// Reads a session back and compares one reading, before it is kept.
void check_reading(Connection& connection, std::int64_t session, const rig::Reading& expected) {
  const rig::Session stored = read_session(connection, session);
  const rig::Reading* found = find_reading(stored, expected.id);
  if (!found || *found != expected)
    connection.damaged("reading " + expected.id + " reads back otherwise than written; nothing was stored");
}

std::string first_of(std::string_view first, std::string_view second) {
  return std::string(first.empty() ? second : first);
}

Summary summary_of_row(Query& row) {
  Summary summary;
  summary.id = row.text();
  summary.revision = row.small_integer();
  summary.sealed = row.flag();
  summary.weighed_at = row.text();
  summary.place = row.text();
  for (std::string* const name : {&summary.client, &summary.tow_vehicle, &summary.trailer}) {
    const std::string label(row.optional_text());
    *name = first_of(label, row.optional_text());
  }
  summary.states = row.small_integer();
  summary.readings = row.small_integer();
  summary.struck = row.small_integer();
  for (std::string* const text : {&summary.technician, &summary.purpose, &summary.client_uid}) *text = row.text();
  for (std::string* const text :
       {&summary.tow_uid, &summary.tow_registration, &summary.trailer_uid, &summary.trailer_registration})
    *text = row.optional_text();
  summary.has_trailer = row.flag();
  return summary;
}

/// Of rows that stand side by side the one that stands, with the number of the others.
std::vector<Summary> standing_only(Connection& connection, std::vector<std::pair<std::int64_t, Summary>> rows) {
  std::map<std::string, int, std::less<>> times;
  for (const auto& [key, summary] : rows) ++times[summary.id];
  std::vector<Summary> all;
  for (auto& [key, summary] : rows) {
    if (times[summary.id] > 1) {
      if (find_session(connection, summary.id) != key) continue;
      for (const RevisionKey& one : revisions_of(connection, summary.id))
        summary.rivals += one.revision == summary.revision && one.key != key ? 1 : 0;
    }
    all.push_back(std::move(summary));
  }
  return all;
}

}  // namespace

Store::Store(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
Store::Store(Store&&) noexcept = default;
Store& Store::operator=(Store&&) noexcept = default;
Store::~Store() = default;

Store Opener::open(const std::filesystem::path& path, Access access, const Settings& settings) {
  auto impl = std::make_unique<Store::Impl>();
  impl->connection = open_store(path, access, settings);
  return Store(std::move(impl));
}

Store Opener::create(const std::filesystem::path& path, const Settings& settings) {
  auto impl = std::make_unique<Store::Impl>();
  impl->connection = create_store(path, settings);
  return Store(std::move(impl));
}

Store Store::create(const std::filesystem::path& path) {
  return Opener::create(path, {});
}
Store Store::open(const std::filesystem::path& path, Access access) {
  return Opener::open(path, access, {});
}

std::vector<Summary> Store::list() const {
  std::vector<std::pair<std::int64_t, Summary>> rows;
  Connection& connection = *impl_->connection;
  const ReadingMoment moment(connection);
  {
    Query row = connection.query(
        "SELECT s.session, s.id, s.revision, EXISTS (SELECT 1 FROM seal WHERE session = s.session), s.weighed_at, "
        "s.place, s.client_name, s.client_uid, v.label, v.registration, t.label, t.registration, "
        "(SELECT count(*) FROM state WHERE session = s.session), "
        "(SELECT count(*) FROM reading WHERE session = s.session), "
        "(SELECT count(*) FROM strike WHERE session = s.session), s.technician, s.purpose, s.client_uid, v.uid, "
        "v.registration, t.uid, t.registration, t.session IS NOT NULL "
        "FROM session AS s LEFT JOIN tow_vehicle AS v ON v.session = s.session "
        "LEFT JOIN trailer AS t ON t.session = s.session "
        "WHERE NOT EXISTS (SELECT 1 FROM session AS later WHERE later.id = s.id AND later.revision > "
        "s.revision) "
        "ORDER BY s.weighed_ms NULLS LAST, s.id");
    while (row.next()) {
      const std::int64_t key = row.integer();
      rows.emplace_back(key, summary_of_row(row));
    }
  }
  return standing_only(connection, std::move(rows));
}

std::vector<std::string> Store::ids() const {
  std::vector<std::string> all;
  for (const Summary& summary : list()) all.push_back(summary.id);
  return all;
}

std::string Store::resolve(std::string_view text) const {
  Connection& connection = *impl_->connection;
  const ReadingMoment moment(connection);
  if (find_session(connection, text)) return std::string(text);
  const auto at = text.rfind('@');
  const std::string_view prefix = text.substr(0, at), suffix = at == text.npos ? "" : text.substr(at);
  if (prefix.size() < shortest_prefix)
    refuse(connection, "there is no session " + std::string(text) +
                           "; give the whole id or at least its first " + std::to_string(shortest_prefix) +
                           " characters");
  const std::vector<std::string> found = ids_beginning(connection, prefix);
  if (found.size() > 1)
    refuse(connection, "several sessions begin with " + std::string(prefix) + ": " + joined(found) +
                           "; give more of the id");
  std::string name = found.empty() ? std::string(text) : found.front() + std::string(suffix);
  key_of(connection, name);
  return name;
}

rig::Session Store::load(std::string_view id) const {
  Connection& connection = *impl_->connection;
  const ReadingMoment moment(connection);
  return read_session(connection, key_of(connection, id));
}

std::string Store::record(std::string_view session, std::string_view state, const rig::Reading& reading) {
  Connection& connection = *impl_->connection;
  Transaction transaction(connection, Transaction::Kind::writing);
  const std::int64_t key = key_of(connection, session);
  check_open(connection, key);
  const rig::Session stored = read_session(connection, key);
  const ReadingKeys keys = reading_keys(connection, key);
  rig::Reading added = reading;
  if (added.id.empty()) added.id = free_id(keys);
  if (keys.ids.contains(added.id))
    refuse(connection, "session " + stored.id + " has a reading " + added.id +
                           " already; readings are never changed: strike it and record another");
  const std::string now = utc_now();
  write_reading(connection,
                {.session = key,
                 .seq = keys.last_seq + 1,
                 .state = state_number(connection, stored, state),
                 .recorded_at = now},
                added, stored.scales);
  check_reading(connection, key, added);
  transaction.commit();
  return added.id;
}

void Store::strike(std::string_view session, std::string_view reading, const rig::Strike& strike) {
  Connection& connection = *impl_->connection;
  Transaction transaction(connection, Transaction::Kind::writing);
  const std::int64_t key = key_of(connection, session);
  check_open(connection, key);
  const rig::Session stored = read_session(connection, key);
  const rig::Reading* const found = find_reading(stored, reading);
  if (!found)
    refuse(connection, "session " + stored.id + " has no reading " + std::string(reading) +
                           "; steelyard show lists its readings");
  if (found->struck)
    refuse(connection, "reading " + found->id + " was struck already (" + found->struck->why +
                           "); a strike is never changed");
  int seq = 0;
  {
    Query row = connection.query("SELECT seq FROM reading WHERE session = ? AND id = ?");
    if (!row.put(key).put(reading).next()) connection.damaged("a reading is missing from its index");
    seq = row.small_integer();
  }
  const std::string now = utc_now();
  write_strike(connection, key, seq, strike, now);
  rig::Reading expected = *found;
  expected.struck = strike;
  check_reading(connection, key, expected);
  transaction.commit();
}

}  // namespace steelyard::store
