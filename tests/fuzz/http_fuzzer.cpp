// Any bytes as HTTP requests one behind the other: reading them whole and byte by byte lets in the same requests; nothing
// but a Fault is thrown; what is let in has a path without tricks.
#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <vector>

#include "field/http/fault.hpp"
#include "field/http/request_reader.hpp"
#include "field/http/rules.hpp"

namespace {

using namespace steelyard::field;

constexpr std::size_t header_bytes = 2048, body_bytes = 1024;

void check_path(const std::string& path) {
  if (path.empty() || path.front() != '/' || (path + "/").find("/../") != std::string::npos) std::abort();
  if (path.find("//") != std::string::npos || path.find('\\') != std::string::npos) std::abort();
}

/// Method, target and body of each request that was let in, until one is refused or not whole.
std::vector<std::string> let_in(const std::string& bytes, std::size_t piece) {
  std::vector<std::string> out;
  std::string buffer;
  std::size_t at = 0;
  try {
    while (true) {
      http::RequestReader reader(header_bytes, body_bytes);
      auto found = reader.read(buffer);
      while (found != http::RequestReader::Found::whole) {
        if (found == http::RequestReader::Found::head) {
          check_path(http::admit(reader.head(), {}, {}).path);
        } else if (at == bytes.size()) {
          return out;
        } else {
          buffer += bytes.substr(at, piece);
          at = std::min(bytes.size(), at + piece);
        }
        found = reader.read(buffer);
      }
      out.push_back(reader.head().method + " " + reader.head().target + "\n" + reader.take_body());
    }
  } catch (const http::Fault&) {
    return out;
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string bytes(reinterpret_cast<const char*>(data), size);
  // Wrapping that is too long for its limit passes where all of it is there at once; nothing else may differ.
  const auto whole = let_in(bytes, bytes.size() + 1), pieces = let_in(bytes, 1);
  if (pieces.size() > whole.size() || (pieces.size() < whole.size() && bytes.size() <= header_bytes)) std::abort();
  for (std::size_t i = 0; i < pieces.size(); ++i)
    if (whole[i] != pieces[i]) std::abort();
  return 0;
}
