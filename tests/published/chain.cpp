#include "tests/published/chain.hpp"

#include <boost/test/unit_test.hpp>
#include <fstream>

#include "reconcile/reconcile.hpp"
#include "sheet/sheet.hpp"
#include "units/quantity.hpp"

namespace steelyard::test {
namespace {

nlohmann::json parsed(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  BOOST_REQUIRE_MESSAGE(in, "cannot read " + path);
  return nlohmann::json::parse(in);
}

}  // namespace

double Chain::value(std::string_view name, std::string_view state, std::string_view at) const {
  const reconcile::Quantity* found = findings.find(name, state, at);
  BOOST_REQUIRE_MESSAGE(found, "there is no quantity " << name << ' ' << state << ' ' << at);
  BOOST_REQUIRE_MESSAGE(found->determinable, name << ' ' << state << ' ' << at << " is not determinable");
  return found->value;
}

double Chain::pounds(std::string_view name, std::string_view state, std::string_view at) const {
  return value(name, state, at) / units::kilograms_per_pound;
}

double Chain::inches(std::string_view name) const {
  return value(name) / units::millimetres_per_inch;
}

Chain run(const nlohmann::json& sheet) {
  auto read = sheet::read(sheet.dump());
  for (const sheet::Fault& fault : read.faults) BOOST_ERROR(sheet::to_text(fault));
  BOOST_REQUIRE(read.session);
  Chain chain{std::move(*read.session), {}, {}};
  chain.findings = reconcile::reconcile(chain.session);
  chain.assessment = assess::assess(chain.session, chain.findings);
  return chain;
}

Chain run_case(const std::string& name) {
  return run(parsed(STEELYARD_SOURCE_DIR "/tests/published/cases/" + name + ".json"));
}

nlohmann::json data(const std::string& name) {
  return parsed(STEELYARD_SOURCE_DIR "/tests/published/data/" + name + ".json");
}

nlohmann::json two_axle_sheet(std::string_view load, std::string_view length, double wheelbase) {
  nlohmann::json sheet;
  sheet["format"] = "steelyard-session/1";
  sheet["units"] = {{"load", load}, {"length", length}};
  sheet["rig"]["tow_vehicle"]["axles"] = {{{"at", 0}, {"group", "front"}},
                                          {{"at", wheelbase}, {"group", "rear"}}};
  sheet["states"] = nlohmann::json::array();
  return sheet;
}

}  // namespace steelyard::test
