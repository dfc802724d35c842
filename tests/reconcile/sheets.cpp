#include "sheets.hpp"

#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "sheet/sheet.hpp"

namespace steelyard::test {

rig::Session read_sheet(const std::string& text) {
  auto read = sheet::read(text);
  for (const sheet::Fault& fault : read.faults) BOOST_ERROR(sheet::to_text(fault));
  BOOST_REQUIRE(read.session);
  return *read.session;
}

std::vector<rig::Session> sample_fleet() {
  std::vector<std::filesystem::path> paths;
  for (const auto& entry : std::filesystem::directory_iterator(STEELYARD_SOURCE_DIR "/sample_data"))
    if (entry.path().extension() == ".json") paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());
  std::vector<rig::Session> out;
  for (const auto& path : paths) {
    std::ifstream in(path, std::ios::binary);
    out.push_back(read_sheet({std::istreambuf_iterator<char>(in), {}}));
  }
  BOOST_REQUIRE_GE(out.size(), 14u);
  return out;
}

std::vector<rig::Session> drawn(const std::string& name) {
  std::ifstream in(STEELYARD_DRAWN "/" + name + ".jsonl");
  BOOST_REQUIRE_MESSAGE(in, "not drawn yet: run this test through ctest");
  std::vector<rig::Session> out;
  sheet::FleetReader reader(in);
  while (auto read = reader.next()) {
    for (const sheet::Fault& fault : read->faults) BOOST_ERROR(sheet::to_text(fault));
    if (read->session) out.push_back(std::move(*read->session));
  }
  BOOST_REQUIRE(!out.empty());
  return out;
}

}  // namespace steelyard::test
