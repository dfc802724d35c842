// Any bytes as a fleet file: every line is a sheet or has faults, and the reader comes to an end.
#include <cstdint>
#include <cstdlib>
#include <sstream>
#include <string>

#include "sheet/sheet.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace steelyard;
  std::istringstream in(std::string(reinterpret_cast<const char*>(data), size));
  sheet::FleetReader reader(in);
  std::size_t sheets = 0;
  while (const auto read = reader.next()) {
    if (read->session.has_value() != read->faults.empty()) std::abort();
    if (++sheets > size + 1) std::abort();
  }
  return 0;
}
