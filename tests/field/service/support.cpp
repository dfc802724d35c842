#include "support.hpp"

#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <fstream>

namespace steelyard::test {

using nlohmann::json;

rig::Session session_of(const json& sheet) {
  const sheet::Read read = sheet::read(sheet.dump());
  for (const sheet::Fault& fault : read.faults) BOOST_TEST_MESSAGE(sheet::to_text(fault));
  BOOST_REQUIRE(read.session.has_value());
  return *read.session;
}

json sample_sheet(const std::string& name) {
  std::ifstream in(std::string(STEELYARD_SOURCE_DIR "/sample_data/") + name + ".json");
  BOOST_REQUIRE(in.is_open());
  return json::parse(in);
}

json empty_sheet() {
  json sheet = sample_sheet("tcw-012-pump-trailer");
  for (json& state : sheet["states"]) state["readings"] = json::array();
  return sheet;
}

json small_sheet() {
  return json::parse(R"({
    "format": "steelyard-session/1", "id": "small-0001",
    "scales": [{"id": "P1", "capacity": 1500, "division": 1}],
    "rig": {"tow_vehicle": {"label": "test wagon", "axles": [{"at": 0, "group": "front"}, {"at": 3000, "group": "rear"}]},
            "trailer": {"label": "test trailer", "axles": 1},
            "limits": [{"of": "combination", "value": 4000, "source": "test plate"}]},
    "states": [{"name": "apart", "hitched": false, "support": "coupling", "readings": []},
               {"name": "together", "hitched": true, "readings": []}]})");
}

json reading_of(const std::string& id, const std::string& at, double load) {
  return {{"id", id}, {"at", at}, {"load", load}, {"scale", "P1"}, {"taken_at", "2026-10-03T09:00:00+02:00"}};
}

std::vector<std::string> places_of_faults(const std::vector<sheet::Fault>& faults) {
  std::vector<std::string> places;
  for (const sheet::Fault& fault : faults) places.push_back(fault.place);
  std::sort(places.begin(), places.end());
  return places;
}

}  // namespace steelyard::test
