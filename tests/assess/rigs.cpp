#include "tests/assess/rigs.hpp"

#include <boost/test/unit_test.hpp>

#include "reconcile/reconcile.hpp"
#include "sheet/sheet.hpp"

namespace steelyard::test {
namespace {

struct Axle {
  const char* at;
  double left, right;
};

json by_wheels(const std::vector<Axle>& axles) {
  json out = json::array();
  for (const Axle& axle : axles) {
    out.push_back(reading(std::string(axle.at) + ".left", axle.left));
    out.push_back(reading(std::string(axle.at) + ".right", axle.right));
  }
  return out;
}

json frame(const json& limits) {
  json sheet;
  sheet["format"] = "steelyard-session/1";
  sheet["client"] = {{"name", "Tallow Creek Water Board"}};
  sheet["rig"]["tow_vehicle"] = {
      {"label", "survey utility"},
      {"axles", {{{"at", 0}, {"group", "front"}}, {{"at", 3000}, {"group", "rear"}}}}};
  sheet["rig"]["limits"] = limits;
  sheet["states"] = json::array();
  return sheet;
}

}  // namespace

json reading(const std::string& at, double load) {
  return {{"at", at}, {"load", load}};
}

const assess::Row& Assessed::row(std::string_view of, std::string_view state) const {
  const assess::Row* found = nullptr;
  for (const assess::Row& candidate : assessment.rows) {
    if (candidate.of != of || candidate.state.value_or("") != state) continue;
    BOOST_REQUIRE_MESSAGE(!found, "several rows of " << of << " in " << state);
    found = &candidate;
  }
  BOOST_REQUIRE_MESSAGE(found, "no row of " << of << " in “" << state << "”");
  return *found;
}

std::vector<const assess::Row*> Assessed::rows_of(std::size_t limit) const {
  std::vector<const assess::Row*> out;
  for (const assess::Row& row : assessment.rows)
    if (row.limit == limit) out.push_back(&row);
  return out;
}

Assessed run(const json& sheet) {
  auto read = sheet::read(sheet.dump());
  for (const sheet::Fault& fault : read.faults) BOOST_ERROR(sheet::to_text(fault));
  BOOST_REQUIRE(read.session);
  Assessed out{std::move(*read.session), {}, {}};
  out.findings = reconcile::reconcile(out.session);
  out.assessment = assess::assess(out.session, out.findings);
  return out;
}

json whole_rig(const json& limits) {
  json sheet = frame(limits);
  sheet["rig"]["tow_vehicle"]["overhang"] = 1200;
  sheet["rig"]["trailer"] = {{"axles", 2}, {"suspension", "load_sharing"}, {"coupling_to_axles", 4000}};
  json apart{{"name", "apart"}, {"hitched", false}, {"support", "coupling"}};
  apart["readings"] = by_wheels({{"tow.1", 690, 710}, {"tow.2", 640, 660}, {"trailer.1", 330, 345}});
  apart["readings"].push_back(reading("trailer.2", 675));
  apart["readings"].push_back(reading("coupling", 150));
  json together{{"name", "together"}, {"hitched", true}};
  together["readings"] = by_wheels({{"tow.1", 660, 680}, {"tow.2", 750, 760}, {"trailer.1", 330, 345}});
  together["readings"].push_back(reading("trailer.2", 675));
  json bars{{"name", "bars"}, {"hitched", true}, {"weight_distribution", true}, {"travels", true}};
  bars["readings"] = by_wheels({{"tow.1", 690, 702}, {"tow.2", 710, 718}, {"trailer.1", 340, 350}});
  bars["readings"].push_back(reading("trailer.2", 690));
  sheet["states"] = {apart, together, bars};
  return sheet;
}

json vehicle_alone(const json& limits) {
  json sheet = frame(limits);
  json alone{{"name", "alone"}, {"hitched", false}};
  alone["readings"] = by_wheels({{"tow.1", 690, 710}, {"tow.2", 640, 660}});
  sheet["states"].push_back(alone);
  return sheet;
}

json drawbar_rig(const json& limits) {
  json sheet = frame(limits);
  sheet["rig"]["trailer"] = {{"axles", 2}, {"self_supporting", true}};
  for (const bool hitched : {false, true}) {
    json state{{"name", hitched ? "together" : "apart"}, {"hitched", hitched}};
    state["readings"] = {reading("tow.1", 1400), reading("tow.2", 1300), reading("trailer.1", 900),
                         reading("trailer.2", 1100)};
    sheet["states"].push_back(state);
  }
  return sheet;
}

json& state_of(json& sheet, std::string_view name) {
  for (json& state : sheet["states"])
    if (state["name"] == name) return state;
  BOOST_FAIL("there is no state " << name);
  return sheet["states"][0];
}

void forget(json& state, std::string_view beginning) {
  json kept = json::array();
  for (const json& one : state["readings"])
    if (!one["at"].get<std::string>().starts_with(beginning)) kept.push_back(one);
  BOOST_REQUIRE(kept.size() < state["readings"].size());
  state["readings"] = kept;
}

std::string text(assess::Outcome outcome) {
  return std::string(to_text(outcome));
}

}  // namespace steelyard::test
