// Seals as rows.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "store/canonical.hpp"
#include "store/records.hpp"
#include "store/sqlite.hpp"

namespace steelyard::store {

/// This store's name in chains.
std::string origin_of(Connection& connection);

/// The chain that this store adds to.
Chain own_chain(Connection& connection);

/// The columns of a seal, in the order in which seal_of_row takes them.
inline constexpr std::string_view seal_columns =
    "head, origin, number, previous, session_id, revision, form, content_hash, identity_hash, result_hash, engine, "
    "build, sealed_by, sealed_at";
Seal seal_of_row(Query& row);

/// The seals on a session, in the order of time.
std::vector<Seal> seals_on(Connection& connection, std::int64_t session);

/// Adds the row of a seal; its session must be there.
void write_seal(Connection& connection, std::int64_t session, const Seal& seal);

std::string identity_hash(std::string_view salt, const Content& content);

/// "revision 1, SHA-256 …": what an amendment writes in `replaces`.
std::string replaced_text(int revision, std::string_view content_hash);

struct Replaced {
  int revision = 0;
  std::string content_hash;
};
/// Of a replaced_text; nothing of any other text.
std::optional<Replaced> parse_replaced(std::string_view text);

}  // namespace steelyard::store
