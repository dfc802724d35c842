// Erasing identity. The caller holds the transaction.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "store/records.hpp"
#include "store/sqlite.hpp"

namespace steelyard::store {

struct Redaction {
  std::string_view why, by, at;
};

/// SHA-256 of "steelyard-redaction/1", a line end, and the items (canonical.hpp) of uid ('' for a session), at, why, by.
std::string redaction_hash(std::string_view uid, const Redaction& redaction);

/// Adds the row that says a client's notes were erased, where it is not there.
void write_client_redaction(Connection& connection, std::string_view uid, const Redaction& redaction);

/// Redactions whose row_hash does not follow from them.
void verify_redactions(Connection& connection, Verification& found);

/// Erases identity columns, salts and attached files of a revision and notes that it was done. Gives the number of
/// files erased; files that a revision with its identity also has stay. Nothing where it was erased before.
std::int64_t erase_identity(Connection& connection, std::int64_t session, const Redaction& redaction);

bool is_redacted(Connection& connection, std::int64_t session);

/// Erases the register's notes of a client up to redaction.at, and notes that it was done; gives their number.
std::int64_t erase_client(Connection& connection, std::string_view uid, const Redaction& redaction);

/// Erases notes that a client_redaction covers; gives their number.
std::int64_t erase_covered_notes(Connection& connection);

}  // namespace steelyard::store
