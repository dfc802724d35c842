#include "digest/digest.hpp"

#include <openssl/crypto.h>
#include <openssl/evp.h>
#include <openssl/rand.h>

#include <algorithm>
#include <stdexcept>

namespace steelyard::digest {
namespace {

[[noreturn]] void library_failed(const char* what) {
  throw std::runtime_error(std::string(what) + ": the cryptographic library refused it");
}

struct FreeContext {
  void operator()(EVP_MD_CTX* context) const { EVP_MD_CTX_free(context); }
};

/// Fetching the algorithm anew for every text would cost more than hashing a short one.
EVP_MD_CTX* this_threads_context() {
  thread_local const std::unique_ptr<EVP_MD_CTX, FreeContext> context(EVP_MD_CTX_new());
  if (!context) library_failed("SHA-256");
  return context.get();
}

}  // namespace

Sha256 sha256(std::string_view bytes) {
  EVP_MD_CTX* const context = this_threads_context();
  Sha256 digest{};
  unsigned length = 0;
  if (EVP_DigestInit_ex(context, EVP_sha256(), nullptr) != 1 ||
      EVP_DigestUpdate(context, bytes.data(), bytes.size()) != 1 ||
      EVP_DigestFinal_ex(context, digest.data(), &length) != 1 || length != digest.size())
    library_failed("SHA-256");
  return digest;
}

std::string hex(std::string_view bytes) {
  constexpr std::string_view digits = "0123456789abcdef";
  std::string out;
  out.reserve(bytes.size() * 2);
  for (const char byte : bytes) {
    const auto value = static_cast<unsigned char>(byte);
    out += digits[value >> 4];
    out += digits[value & 15];
  }
  return out;
}

std::string hex(const Sha256& digest) {
  return hex(std::string_view(reinterpret_cast<const char*>(digest.data()), digest.size()));
}

std::string sha256_hex(std::string_view bytes) {
  return hex(sha256(bytes));
}

std::string random_bytes(std::size_t bytes) {
  std::string drawn(bytes, '\0');
  if (RAND_bytes(reinterpret_cast<unsigned char*>(drawn.data()), static_cast<int>(bytes)) != 1)
    library_failed("random bytes");
  return drawn;
}

std::string random_hex(std::size_t bytes) {
  return hex(random_bytes(bytes));
}

bool same_bytes(std::string_view one, std::string_view other) {
  return one.size() == other.size() && CRYPTO_memcmp(one.data(), other.data(), one.size()) == 0;
}

bool is_sha256_hex(std::string_view text) {
  return text.size() == 64 && std::all_of(text.begin(), text.end(), [](char c) {
           return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f');
         });
}

}  // namespace steelyard::digest
