// The register's notes as rows.
#pragma once

#include <string>
#include <string_view>

#include "store/records.hpp"
#include "store/sqlite.hpp"
#include "store/store.hpp"

namespace steelyard::store {

/// SHA-256 of "steelyard-note/1", a line end, and the items (canonical.hpp) of kind, uid, field, value, noted_at and
/// noted_by.
std::string note_hash(std::string_view kind, std::string_view uid, std::string_view field, std::string_view value,
                      std::string_view at, std::string_view by);

/// Notes whose row_hash does not follow from them.
void verify_notes(Connection& connection, Verification& found);

}  // namespace steelyard::store
