// Which row of `session` a text means, and the name of a row. Store (store.hpp) says how sessions are named.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "store/sqlite.hpp"

namespace steelyard::store {

/// The key of the session that `name` means: an id, ID@REVISION or ID@REVISION.HASH.
std::optional<std::int64_t> find_session(Connection& connection, std::string_view name);

/// As find_session; Refused where there is none.
std::int64_t key_of(Connection& connection, std::string_view name);

struct RevisionKey {
  std::int64_t key = 0;
  int revision = 1;
};

/// Every row of an id: lowest revision first; of one revision the one that stands first.
std::vector<RevisionKey> revisions_of(Connection& connection, std::string_view id);

/// Record::name of a row.
std::string name_of(Connection& connection, std::int64_t key);

bool is_sealed(Connection& connection, std::int64_t key);

/// Refused where the session is sealed or replaced by a later revision: it takes nothing more.
void check_open(Connection& connection, std::int64_t key);

}  // namespace steelyard::store
