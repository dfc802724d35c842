#include "audit/names.hpp"

namespace steelyard::audit {

std::string_view Names::keep(std::string_view text) {
  if (text.empty()) return {};
  const std::lock_guard lock(mutex_);
  const auto found = kept_.find(text);
  return found != kept_.end() ? *found : *kept_.emplace(text).first;
}

}  // namespace steelyard::audit
