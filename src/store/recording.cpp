// Readings and strikes that come one by one.
#include <algorithm>
#include <set>
#include <utility>

#include "store/impl.hpp"
#include "store/instant.hpp"
#include "store/refusal.hpp"
#include "store/rows.hpp"

namespace steelyard::store {
namespace {

[[noreturn]] void refuse(const Connection& connection, std::string_view what) {
  throw Refused(about(connection.path(), what));
}

struct Place {
  std::size_t state = 0;  // in the session's list
  const rig::Reading* reading = nullptr;
};

Place find_reading(const rig::Session& session, std::string_view id) {
  for (std::size_t i = 0; i < session.states.size(); ++i)
    for (const rig::Reading& reading : session.states[i].readings)
      if (reading.id == id) return {i, &reading};
  return {};
}

std::size_t find_state(const Connection& connection, const rig::Session& session, std::string_view name) {
  std::string names;
  for (std::size_t i = 0; i < session.states.size(); ++i) {
    if (session.states[i].name == name) return i;
    (names += i ? ", " : "") += session.states[i].name;
  }
  refuse(connection, "session " + session.id + " has no state " + std::string(name) + "; it has " + names);
}

/// The rule by which a sheet's readings get theirs: the first of r1, r2 … that is free.
std::string free_id(const rig::Session& session) {
  std::set<std::string_view> taken;
  for (const rig::State& state : session.states)
    for (const rig::Reading& reading : state.readings) taken.insert(reading.id);
  for (std::size_t number = 1;; ++number) {
    std::string id = std::to_string(number).insert(0, 1, 'r');
    if (!taken.contains(id)) return id;
  }
}

int number_of_reading(Connection& connection, std::int64_t session, std::string_view id) {
  Query row = connection.query("SELECT seq FROM reading WHERE session = ? AND id = ?");
  if (!row.put(session).put(id).next()) connection.damaged("a reading is missing from its index");
  return row.small_integer();
}

/// Reads the session back and compares all of it, before it is kept.
void check_stored(Connection& connection, std::int64_t key, const rig::Session& expected, std::string_view reading) {
  if (read_session(connection, key) != expected)
    connection.damaged("reading " + std::string(reading) + " reads back otherwise than written; nothing was stored");
}

/// One session as record and strike find it, in a transaction of their own.
struct Recording {
  Recording(Connection& to, std::string_view session)
      : connection(to), transaction(to, Transaction::Kind::writing), key(key_of(to, session)),
        stored(read_session(to, key)) {}

  void add(std::size_t state, const rig::Reading& reading) {
    check_open(connection, key);
    int last = 0;
    {
      Query row = connection.query("SELECT coalesce(max(seq), 0) FROM reading WHERE session = ?");
      row.put(key).next();
      last = row.small_integer();
    }
    const std::string now = utc_now();
    write_reading(connection,
                  {.session = key,
                   .seq = last + 1,
                   .state = static_cast<int>(state) + 1,
                   .recorded_at = now,
                   .strike_recorded_at = now},
                  reading, stored.scales);
    stored.states[state].readings.push_back(reading);
    check_stored(connection, key, stored, reading.id);
    transaction.commit();
  }

  void strike(std::string_view id, const rig::Strike& strike) {
    check_open(connection, key);
    const std::string now = utc_now();
    write_strike(connection, key, number_of_reading(connection, key, id), strike, now);
    const Place place = find_reading(stored, id);
    for (rig::Reading& one : stored.states[place.state].readings)
      if (one.id == id) one.struck = strike;
    check_stored(connection, key, stored, id);
    transaction.commit();
  }

  const rig::Reading& to_strike(std::string_view id) const {
    const Place place = find_reading(stored, id);
    if (!place.reading)
      refuse(connection, "session " + stored.id + " has no reading " + std::string(id) +
                             "; steelyard show lists its readings");
    return *place.reading;
  }

  Connection& connection;
  Transaction transaction;
  std::int64_t key;
  rig::Session stored;
};

}  // namespace

std::string Store::record(std::string_view session, std::string_view state, const rig::Reading& reading) {
  Connection& connection = *impl_->connection;
  Recording recording(connection, session);
  check_open(connection, recording.key);
  const rig::Session& stored = recording.stored;
  rig::Reading added = reading;
  if (added.id.empty()) added.id = free_id(stored);
  if (find_reading(stored, added.id).reading)
    refuse(connection, "session " + stored.id + " has a reading " + added.id +
                           " already; readings are never changed: strike it and record another");
  recording.add(find_state(connection, stored, state), added);
  return added.id;
}

Store::Added Store::record_once(std::string_view session, std::string_view state, const rig::Reading& reading) {
  Connection& connection = *impl_->connection;
  if (reading.id.empty()) refuse(connection, "a reading that may be recorded again needs an id; give it one");
  Recording recording(connection, session);
  const rig::Session& stored = recording.stored;
  const Place place = find_reading(stored, reading.id);
  if (!place.reading) {
    recording.add(find_state(connection, stored, state), reading);
    return Added::added;
  }
  rig::Reading as_recorded = *place.reading;
  if (!reading.struck) as_recorded.struck.reset();
  if (as_recorded != reading || stored.states[place.state].name != state)
    throw Conflict(about(connection.path(), "session " + stored.id + " has another reading " + reading.id +
                                                ", in state " + stored.states[place.state].name +
                                                "; readings are never changed: give this one an id of its own"));
  return Added::already_there;
}

void Store::strike(std::string_view session, std::string_view reading, const rig::Strike& strike) {
  Connection& connection = *impl_->connection;
  Recording recording(connection, session);
  check_open(connection, recording.key);
  if (const auto& struck = recording.to_strike(reading).struck)
    refuse(connection, "reading " + std::string(reading) + " was struck already (" + struck->why +
                           "); a strike is never changed");
  recording.strike(reading, strike);
}

Store::Struck Store::strike_once(std::string_view session, std::string_view reading, const rig::Strike& strike) {
  Recording recording(*impl_->connection, session);
  if (const auto& struck = recording.to_strike(reading).struck) return {Added::already_there, *struck};
  recording.strike(reading, strike);
  return {Added::added, strike};
}

}  // namespace steelyard::store
