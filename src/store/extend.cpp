#include <algorithm>
#include <utility>

#include "store/growth.hpp"
#include "store/impl.hpp"
#include "store/instant.hpp"
#include "store/refusal.hpp"
#include "store/rows.hpp"

namespace steelyard::store {
namespace {

int last_reading(Connection& connection, std::int64_t session) {
  Query row = connection.query("SELECT coalesce(max(seq), 0) FROM reading WHERE session = ?");
  row.put(session).next();
  return row.small_integer();
}

/// Writes what `extended` has more than `stored`, of which it is a growth.
class Growing {
 public:
  Growing(Connection& connection, std::int64_t key, const rig::Session& stored, const rig::Session& extended)
      : connection_(connection), key_(key), stored_(stored), extended_(extended), now_(utc_now()) {
    last_reading_ = last_reading(connection, key);
  }

  void run() {
    write_modifications(connection_, key_, extended_.modifications, stored_.modifications.size());
    for (std::size_t i = 0; i < stored_.scales.size(); ++i) grow_scale(i);
    write_scales(connection_, key_, extended_.scales, stored_.scales.size());
    write_limits(connection_, key_, extended_.rig.limits, stored_.rig.limits.size());
    for (std::size_t i = 0; i < extended_.states.size(); ++i) {
      const int seq = static_cast<int>(i) + 1;
      const bool known = i < stored_.states.size();
      if (known)
        grow_state(seq, stored_.states[i], extended_.states[i]);
      else
        write_state(connection_, key_, seq, extended_.states[i]);
      add_readings(seq, extended_.states[i].readings, known ? stored_.states[i].readings.size() : 0);
    }
  }

 private:
  void grow_scale(std::size_t i) {
    const int seq = static_cast<int>(i) + 1;
    const rig::Scale &before = stored_.scales[i], &after = extended_.scales[i];
    if (!before.zero_after && after.zero_after) fill_in_zero_after(connection_, key_, seq, *after.zero_after);
    write_check_weights(connection_, key_, seq, after.check_weights, before.check_weights.size());
  }

  void grow_state(int seq, const rig::State& before, const rig::State& after) {
    if (!before.coupling_height && after.coupling_height)
      fill_in_coupling_height(connection_, key_, seq, *after.coupling_height);
    if (!before.slope && after.slope) fill_in_slope(connection_, key_, seq, *after.slope);
    for (const RideHeight& height : after.ride_heights)
      if (std::find(before.ride_heights.begin(), before.ride_heights.end(), height) == before.ride_heights.end())
        write_ride_height(connection_, key_, seq, height);
  }

  void add_readings(int state, const std::vector<rig::Reading>& readings, std::size_t first) {
    for (std::size_t i = first; i < readings.size(); ++i)
      write_reading(connection_,
                    {.session = key_,
                     .seq = ++last_reading_,
                     .state = state,
                     .recorded_at = now_,
                     .strike_recorded_at = now_},
                    readings[i], extended_.scales);
  }

  Connection& connection_;
  std::int64_t key_;
  const rig::Session &stored_, &extended_;
  std::string now_;
  int last_reading_ = 0;
};

void sort_ride_heights(rig::Session& session) {
  for (rig::State& state : session.states)
    std::sort(state.ride_heights.begin(), state.ride_heights.end(),
              [](const RideHeight& a, const RideHeight& b) { return a.first < b.first; });
}

}  // namespace

rig::Session Store::extend(std::string_view session, const rig::Session& extended) {
  Connection& connection = *impl_->connection;
  Transaction transaction(connection, Transaction::Kind::writing);
  const std::int64_t key = key_of(connection, session);
  const rig::Session stored = read_session(connection, key);
  rig::Session grown = extended;
  sort_ride_heights(grown);
  if (grown == stored) return grown;
  check_open(connection, key);
  if (const auto fault = other_than_growth(stored, grown))
    throw Conflict(about(connection.path(), "session " + name_of(connection, key) +
                                                " only takes what is added to it: " + *fault +
                                                "; load it anew and repeat, or correct it in a new revision"));
  Growing(connection, key, stored, grown).run();
  if (read_session(connection, key) != grown)
    connection.damaged("what was added reads back otherwise than written; nothing was stored");
  transaction.commit();
  return grown;
}

}  // namespace steelyard::store
