// The coupling's load against its height: a bench rig of the trade (common practice, no source), in grams: an
// independently sprung pair shows 250 with its nose lowered, 400 level, 574 raised; a single axle 437, 415
// and just under 400 (399 is taken). Its heights are not told: 100 mm either way is assumed here, and a gram
// of the bench is a quarter of a kilogram, so that the sheets are those of a small trailer. What is expected
// is worked out by hand.
#include <boost/test/unit_test.hpp>
#include <cmath>

#include "reports/table/result_table.hpp"
#include "tests/published/chain.hpp"

namespace {

using namespace steelyard;
using nlohmann::json;

constexpr double kilograms_a_gram = 0.25, level_height = 400, apart = 100;

struct Bench {
  int axles;
  double lowered, level, raised;  // g
  double sensitivity_u;           // model, section 4, by suspension
};
constexpr Bench pair{2, 250, 400, 574, 1.0}, single{1, 437, 415, 399, 0.15};

json nose(const char* name, double height, double grams) {
  return {{"name", name},
          {"hitched", false},
          {"support", "coupling"},
          {"coupling_height", height},
          {"readings", {{{"at", "coupling"}, {"load", grams * kilograms_a_gram}, {"scale", "N1"}}}}};
}

/// The nose lowered and raised, and the height at which the rig is towed, where nothing is read.
json sheet_of(const Bench& bench, const char* suspension) {
  json sheet = test::two_axle_sheet("kg", "mm", 3000);
  sheet["scales"] = {{{"id", "N1"}, {"division", 1}, {"gain_u", 0.001}}};
  sheet["rig"]["trailer"] = {{"axles", bench.axles}, {"suspension", suspension}};
  sheet["states"] = {
      nose("lowered", level_height - apart, bench.lowered),
      nose("raised", level_height + apart, bench.raised),
      {{"name", "towed"}, {"hitched", true}, {"coupling_height", level_height}, {"readings", json::array()}}};
  return sheet;
}

std::string words_of(const test::Chain& chain) {
  std::string out;
  for (const char letter : reports::result_table(chain.session, chain.findings, chain.assessment))
    if (!((letter == ' ' || letter == '\n') && !out.empty() && out.back() == ' '))
      out += letter == '\n' ? ' ' : letter;
  return out;
}

void says(const test::Chain& chain, const char* sentence) {
  BOOST_TEST(words_of(chain).find(sentence) != std::string::npos, words_of(chain));
}

double reading_variance() {
  return 1 / 6.0 + 1;  // d²/6 + s², s = d = 1
}
/// Of what a height's own u of 5 mm is worth.
double height_variance(const Bench& bench) {
  return std::pow(bench.sensitivity_u * 5, 2);
}

/// Two readings 2·`apart` from each other, and a prior of 0: the weighted mean of their slope and nothing.
struct Slope {
  double value, u;
};
Slope slope_of(const Bench& bench) {
  const double read = (bench.raised - bench.lowered) * kilograms_a_gram / (2 * apart);
  const double variance = 2 * (reading_variance() + height_variance(bench)) / std::pow(2 * apart, 2);
  const double prior = std::pow(bench.sensitivity_u, 2), weight = 1 / variance + 1 / prior;
  return {read / variance / weight, 1 / std::sqrt(weight)};
}

void check_bench(const Bench& bench, const test::Chain& chain) {
  const reconcile::Quantity* found = chain.findings.find("height_sensitivity");
  BOOST_TEST_REQUIRE((found && found->determinable));
  const Slope slope = slope_of(bench);
  BOOST_TEST(std::abs(found->value - slope.value) < 1e-4 * std::abs(slope.value));
  BOOST_TEST(std::abs(found->u - slope.u) < 1e-3 * slope.u);
  // Carried to the towing height, which is midway: the mean of both, whatever the slope; against what the
  // bench showed there, which is off the straight line by its curvature.
  const reconcile::Quantity* carried = chain.findings.find("coupling_load");
  BOOST_TEST_REQUIRE((carried && carried->determinable));
  const double mean = (bench.lowered + bench.raised) / 2 * kilograms_a_gram;
  BOOST_TEST(std::abs(carried->value - mean) < 1e-4 * mean);
  const double own = height_variance(bench);  // of the towing height's own u
  const double u = std::sqrt((reading_variance() + own) / 2 + own + std::pow(0.001 * mean, 2));
  BOOST_TEST(std::abs(carried->u - u) < 1e-3 * u);
  BOOST_TEST(std::abs(carried->value - bench.level * kilograms_a_gram) < 1.959964 * carried->u);
  BOOST_TEST(chain.value("coupling_load_at_height", "raised") > 0);
}

}  // namespace

BOOST_AUTO_TEST_SUITE(coupling_height)

BOOST_AUTO_TEST_CASE(independent_pair_gains_when_raised) {
  const test::Chain chain = test::run(sheet_of(pair, "independent"));
  check_bench(pair, chain);
  // By hand: 81 kg over 200 mm, 0.1 % less for the prior.
  BOOST_TEST(std::abs(chain.value("height_sensitivity") - 0.4045) < 1e-4);
  says(chain, "Raising the coupling by 100 mm adds 40.4 kg there, as an independently sprung pair does.");
}

BOOST_AUTO_TEST_CASE(single_axle_loses_when_raised) {
  const test::Chain chain = test::run(sheet_of(single, "single"));
  check_bench(single, chain);
  // By hand: 9.5 kg over 200 mm, 0.4 % less for the prior.
  BOOST_TEST(std::abs(chain.value("height_sensitivity") + 0.0473) < 1e-4);
  says(chain,
       "Raising the coupling by 100 mm takes 4.7 kg off, as a single axle or load-sharing group does.");
}

BOOST_AUTO_TEST_CASE(against_the_suspension_entered) {
  const test::Chain stiff = test::run(sheet_of(pair, "load_sharing"));
  BOOST_TEST(stiff.value("height_sensitivity") > 0.3);
  says(stiff, "The suspension entered would do the opposite: check the suspension and the heights.");
  // The prior of an independent group lets its own heights move the load by 5 kg each, so the bench's 9.5 kg
  // are nothing that can be told; four times as much is.
  const test::Chain same = test::run(sheet_of(single, "independent"));
  says(same, "changes its load by less than can be told");
  Bench heavy = single;
  heavy.lowered *= 4;
  heavy.raised *= 4;
  const test::Chain soft = test::run(sheet_of(heavy, "independent"));
  BOOST_TEST(soft.value("height_sensitivity") < 0);
  says(soft, "The suspension entered would do the opposite");
}

BOOST_AUTO_TEST_CASE(one_height_tells_nothing_of_it) {
  json sheet = sheet_of(pair, "independent");
  sheet["states"].erase(1);
  const test::Chain chain = test::run(sheet);
  BOOST_TEST(!chain.findings.find("height_sensitivity")->determinable);
  BOOST_TEST(words_of(chain).find("Raising the coupling") == std::string::npos);
}

BOOST_AUTO_TEST_SUITE_END()
