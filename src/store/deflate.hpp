// Texts of the record, deflated (RFC 1950): a sealed copy or an issued result takes a fifth of its length.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace steelyard::store {

/// std::runtime_error where there is not enough memory.
std::string deflated(std::string_view text);

/// Nothing where the bytes are no deflated text of that length.
std::optional<std::string> inflated(std::string_view bytes, std::int64_t size);

}  // namespace steelyard::store
