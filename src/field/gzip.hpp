// Bytes in gzip form (RFC 1952), for files that are sent many times.
// Errors: std::runtime_error where zlib refuses, which it does only when memory runs out.
#pragma once

#include <string>
#include <string_view>

namespace steelyard::field {

std::string gzip(std::string_view bytes);

}  // namespace steelyard::field
