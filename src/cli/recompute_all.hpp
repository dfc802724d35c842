// Every issued result computed anew, on two threads. Errors: store::Refused where the store cannot be read on.
#pragma once

#include <cstddef>
#include <functional>
#include <vector>

#include "store/store.hpp"

namespace steelyard::cli {

struct RecomputedAll {
  std::size_t results = 0;       // that were issued
  std::size_t exactly = 0;       // came out to the last digit
  std::size_t to_tolerance = 0;  // of another version or build, to 1e-9
  std::size_t differ = 0;        // did not come out
  std::vector<store::Remark> remarks;
};

/// Whatever is wrong with single results is a remark; the order of remarks is that of the store. `progress` is called
/// with the number of results taken up.
RecomputedAll recompute_all(const store::Store& store, const std::function<void(std::size_t)>& progress);

}  // namespace steelyard::cli
