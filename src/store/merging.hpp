// One revision of another store, brought in.
//
// What is here after any merges, in any order: of each id and revision all contents that are sealed, and of the
// unsealed ones those that are no part of another. A content is part of another where all its rows stand in it too, or
// become rows of it when empty columns are filled in (filling.hpp), and identity is the same: what can be added to an
// unsealed revision makes one the part of the other. Identity that one side has erased is erased here.
#pragma once

#include <cstdint>

#include "store/records.hpp"
#include "store/sqlite.hpp"

namespace steelyard::store {

/// Gives the key here of the content that the other store has under `key`. `merged` counts.
std::int64_t bring_in(Connection& other, std::int64_t key, Connection& here, Merged& merged);

}  // namespace steelyard::store
