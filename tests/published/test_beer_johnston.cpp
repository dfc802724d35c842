// Beer & Johnston, Vector Mechanics for Engineers: Statics, 9th ed., problems 6.95 and 6.96: a truck, its
// trailer and a weight-distributing hitch, in lb and ft. The sheets stand in cases/, their readings worked
// out from the problem's weights and dimensions by moments; what is expected here is the book's answers, in
// data/statics_textbook.json. The printed answers are from memory there, and were recomputed by hand.
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <tuple>

#include "tests/published/chain.hpp"

namespace {

using namespace steelyard;
namespace tt = boost::test_tools;

/// The overhang taped, or told by the weights alone.
struct Taped {
  static constexpr auto sheet = "beer_johnston_with_tape";
};
struct Untaped {
  static constexpr auto sheet = "beer_johnston_without_tape";
};
using Variants = std::tuple<Taped, Untaped>;
constexpr double inches_per_foot = 12, millimetres_per_foot = 304.8;
constexpr double pound = 0.45359237;  // kg, exact (international yard and pound agreement, 1959)
constexpr double last_digit = 1e-9;   // relative: the readings carry 16 digits

nlohmann::json book() {
  return test::data("statics_textbook").at("beer_johnston_trailer");
}

/// A figure printed in whole pounds, or to the tenth, is off by at most half its last digit.
void check_printed(double found, double printed, double half_digit) {
  BOOST_TEST(std::abs(found - printed) <= half_digit, found << " lb, the book prints " << printed);
}

}  // namespace

BOOST_AUTO_TEST_SUITE(beer_johnston)

BOOST_AUTO_TEST_CASE_TEMPLATE(unhitched_loads, Variant, Variants) {
  const test::Chain rig = test::run_case(Variant::sheet);
  const auto loads = book().at("unhitched");
  const auto near = tt::tolerance(last_digit);
  BOOST_TEST(rig.pounds("tow_unhitched_front") == loads.at("front").get<double>(), near);
  BOOST_TEST(rig.pounds("tow_unhitched_rear") == loads.at("rear").get<double>(), near);
  BOOST_TEST(rig.pounds("tow_unhitched_total") == book().at("W_truck").get<double>(), near);
  BOOST_TEST(rig.pounds("trailer_mass") == book().at("W_trailer").get<double>(), near);
  BOOST_TEST(rig.pounds("combination_mass") == 2900.0 + 2400.0, near);
  // Consistent to the last digit: nothing is left over and nothing is suspect.
  BOOST_TEST(rig.findings.fit.degrees_of_freedom > 0);
  BOOST_TEST(rig.findings.fit.chi_square < 1e-12);
  BOOST_TEST(rig.findings.fit.consistent.value());
  BOOST_TEST(rig.findings.suspects.empty());
}

BOOST_AUTO_TEST_CASE_TEMPLATE(coupling_load_and_levers, Variant, Variants) {
  const test::Chain rig = test::run_case(Variant::sheet);
  const auto near = tt::tolerance(last_digit);
  const double load = book().at("hitched").at("ball_load");
  BOOST_TEST(rig.pounds("coupling_load") == load, near);
  BOOST_TEST(rig.pounds("coupling_load") == 436.364, tt::tolerance(2e-6));
  BOOST_TEST(rig.value("coupling_share") == load / 2400, near);
  for (const char* overhang : {"overhang", "inferred_overhang"})  // 3 ft
    BOOST_TEST(rig.inches(overhang) == book().at("hitch_to_truck_rear").get<double>() * inches_per_foot,
               near);
  for (const char* ratio : {"load_transfer_ratio", "inferred_transfer_ratio"})  // 1 + 3/9
    BOOST_TEST(rig.value(ratio) == 4.0 / 3.0, near);
  BOOST_TEST(rig.value("load_transfer_ratio") == 1.33333, tt::tolerance(5e-6));
  BOOST_TEST(rig.value("front_relief_ratio") == 1.0 / 3.0, near);
  for (const char* state : {"unhitched", "hitched", "bars on"})
    BOOST_TEST(rig.pounds("coupling_load_at_height", state) == load, near);
}

BOOST_AUTO_TEST_CASE_TEMPLATE(hitched_loads_of_6_95, Variant, Variants) {
  const test::Chain rig = test::run_case(Variant::sheet);
  const auto near = tt::tolerance(last_digit);
  const auto loads = book().at("hitched");
  const double front = rig.pounds("tow_hitched_front", "hitched"),
               rear = rig.pounds("tow_hitched_rear", "hitched");
  BOOST_TEST(front == loads.at("front").get<double>(), near);
  BOOST_TEST(rear == loads.at("rear").get<double>(), near);
  BOOST_TEST(rig.pounds("trailer_axles_hitched", "hitched") == loads.at("trailer_axle").get<double>(), near);
  BOOST_TEST(rig.pounds("axle_load", "hitched", "trailer.1") == loads.at("trailer_axle").get<double>(), near);
  BOOST_TEST(rig.pounds("coupling_load_net", "hitched") == loads.at("ball_load").get<double>(), near);
  const auto printed = book().at("printed_per_wheel");
  check_printed(rig.pounds("wheel_load", "hitched", "trailer.1.left"), printed.at("A"), 0.5);
  check_printed(rig.pounds("wheel_load", "hitched", "tow.2.left"), printed.at("B"), 0.5);
  check_printed(rig.pounds("wheel_load", "hitched", "tow.1.right"), printed.at("C"), 0.5);
  check_printed((rear - rig.pounds("tow_unhitched_rear")) / 2, printed.at("dB"), 0.5);
  check_printed((front - rig.pounds("tow_unhitched_front")) / 2, printed.at("dC"), 0.05);
}

BOOST_AUTO_TEST_CASE_TEMPLATE(weight_distribution_of_6_96, Variant, Variants) {
  const test::Chain rig = test::run_case(Variant::sheet);
  const auto near = tt::tolerance(last_digit);
  const auto loads = book().at("wdh");
  const double moment =  // lb·ft
      rig.value("weight_distribution_moment", "bars on") / (pound * millimetres_per_foot);
  BOOST_TEST(moment == loads.at("moment").get<double>(), near);
  BOOST_TEST(moment == 1945.95, tt::tolerance(5e-6));
  // The front axle loses 145.4545 lb and 275.184 of them come back: well past its unhitched load.
  BOOST_TEST(100 * rig.value("front_axle_restoration", "bars on") == loads.at("FALR_percent").get<double>(),
             near);
  BOOST_TEST(100 * rig.value("front_axle_restoration", "bars on") == 189.19, tt::tolerance(5e-5));
  BOOST_TEST(rig.pounds("tow_hitched_front", "bars on") == loads.at("front").get<double>(), near);
  BOOST_TEST(rig.pounds("tow_hitched_rear", "bars on") == loads.at("rear").get<double>(), near);
  BOOST_TEST(rig.pounds("trailer_axles_hitched", "bars on") == loads.at("trailer_axle").get<double>(), near);
  BOOST_TEST(rig.pounds("coupling_load_net", "bars on") == loads.at("vertical_hitch_force").get<double>(),
             near);
  const auto printed = book().at("printed_per_wheel");
  check_printed(rig.pounds("wheel_load", "bars on", "trailer.1.right"), printed.at("wdh_A"), 0.5);
  check_printed(rig.pounds("wheel_load", "bars on", "tow.2.right"), printed.at("wdh_B"), 0.5);
  check_printed(rig.pounds("wheel_load", "bars on", "tow.1.left"), printed.at("wdh_C"), 0.5);
  // The problem's two chains pull 1.7 ft from the ball: the moment is 2·1.7·T.
  check_printed(moment / (2 * book().at("chain_arm").get<double>()), printed.at("T"), 0.5);
}

/// Front gains over the trailer axle's gain = (D + o)/L (hand calculation: (11 + 3)/9).
BOOST_AUTO_TEST_CASE_TEMPLATE(what_the_bars_move, Variant, Variants) {
  const test::Chain rig = test::run_case(Variant::sheet);
  const double front = rig.value("tow_hitched_front", "bars on") - rig.value("tow_hitched_front", "hitched"),
               trailer = rig.value("trailer_axles_hitched", "bars on") -
                         rig.value("trailer_axles_hitched", "hitched");
  BOOST_TEST(front / trailer == 14.0 / 9.0, tt::tolerance(1e-8));
}

BOOST_AUTO_TEST_CASE(the_tape_is_used_where_it_is_given) {
  const auto taped = [](const std::string& name) {
    int count = 0;
    for (const auto& row : test::run_case(name).findings.observations)
      count += row.kind == reconcile::ObservationKind::overhang;
    return count;
  };
  BOOST_TEST(taped(Untaped::sheet) == 0);
  BOOST_TEST(taped(Taped::sheet) == 1);
  // 0.4 in on the tape is tighter than the weights are: it must tell in the uncertainty.
  const auto u = [](const std::string& name) { return test::run_case(name).findings.find("overhang")->u; };
  BOOST_TEST(u(Taped::sheet) < 0.4 * 25.4);
  BOOST_TEST(u(Untaped::sheet) > u(Taped::sheet));
}

BOOST_AUTO_TEST_SUITE_END()
