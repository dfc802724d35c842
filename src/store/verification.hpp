// The parts of verify. Each adds what it finds to a Verification; none throws for what the file holds.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "store/records.hpp"
#include "store/seal.hpp"
#include "store/sqlite.hpp"
#include "store/store.hpp"

namespace steelyard::store {

void add_fault(Verification& found, std::string_view kind, std::string_view session, std::string what);
void add_notice(Verification& found, std::string_view kind, std::string_view session, std::string what);

/// The file itself: SQLite's own checks, references, the rows that a migration wrote.
void verify_file(Connection& connection, Verification& found);

/// Every seal's head, its link to the one before, gaps, branches, clocks; and the head from outside.
void verify_chains(Connection& connection, std::string_view head, Verification& found);

/// Every revision: that it can be read, that content, identity, copy, result and attachments are as sealed.
void verify_contents(Connection& connection, const Store::Progress& progress, Verification& found);

/// Attached files against their hashes; copies and results that belong to no seal.
void verify_files(Connection& connection, Verification& found);

/// All of it, in one reading transaction of the caller.
Verification verify_all(Connection& connection, std::string_view head, const Store::Progress& progress);

}  // namespace steelyard::store
