// Any bytes as CSV files of one import, parted by lines "=====": reading never throws and gives sessions or faults, each
// fault with a place in a file that there is; a session that was read is a sound sheet.
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>

#include "sheet/csv_sheets.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace steelyard;
  std::string_view rest(reinterpret_cast<const char*>(data), size);
  constexpr std::string_view parting = "=====\n";
  std::vector<sheet::CsvFile> files;
  while (files.size() < 8) {
    const std::size_t end = rest.find(parting);
    files.push_back({"f" + std::to_string(files.size()) + ".csv", std::string(rest.substr(0, end))});
    if (end == std::string_view::npos) break;
    rest.remove_prefix(end + parting.size());
  }
  const sheet::ReadCsv read = sheet::read_csv(files);
  if (!read.sessions.empty() && !read.faults.empty()) std::abort();
  for (const sheet::Fault& fault : read.faults)
    if (fault.what.empty() || (!fault.place.empty() && !fault.place.starts_with('f'))) std::abort();
  for (const rig::Session& session : read.sessions) {
    const sheet::Read again = sheet::read(sheet::write(session));
    if (!again.session || *again.session != session) std::abort();
  }
  return 0;
}
