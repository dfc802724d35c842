// A session to rows and back; the columns are explained in schema/0001_initial.sql.
//
// Figures and units go in as entered, kg and mm beside them; coming out, the two must agree to the last bit,
// else the file is damaged (Refused). The caller holds the transaction.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "rig/session.hpp"
#include "store/sqlite.hpp"

namespace steelyard::store {

/// When readings and strikes, by the reading's id, were added to a session already stored.
struct RecordedTimes {
  std::map<std::string, std::string, std::less<>> readings = {}, strikes = {};
};
RecordedTimes recorded_times(Connection& connection, std::int64_t session);

/// Adds a session; gives its key in this file. `times` are those of a revision before it: a reading keeps its own.
std::int64_t write_session(Connection& connection, const rig::Session& session, std::string_view hash,
                           const RecordedTimes& times = {});

/// Adds the elements of a list from `first` on, counted from 0; those before it are there already.
void write_modifications(Connection& connection, std::int64_t session, const std::vector<rig::Modification>& items,
                         std::size_t first);
void write_scales(Connection& connection, std::int64_t session, const std::vector<rig::Scale>& scales,
                  std::size_t first);  // with their check weights
void write_check_weights(Connection& connection, std::int64_t session, int scale,
                         const std::vector<rig::CheckWeight>& weights, std::size_t first);
void write_limits(Connection& connection, std::int64_t session, const std::vector<rig::Limit>& limits,
                  std::size_t first);

/// Adds a state with its ride heights, without its readings.
void write_state(Connection& connection, std::int64_t session, int seq, const rig::State& state);
using RideHeight = std::pair<std::string, units::Length>;
void write_ride_height(Connection& connection, std::int64_t session, int state, const RideHeight& height);

/// Fills in what was empty; the file refuses it where it was not, and after the seal.
void fill_in_zero_after(Connection& connection, std::int64_t session, int scale, const units::Load& load);
void fill_in_coupling_height(Connection& connection, std::int64_t session, int state,
                             const rig::MeasuredLength& height);
void fill_in_slope(Connection& connection, std::int64_t session, int state, const rig::MeasuredSlope& slope);

/// Where a reading goes, and what names its scales there.
struct ReadingPlace {
  std::int64_t session = 0;
  int seq = 0, state = 0;
  std::string_view recorded_at = {}, strike_recorded_at = {};  // empty where it came with the sheet
};
/// Adds a reading with its scales and its strike. Refused where a scale is not in `scales`, the session's
/// scales in their order.
void write_reading(Connection& connection, const ReadingPlace& place, const rig::Reading& reading,
                   const std::vector<rig::Scale>& scales);
void write_strike(Connection& connection, std::int64_t session, int reading, const rig::Strike& strike,
                  std::string_view recorded_at);

/// The session of that key as it stands now.
rig::Session read_session(Connection& connection, std::int64_t session);

}  // namespace steelyard::store
