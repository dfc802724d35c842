// Any bytes as a sheet: read never throws and gives a session or faults; a session that was read is written and read
// again to the same.
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "sheet/sheet.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace steelyard;
  const sheet::Read read = sheet::read({reinterpret_cast<const char*>(data), size});
  if (read.session.has_value() != read.faults.empty()) std::abort();
  if (!read.session) return 0;
  const sheet::Read again = sheet::read(sheet::write(*read.session));
  if (!again.session || *again.session != *read.session) std::abort();
  return 0;
}
