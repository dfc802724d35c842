// Any bytes as a number: what is read is finite, and prints and reads back to the same bits (a zero to a zero).
#include <bit>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "units/number.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace steelyard;
  const auto number = units::parse_number({reinterpret_cast<const char*>(data), size});
  if (!number) return 0;
  if (!std::isfinite(*number)) std::abort();
  const auto again = units::parse_number(units::shortest(*number));
  if (again && *number == 0 && *again == 0) return 0;
  if (!again || std::bit_cast<std::uint64_t>(*again) != std::bit_cast<std::uint64_t>(*number)) std::abort();
  return 0;
}
