// What the store is asked to do while things fail.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "store/store.hpp"

namespace steelyard::test {

struct Operation {
  std::string name;
  std::function<void(store::Store&)> act;
  /// True where it has wholly happened.
  std::function<bool(const store::Store&)> happened;
};

/// Makes the store that all of them start from, and what they need beside it, in `folder`; gives its path.
std::filesystem::path make_starting_store(const std::filesystem::path& folder);

/// `folder` is the one of make_starting_store.
std::vector<Operation> operations(const std::filesystem::path& folder);

/// All tests of this folder run everything where STEELYARD_FAULT_ALL is set.
bool all_wanted();
/// Under the sanitizers.
bool few_wanted();

}  // namespace steelyard::test
