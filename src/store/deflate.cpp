#include "store/deflate.hpp"

#include <zlib.h>

#include <stdexcept>

namespace steelyard::store {
namespace {

// The fastest level: half of the time of the usual one for a tenth more bytes.
constexpr int level = 1;
// As the schema has it; a damaged length must not ask for all memory.
constexpr std::int64_t longest = std::int64_t{1} << 30;

}  // namespace

std::string deflated(std::string_view text) {
  uLongf size = compressBound(static_cast<uLong>(text.size()));
  std::string bytes(size, '\0');
  const int code = compress2(reinterpret_cast<Bytef*>(bytes.data()), &size,
                             reinterpret_cast<const Bytef*>(text.data()), static_cast<uLong>(text.size()), level);
  if (code != Z_OK) throw std::runtime_error("a text could not be deflated: there is not enough memory");
  bytes.resize(size);
  return bytes;
}

std::optional<std::string> inflated(std::string_view bytes, std::int64_t size) {
  // Deflate makes at most some 1000 bytes of one.
  if (size < 1 || size > longest || size > 1100 * (std::ssize(bytes) + 1)) return std::nullopt;
  std::string text(static_cast<std::size_t>(size), '\0');
  auto made = static_cast<uLongf>(size);
  auto taken = static_cast<uLong>(bytes.size());
  const int code = uncompress2(reinterpret_cast<Bytef*>(text.data()), &made,
                               reinterpret_cast<const Bytef*>(bytes.data()), &taken);
  if (code != Z_OK || made != text.size() || taken != bytes.size()) return std::nullopt;
  return text;
}

}  // namespace steelyard::store
