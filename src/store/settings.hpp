// Settings as rows.
#pragma once

#include "store/records.hpp"
#include "store/sqlite.hpp"

namespace steelyard::store {

/// Settings whose row_hash does not follow from them. row_hash is SHA-256 of "steelyard-setting/1", a line end, and the
/// items (canonical.hpp) of seq in decimal digits, name, client, value, set_at and set_by.
void verify_settings(Connection& connection, Verification& found);

}  // namespace steelyard::store
