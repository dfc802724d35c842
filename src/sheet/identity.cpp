#include "sheet/identity.hpp"

#include <openssl/evp.h>

#include <array>
#include <stdexcept>

#include "sheet/sheet.hpp"
#include "sheet/write.hpp"

namespace steelyard::sheet {
namespace {

using Digest = std::array<unsigned char, 32>;

Digest sha256(std::string_view text) {
  Digest digest{};
  unsigned length = 0;
  if (EVP_Digest(text.data(), text.size(), digest.data(), &length, EVP_sha256(), nullptr) != 1 ||
      length != digest.size())
    throw std::runtime_error("SHA-256 could not be computed: the cryptographic library refused it");
  return digest;
}

void append_hex(std::string& out, unsigned char byte) {
  constexpr std::string_view digits = "0123456789abcdef";
  out += digits[byte >> 4];
  out += digits[byte & 15];
}

}  // namespace

std::string content_hash(const rig::Session& session) {
  std::string text;
  for (const unsigned char byte : sha256(write(session))) append_hex(text, byte);
  return text;
}

std::string derived_id(const rig::Session& session) {
  Digest digest = sha256(write_canonical(session, false).text);
  digest[6] = static_cast<unsigned char>((digest[6] & 0x0F) | 0x80);
  digest[8] = static_cast<unsigned char>((digest[8] & 0x3F) | 0x80);
  std::string id;
  for (std::size_t i = 0; i < 16; ++i) {
    if (i == 4 || i == 6 || i == 8 || i == 10) id += '-';
    append_hex(id, digest[i]);
  }
  return id;
}

}  // namespace steelyard::sheet
