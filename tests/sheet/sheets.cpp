#include "sheets.hpp"

#include <boost/test/unit_test.hpp>
#include <fstream>
#include <iterator>

namespace steelyard::tests {

std::string case_text(const std::string& name) {
  std::ifstream in(std::string(STEELYARD_SOURCE_DIR) + "/tests/sheet/cases/" + name, std::ios::binary);
  BOOST_REQUIRE_MESSAGE(in, "cannot open the case " + name);
  return {std::istreambuf_iterator<char>(in), {}};
}

rig::Session sound(std::string_view text) {
  sheet::Read read = sheet::read(text);
  for (const sheet::Fault& fault : read.faults) BOOST_ERROR(sheet::to_text(fault));
  BOOST_REQUIRE(read.session.has_value());
  return std::move(*read.session);
}

std::vector<std::string> faults_of(std::string_view text) {
  const sheet::Read read = sheet::read(text);
  BOOST_CHECK(!read.session);
  BOOST_CHECK(!read.faults.empty());
  std::vector<std::string> texts;
  for (const sheet::Fault& fault : read.faults) texts.push_back(sheet::to_text(fault));
  return texts;
}

std::string smallest(const std::string& more) {
  return R"({"format":"steelyard-session/1",)"
         R"("rig":{"tow_vehicle":{"axles":[{"at":0,"group":"front"},{"at":2800,"group":"rear"}]}},)"
         R"("states":[{"name":"alone","hitched":false,"readings":[{"at":"tow.1","load":900}]}])" +
         more + "}";
}

}  // namespace steelyard::tests
