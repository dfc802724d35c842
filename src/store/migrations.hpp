// The schema's history: each file of schema/ is one migration, run once in one transaction with its number.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "store/sqlite.hpp"

namespace steelyard::store {

struct Migration {
  int number = 0;  // 1, 2 …: the file's user_version afterwards
  std::string_view name, sql;
};

/// The migrations of this version, in order; generated at build from schema/.
std::span<const Migration> released_migrations();

/// "STLY", the application_id of a store's header.
inline constexpr int application_id = 0x53544c59;

/// Runs every migration above the file's own version. Each is one transaction: on an error the file keeps the
/// version it had, and what was thrown says why.
void migrate(Connection& connection, std::span<const Migration> migrations);

int version_of(Connection& connection);

/// The schema as SQLite keeps it, in one text; equal texts are equal schemas.
std::string schema_text(Connection& connection);

/// The schema_text that a file made by these migrations has.
std::string expected_schema_text(std::span<const Migration> migrations);

}  // namespace steelyard::store
