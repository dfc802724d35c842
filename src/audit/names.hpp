// Texts kept once: a fleet of a hundred thousand sessions names a few hundred places, clients and limits.
//
// keep() may be called from several threads; the views stay valid as long as the Names. No errors but lack of memory.
#pragma once

#include <cstddef>
#include <functional>
#include <mutex>
#include <string>
#include <string_view>
#include <unordered_set>

namespace steelyard::audit {

class Names {
 public:
  std::string_view keep(std::string_view text);

 private:
  struct Hash {
    using is_transparent = void;
    std::size_t operator()(std::string_view text) const { return std::hash<std::string_view>{}(text); }
  };
  std::mutex mutex_;
  std::unordered_set<std::string, Hash, std::equal_to<>> kept_;  // nodes stay where they are
};

}  // namespace steelyard::audit
