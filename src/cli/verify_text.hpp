// What verify found, in words and as steelyard-verify/1 (schema/steelyard-verify-1.schema.json). No errors.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/recompute_all.hpp"
#include "store/records.hpp"

namespace steelyard::cli {

struct Verified {
  std::string store;                           // the file's name, as given
  bool opened = false;                         // kind, version and schema are a store's
  store::Verification found;                   // with the remarks of recomputing
  std::optional<RecomputedAll> recomputed;     // nothing with --quick
  std::string head;                            // from outside; empty where none was given
};

std::string verify_json(const Verified& verified);
std::string verify_words(const Verified& verified);

}  // namespace steelyard::cli
