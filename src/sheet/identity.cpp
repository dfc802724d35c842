#include "sheet/identity.hpp"

#include "digest/digest.hpp"
#include "sheet/sheet.hpp"
#include "sheet/write.hpp"

namespace steelyard::sheet {

std::string content_hash(const rig::Session& session) {
  return digest::sha256_hex(write(session));
}

std::string derived_id(const rig::Session& session) {
  digest::Sha256 digest = digest::sha256(write_canonical(session, false).text);
  digest[6] = static_cast<unsigned char>((digest[6] & 0x0F) | 0x80);
  digest[8] = static_cast<unsigned char>((digest[8] & 0x3F) | 0x80);
  std::string id = digest::hex(digest).substr(0, 32);
  for (const std::size_t place : {20u, 16u, 12u, 8u}) id.insert(place, 1, '-');
  return id;
}

}  // namespace steelyard::sheet
