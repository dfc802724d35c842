// What an unsealed revision may be told later, once: columns that were empty are filled in, each group of them whole.
// schema/0004_filling_in.sql holds every program to it, Connection::Permission::filling ours.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

#include "store/sqlite.hpp"

namespace steelyard::store {

struct FilledLater {
  std::string_view table;  // whose rows are known by `seq`
  std::span<const std::string_view> columns;  // all NULL until they are given together
};

std::span<const FilledLater> filled_later();

bool is_filled_later(std::string_view table, std::string_view column);

/// True where the canonical row `whole` is `row`, or is what `row` becomes when empty columns are filled in.
bool becomes(std::string_view row, std::string_view whole);

/// Fills in what a session of another store has and the same rows of the one here have not.
void fill_in_from(Connection& from, std::int64_t from_session, Connection& to, std::int64_t to_session);

}  // namespace steelyard::store
