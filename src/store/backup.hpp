// Verified copies of a store that may be in use.
#pragma once

#include <filesystem>
#include <span>

#include "store/migrations.hpp"
#include "store/sqlite.hpp"
#include "store/store.hpp"

namespace steelyard::store {

/// Copies the whole database into the empty file `to` by SQLite's backup API: the state of one moment, although others
/// may write meanwhile. `asked` is the name that messages use.
void copy_database(const Connection& from, const std::filesystem::path& to, const std::filesystem::path& asked,
                   const Store::Progress& progress);

/// Before an older store is migrated: a copy beside it, "STORE.format-1-20261125T184144Z", verified as far as that
/// version can be. Refused where the copy cannot be made; the store is then as it was.
void copy_before_migration(const Connection& connection, int version, std::span<const Migration> migrations);

/// A copy of an older store brought up to date, for merging from it; `path` is an empty file.
std::unique_ptr<Connection> migrated_copy(const Connection& from, const std::filesystem::path& path,
                                          const std::filesystem::path& known_as);

}  // namespace steelyard::store
