// Vehicles measured by others: the weights and centres of gravity of NHTSA's New Car Assessment Program, 2004
// (data/ncap_2004.json), Jazar's example of a car's axle loads, and the trade's rule of thumb.
#include <boost/test/unit_test.hpp>
#include <cmath>

#include "tests/published/chain.hpp"

namespace {

using namespace steelyard;
namespace tt = boost::test_tools;
using nlohmann::json;

json reading(const char* at, double load) {
  return {{"at", at}, {"load", load}};
}

json state(const char* name, bool hitched, const json& readings) {
  return {{"name", name}, {"hitched", hitched}, {"readings", readings}};
}

/// A trailer of one axle hung on a vehicle, worked out by moments; lb and in.
struct Hung {
  double wheelbase, front, rear;                     // of the vehicle by itself
  double overhang, to_axle, mass, trailer_cg_ahead;  // ahead of its axle
  [[nodiscard]] double coupling() const { return mass * trailer_cg_ahead / to_axle; }
  /// Moments about the front axle's contact: what the rear axle carries balances the vehicle and the
  /// coupling.
  [[nodiscard]] double rear_hitched() const {
    return (rear * wheelbase + coupling() * (wheelbase + overhang)) / wheelbase;
  }
  /// Moments about the rear axle's contact: the coupling, behind it, lifts the front.
  [[nodiscard]] double front_hitched() const {
    return (front * wheelbase - coupling() * overhang) / wheelbase;
  }
};

json sheet_of(const Hung& rig) {
  json sheet = test::two_axle_sheet("lb", "in", rig.wheelbase);
  sheet["rig"]["trailer"] = {{"axles", 1}, {"coupling_to_axles", rig.to_axle}};
  json apart = state("apart", false,
                     {reading("tow.1", rig.front), reading("tow.2", rig.rear),
                      reading("trailer", rig.mass - rig.coupling()), reading("coupling", rig.coupling())});
  apart["support"] = "coupling";
  sheet["states"] = {apart,
                     state("together", true,
                           {reading("tow.1", rig.front_hitched()), reading("tow.2", rig.rear_hitched()),
                            reading("trailer", rig.mass - rig.coupling())})};
  return sheet;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(measured_vehicles)

/// Every vehicle alone: the rear axle and the whole are read, the front follows by statics. From W and the
/// centre of gravity a behind the front axle: rear W·a/L, front W(1 − a/L).
BOOST_AUTO_TEST_CASE(axle_loads_and_centres_of_gravity) {
  const json rows = test::data("ncap_2004").at("rows");
  BOOST_REQUIRE_EQUAL(rows.size(), 23u);
  for (const json& row : rows) {
    const double wheelbase = row.at("wheelbase_in"), whole = row.at("test_weight_lb"),
                 a = row.at("cg_long_in");
    json sheet = test::two_axle_sheet("lb", "in", wheelbase);
    sheet["states"].push_back(
        state("alone", false, {reading("tow", whole), reading("tow.2", whole * a / wheelbase)}));
    const test::Chain chain = test::run(sheet);
    BOOST_TEST_CONTEXT("row " << row.at("row")) {
      const double front = chain.pounds("tow_unhitched_front"), rear = chain.pounds("tow_unhitched_rear"),
                   total = chain.pounds("tow_unhitched_total");
      BOOST_TEST(total == whole, tt::tolerance(1e-9));
      BOOST_TEST(std::abs(front - row.at("front_lb").get<double>()) <= 0.0005);  // three decimals
      BOOST_TEST(std::abs(rear - row.at("rear_lb").get<double>()) <= 0.0005);
      BOOST_TEST(std::abs(chain.pounds("axle_load", "alone", "tow.1") - row.at("front_lb").get<double>()) <=
                 0.0005);
      BOOST_TEST(wheelbase * rear / total == a, tt::tolerance(1e-9));
      BOOST_TEST(chain.assessment.travels_in.value() == "alone");
    }
  }
}

/// The same vehicles with an invented trailer hung on: its coupling load and the overhang, which no tape
/// tells, come back.
BOOST_AUTO_TEST_CASE(a_trailer_hung_on_each) {
  const json rows = test::data("ncap_2004").at("rows");
  for (const json& row : rows) {
    const double n = row.at("row"), wheelbase = row.at("wheelbase_in");
    const Hung rig{wheelbase, row.at("front_lb"), row.at("rear_lb"), 36 + n, 150 + 2 * n, 1800 + 60 * n, 16};
    const test::Chain chain = test::run(sheet_of(rig));
    BOOST_TEST_CONTEXT("row " << n) {
      BOOST_TEST(chain.findings.fit.degrees_of_freedom > 0);
      BOOST_TEST(chain.findings.fit.chi_square < 1e-9);
      BOOST_TEST(chain.pounds("coupling_load") == rig.coupling(), tt::tolerance(1e-8));
      BOOST_TEST(chain.inches("overhang") == rig.overhang, tt::tolerance(1e-7));
      BOOST_TEST(chain.inches("inferred_overhang") == rig.overhang, tt::tolerance(1e-7));
      BOOST_TEST(chain.value("load_transfer_ratio") == 1 + rig.overhang / wheelbase, tt::tolerance(1e-8));
      BOOST_TEST(chain.pounds("trailer_mass") == rig.mass, tt::tolerance(1e-8));
      BOOST_TEST(chain.pounds("tow_hitched_front", "together") == rig.front_hitched(), tt::tolerance(1e-8));
      BOOST_TEST(chain.pounds("tow_hitched_rear", "together") == rig.rear_hitched(), tt::tolerance(1e-8));
    }
  }
}

/// Jazar, Vehicle Dynamics, chapter 2, example 39: 890 kg, centre of gravity 0.78 m behind the front axle of
/// a 2.35 m wheelbase; forces under one wheel. The front axle and the whole are read, the rear follows.
BOOST_AUTO_TEST_CASE(axle_loads_of_jazar) {
  const json car = test::data("statics_textbook").at("jazar_39");
  const double mass = car.at("m"), g = car.at("g"), a1 = car.at("a1"), length = car.at("l");
  json sheet = test::two_axle_sheet("kg", "mm", 1000 * length);
  sheet["states"].push_back(
      state("alone", false, {reading("tow", mass), reading("tow.1", mass * (length - a1) / length)}));
  const test::Chain chain = test::run(sheet);
  BOOST_TEST(chain.value("tow_unhitched_front") * g / 2 == car.at("Fz1_per_wheel").get<double>(),
             tt::tolerance(1e-9));
  BOOST_TEST(chain.value("tow_unhitched_rear") * g / 2 == car.at("Fz2_per_wheel").get<double>(),
             tt::tolerance(1e-9));
}

/// Common practice, no source: with an overhang of 1200 mm on a wheelbase of 2850 mm the rear axle takes
/// 142 % of the coupling load, so 300 kg there add 426 kg and take 126 kg off the front. By moments:
/// 300·(1 + 1200/2850) = 426.316, 300·1200/2850 = 126.316. Nothing is read hitched: it is foretold from
/// the tape.
BOOST_AUTO_TEST_CASE(rule_of_thumb_for_the_rear_axle) {
  json sheet = test::two_axle_sheet("kg", "mm", 2850);
  sheet["rig"]["tow_vehicle"]["overhang"] = 1200;
  sheet["rig"]["trailer"] = {{"axles", 2}, {"coupling_to_axles", 4000}};
  json apart = state(
      "apart", false,
      {reading("tow.1", 1300), reading("tow.2", 1250), reading("trailer", 2700), reading("coupling", 300)});
  apart["support"] = "coupling";
  sheet["states"] = {apart, state("together", true, json::array())};
  const test::Chain chain = test::run(sheet);
  BOOST_TEST(std::round(100 * chain.value("load_transfer_ratio")) == 142.0);
  const double rear = chain.value("tow_hitched_rear", "together") - chain.value("tow_unhitched_rear"),
               front = chain.value("tow_hitched_front", "together") - chain.value("tow_unhitched_front");
  BOOST_TEST(std::round(rear) == 426.0);
  BOOST_TEST(std::round(front) == -126.0);
  BOOST_TEST(rear == 300 * (1 + 1200.0 / 2850), tt::tolerance(1e-9));
  BOOST_TEST(front == -300 * 1200.0 / 2850, tt::tolerance(1e-8));
}

/// The same rule the other way: all axles read hitched, no tape; the weights themselves say 142 %.
BOOST_AUTO_TEST_CASE(rule_of_thumb_from_the_weights_alone) {
  json sheet = test::two_axle_sheet("kg", "mm", 2850);
  sheet["rig"]["trailer"] = {{"axles", 2}, {"coupling_to_axles", 4000}};
  json apart = state(
      "apart", false,
      {reading("tow.1", 1300), reading("tow.2", 1250), reading("trailer", 2700), reading("coupling", 300)});
  apart["support"] = "coupling";
  sheet["states"] = {
      apart, state("together", true,
                   {reading("tow.1", 1300 - 126), reading("tow.2", 1250 + 426), reading("trailer", 2700)})};
  const test::Chain chain = test::run(sheet);
  BOOST_TEST(std::round(100 * chain.value("inferred_transfer_ratio")) == 142.0);
  // Readings rounded to 1 kg: 126/300 of 2850 mm is 1197, the rule's 1200 is within that rounding.
  BOOST_TEST(std::abs(chain.value("inferred_overhang") - 1200) < 2850.0 / 300);
}

BOOST_AUTO_TEST_SUITE_END()
