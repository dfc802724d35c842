// SHA-256 (FIPS 180-4) and random bytes.
//
// Errors: std::runtime_error where the cryptographic library refuses, which it does only when it is broken.
#pragma once

#include <array>
#include <cstddef>
#include <memory>
#include <string>
#include <string_view>

namespace steelyard::digest {

using Sha256 = std::array<unsigned char, 32>;

Sha256 sha256(std::string_view bytes);

/// Lower-case hexadecimal digits, two for each byte.
std::string hex(std::string_view bytes);
std::string hex(const Sha256& digest);

/// hex(sha256(bytes)).
std::string sha256_hex(std::string_view bytes);

/// `bytes` random bytes as hexadecimal digits, fit for a salt or a name that nobody can guess.
std::string random_hex(std::size_t bytes);

/// `bytes` random bytes as they are.
std::string random_bytes(std::size_t bytes);

/// Whether the two are the same, in a time that depends on their lengths alone.
bool same_bytes(std::string_view one, std::string_view other);

/// True for 64 lower-case hexadecimal digits.
bool is_sha256_hex(std::string_view text);

}  // namespace steelyard::digest
