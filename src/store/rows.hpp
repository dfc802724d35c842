// A session to rows and back; the columns are explained in schema/0001_initial.sql.
//
// Figures and units go in as entered, kg and mm beside them; coming out, the two must agree to the last bit,
// else the file is damaged (Refused). The caller holds the transaction.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "rig/session.hpp"
#include "store/sqlite.hpp"

namespace steelyard::store {

/// Adds a session; gives its key in this file.
std::int64_t write_session(Connection& connection, const rig::Session& session, std::string_view hash);

/// Where a reading goes, and what names its scales there.
struct ReadingPlace {
  std::int64_t session = 0;
  int seq = 0, state = 0;
  std::string_view recorded_at = {};  // empty where it came with the sheet
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
