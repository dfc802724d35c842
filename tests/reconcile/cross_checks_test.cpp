// Cross-checks by hand: one rig of round figures, every reading on one scale.
//
// Each reading has u² = 6²/6 + 1² = 7 (division 6, repeatability 1, no placement), the scale a gain u of
// 0.001.
#include "reconcile/cross_checks.hpp"

#include <boost/test/unit_test.hpp>
#include <cmath>
#include <string>

#include "reconcile/reconcile.hpp"
#include "sheets.hpp"

namespace {

using namespace steelyard;
using reconcile::CrossCheck;
using Kind = CrossCheck::Kind;
using Way = CrossCheck::Way;

constexpr double of_reading = 7, gain_u = 0.001;
constexpr double e_u = 0.15 * 18;    // single axle, height not measured
constexpr double level_u = 0.7 * 2;  // mm: 700 mm above ground of 2 mm a metre
constexpr double length = 3000, length_u = 5, overhang = 1200, reach = 4000;

std::string reading(const std::string& at, double load, const std::string& more = "") {
  return R"({"at": ")" + at + R"(", "load": )" + std::to_string(load) + R"(, "scale": "W")" + more + '}';
}

std::string sheet(const std::string& apart, const std::string& together, const std::string& bars,
                  const std::string& support = "coupling", const std::string& tape = "1200") {
  std::string text = R"({"format": "steelyard-session/1", "placement_u": 0,
    "scales": [{"id": "W", "division": 6, "repeatability": 1, "gain_u": 0.001}],
    "rig": {"tow_vehicle": {"axles": [{"at": 0, "group": "front"}, {"at": 3000, "group": "rear"}],)";
  if (!tape.empty()) text += R"("overhang": )" + tape + ',';
  return text + R"("wheelbase_u": 5},
    "trailer": {"axles": 1, "suspension": "single", "coupling_to_axles": 4000, "coupling_to_jockey": 400}},
    "states": [{"name": "apart", "hitched": false, "support": ")" +
         support + R"(", "readings": [)" + apart +
         R"(]}, {"name": "together", "hitched": true, "readings": [)" + together +
         R"(]}, {"name": "bars", "hitched": true, "weight_distribution": true, "readings": [)" + bars +
         "]}]}";
}

const std::string apart = reading("tow.1", 1000) + ',' + reading("tow.2", 1000) + ',' +
                          reading("trailer.1", 900) + ',' + reading("coupling", 100);
const std::string together =
    reading("tow.1", 960) + ',' + reading("tow.2", 1144) + ',' + reading("trailer.1", 895);
const std::string bars =
    reading("tow.1", 990) + ',' + reading("tow.2", 1094) + ',' + reading("trailer.1", 915);

std::vector<CrossCheck> checks(const std::string& text) {
  const rig::Session session = test::read_sheet(text);
  return reconcile::cross_checks(session, reconcile::reconcile(session));
}

const CrossCheck& find(const std::vector<CrossCheck>& all, Kind kind, const std::string& state) {
  for (const CrossCheck& check : all)
    if (check.kind == kind && check.states[0] == state) return check;
  throw std::runtime_error("no check of " + state);
}

void same(double found, double wanted) {
  BOOST_TEST(std::abs(found - wanted) <= 1e-9 * std::max(1.0, std::abs(wanted)),
             found << " is not " << wanted);
}

double root_of(std::initializer_list<double> parts) {
  double sum = 0;
  for (const double part : parts) sum += part * part;
  return std::sqrt(sum);
}
const double reading_u = std::sqrt(of_reading);

}  // namespace

BOOST_AUTO_TEST_SUITE(cross_checks)

BOOST_AUTO_TEST_CASE(every_kind_once) {
  const auto all = checks(sheet(apart, together, bars));
  BOOST_TEST(all.size() == 5u);  // two combinations, coupling load, overhang, weight distribution
}

BOOST_AUTO_TEST_CASE(combination_with_one_scale_for_all) {
  const auto all = checks(sheet(apart, together, bars));
  const CrossCheck& check = find(all, Kind::combination, "together");
  // 960 + 1144 + 895 = 2999 against 1000 + 1000 + 900 + 100 = 3000.
  same(check.values[0].value, 2999);
  same(check.values[1].value, 3000);
  same(check.values[0].u, root_of({std::sqrt(3 * of_reading), 2999 * gain_u}));
  same(check.values[1].u, root_of({std::sqrt(4 * of_reading), 3000 * gain_u}));
  same(check.difference, -1);
  // The gain moves both by nearly the same: what is left of it is 1 kg · 0.001.
  same(check.u, root_of({std::sqrt(7 * of_reading), 1 * gain_u}));
  BOOST_TEST(check.agrees);
  BOOST_TEST((check.states == std::vector<std::string>{"together", "apart"}));
  same(find(all, Kind::combination, "bars").difference, -1);
}

BOOST_AUTO_TEST_CASE(coupling_load_three_ways) {
  const auto all = checks(sheet(apart, together, bars));
  const CrossCheck& check = find(all, Kind::coupling_load, "together");
  BOOST_TEST_REQUIRE(check.values.size() == 3u);
  same(check.values[0].value, 104);  // 2104 − 2000
  same(check.values[1].value, 100);
  same(check.values[2].value, 105);  // 900 + 100 − 895
  same(check.values[0].u, root_of({2 * reading_u, 104 * gain_u}));
  same(check.values[1].u, root_of({reading_u, 100 * gain_u, e_u, e_u}));
  same(check.values[2].u, root_of({std::sqrt(3 * of_reading), 105 * gain_u}));
  // Gain less support 4 with u² = 35 + 2·2.7², gain less trailer −1 with 49, support less trailer −5, where
  // the support's reading cancels, with 14 + 2·2.7²: the last is the most for its u.
  BOOST_TEST((check.values[check.one].way == Way::support));
  BOOST_TEST((check.values[check.other].way == Way::trailer_loss));
  same(check.difference, -5);
  same(check.u, root_of({std::sqrt(2 * of_reading), 5 * gain_u, e_u, e_u}));
  BOOST_TEST(check.agrees);
}

BOOST_AUTO_TEST_CASE(overhang_from_the_front_axle) {
  const auto all = checks(sheet(apart, together, bars));
  const CrossCheck& check = find(all, Kind::overhang, "together");
  same(check.values[0].value, 40 * length / 104);
  same(check.values[1].value, overhang);
  same(check.values[1].u, 10);
  // E = (f₀ − f₁ + (t₀q₀ − t₁q₁)/L)·L − o·(f₁ + r₁ − f₀ − r₀), its derivatives one by one.
  const double e = 40 * length - overhang * 104;
  const double u =
      root_of({(length + overhang) * reading_u, (length + overhang) * reading_u, overhang * reading_u,
               overhang * reading_u, 40 * length_u, 104 * 10, e * gain_u, 2000 * level_u, 2104 * level_u});
  same(check.difference, e / 104);
  same(check.u, u / 104);
}

BOOST_AUTO_TEST_CASE(weight_distribution_lever) {
  const auto all = checks(sheet(apart, together, bars));
  const CrossCheck& check = find(all, Kind::weight_distribution, "bars");
  const double lever = (reach + overhang) / length;  // 1.7333
  same(check.values[0].value, 30.0 / 20);
  same(check.values[1].value, lever);
  const double e = 30 - lever * 20, of_height = overhang / length - lever;
  const double u =
      root_of({reading_u, reading_u, lever * reading_u, lever * reading_u, of_height * e_u, of_height * e_u,
               20 / length * 10, 20 / length * 10, 20 * lever / length * length_u, e * gain_u,
               2104 * level_u / length, 2084 * level_u / length});
  same(check.difference, e / 20);
  same(check.u, u / 20);
  BOOST_TEST((check.states == std::vector<std::string>{"bars", "together"}));
}

BOOST_AUTO_TEST_CASE(a_blunder_is_seen) {
  // 1144 written down as 1414.
  const auto all = checks(sheet(
      apart, reading("tow.1", 960) + ',' + reading("tow.2", 1414) + ',' + reading("trailer.1", 895), bars));
  BOOST_TEST(!find(all, Kind::combination, "together").agrees);
  BOOST_TEST(!find(all, Kind::coupling_load, "together").agrees);
  BOOST_TEST(find(all, Kind::combination, "bars").agrees);
}

BOOST_AUTO_TEST_CASE(jockey_by_its_lever_and_means_of_repeats) {
  const std::string jockey = reading("tow.1", 1001) + ',' + reading("tow.1", 999) + ',' +
                             reading("tow.2", 1000) + ',' + reading("trailer.1", 888) + ',' +
                             reading("jockey", 112);
  const auto all = checks(sheet(jockey, together, bars, "jockey"));
  const CrossCheck& check = find(all, Kind::coupling_load, "together");
  same(check.values[0].value, 104);
  same(check.values[0].u, root_of({reading_u / std::sqrt(2.0), std::sqrt(3 * of_reading), 104 * gain_u}));
  BOOST_TEST((check.values[1].way == Way::jockey));
  same(check.values[1].value, 112.0 * (4000 - 400) / 4000);
  // d/dD of (D − j)/D is j/D² with u 10 mm, d/dj is −1/D with 5 mm.
  same(check.values[1].u, root_of({0.9 * reading_u, 100.8 * gain_u, e_u, e_u,
                                   112 * 400.0 / (4000.0 * 4000) * 10, 112 / 4000.0 * 5}));
  same(find(all, Kind::combination, "together").difference, 2999 - 3000);
}

BOOST_AUTO_TEST_CASE(axles_that_stood_on_pads_are_brought_down) {
  // By hand: each of two axles 45 mm up lacks 2000·700·45/3000² = 7 kg.
  const std::string up = R"(, "raised": 45)";
  const std::string padded = reading("tow.1", 993, up) + ',' + reading("tow.2", 993, up) + ',' +
                             reading("trailer.1", 900) + ',' + reading("coupling", 100);
  const auto all = checks(sheet(padded, together, bars));
  same(find(all, Kind::combination, "together").values[1].value, 3000);
  same(find(all, Kind::overhang, "together").values[0].value, 40 * length / 104);
}

BOOST_AUTO_TEST_CASE(never_a_check_with_nothing_behind_it) {
  BOOST_TEST(checks(sheet("", together, "")).empty());
  BOOST_TEST(checks(sheet(apart, "", "")).empty());
  const std::string total = reading("tow", 2104) + ',' + reading("trailer", 895);
  const auto whole = checks(sheet(apart, total, ""));  // nothing is known of the front axle
  BOOST_TEST(whole.size() == 2u);
  same(find(whole, Kind::combination, "together").difference, -1);
  same(find(whole, Kind::coupling_load, "together").values[0].value, 104);
  for (const CrossCheck& check : checks(sheet(apart, together, bars, "coupling", "")))
    BOOST_TEST((check.kind == Kind::combination || check.kind == Kind::coupling_load));
  const std::string no_nose =
      reading("tow.1", 1000) + ',' + reading("tow.2", 1000) + ',' + reading("trailer.1", 900);
  const auto all = checks(sheet(no_nose, together, ""));
  BOOST_TEST(all.size() == 1u);
  BOOST_TEST((all[0].kind == Kind::overhang));
  const std::string struck = R"(, "struck": {"why": "door open"})";
  BOOST_TEST(
      checks(sheet(reading("tow.1", 1000, struck) + ',' + reading("tow.2", 1000), together, "")).empty());
}

BOOST_AUTO_TEST_SUITE_END()
