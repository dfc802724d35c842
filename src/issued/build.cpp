#include <array>
#include <bit>
#include <cmath>
#include <cstdint>
#include <cstdio>

#include "issued/issued.hpp"
#ifdef __GLIBC__
#include <gnu/libc-version.h>
#endif

namespace steelyard::issued {
namespace {

constexpr const char* architecture =
#if defined(__x86_64__)
    "x86_64";
#elif defined(__aarch64__)
    "aarch64";
#else
    "another architecture";
#endif

std::string c_library() {
#ifdef __GLIBC__
  return std::string("glibc ") + gnu_get_libc_version();
#else
  return "another C library";
#endif
}

/// FNV-1a over the bits of what the mathematical functions give at a few hundred places. Two machines on which it
/// differs may differ in the last digits of a result.
std::uint32_t functions_fingerprint() {
  std::uint32_t hash = 2166136261U;
  const auto take = [&hash](double value) {
    const auto bits = std::bit_cast<std::uint64_t>(value);
    for (int shift = 0; shift < 64; shift += 8) hash = (hash ^ static_cast<std::uint8_t>(bits >> shift)) * 16777619U;
  };
  constexpr int places = 256;
  for (int i = 1; i <= places; ++i) {
    const volatile double place = 0.0137 * i;  // volatile: the compiler must not compute the functions itself
    const double x = place;
    for (const double value : {std::exp(x), std::exp(-x), std::log(x), std::log1p(x), std::expm1(x), std::pow(x, 1.7),
                               std::sin(x), std::cos(x), std::tan(x), std::atan(x), std::erfc(x), std::lgamma(x),
                               std::hypot(x, 1.0), std::cbrt(x)})
      take(value);
  }
  return hash;
}

}  // namespace

const std::string& build_of_this_program() {
  static const std::string build = [] {
    std::array<char, 16> digits{};
    std::snprintf(digits.data(), digits.size(), "%08x", functions_fingerprint());
    return std::string(STEELYARD_BUILT) + ", " + architecture + ", " + c_library() + ", functions " + digits.data();
  }();
  return build;
}

}  // namespace steelyard::issued
