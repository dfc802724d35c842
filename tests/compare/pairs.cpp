#include "pairs.hpp"

#include <boost/test/unit_test.hpp>
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

rig::Session sample(const std::string& name) {
  std::ifstream in(STEELYARD_SOURCE_DIR "/sample_data/" + name + ".json", std::ios::binary);
  return read_sheet({std::istreambuf_iterator<char>(in), {}});
}

rig::Session before_springs() {
  return sample("tcw-018-before-springs");
}

rig::Session after_springs() {
  return sample("tcw-018-after-springs");
}

compare::Comparison compared(const rig::Session& before, const rig::Session& after) {
  const Weighed one(before), other(after);
  return compare::compare(one.side(), other.side());
}

}  // namespace steelyard::test
