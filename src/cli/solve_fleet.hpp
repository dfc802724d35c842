// Many sessions of a store, solved on several threads, kept small.
//
// Each thread reads for itself: a connection belongs to one thread. The entries come back in the order of the ids, so that
// nothing depends on how many threads there were. Errors: store::Refused; a session without a solution is an entry that
// says so.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "audit/entry.hpp"

namespace steelyard::cli {

/// As many as the machine has cores, but 1 to 64.
unsigned usual_threads();

/// `progress` is called on the caller's thread with the number of sessions done.
std::vector<audit::Entry> solve_fleet(const std::filesystem::path& store, const std::vector<std::string>& ids,
                                      audit::Names& names, unsigned threads,
                                      const std::function<void(std::size_t)>& progress);

}  // namespace steelyard::cli
