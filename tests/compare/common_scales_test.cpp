// The uncertainty of a difference against many pairs of weighings with common scales: each pair has its gains
// drawn once and used before and after, every reading its own error. Loads come from moments about the axles,
// written here anew; what the scales show is load·(1 + gain) + error.
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <map>
#include <random>

#include "pairs.hpp"

namespace {

using namespace steelyard;
using test::Weighed;

constexpr double gain_u = 0.004, wheelbase = 3000;
constexpr int pairs = 1000;

/// The rig as it is; kg, mm.
struct Truth {
  double front = 0, rear = 0, trailer = 0, coupling = 0, overhang = 0;
};
constexpr Truth was{1300, 1100, 2000, 180, 1200}, is{1310, 1160, 2050, 120, 1200};

/// All that is not a reading or a gain is as good as exact, so that those are what is tried.
constexpr const char* sheet = R"({"format": "steelyard-session/1", "id": "trial-0",
 "scales": [{"id": "A", "uid": "scale-a", "division": 0.1, "repeatability": 0.6, "gain_u": 0.004},
            {"id": "B", "uid": "scale-b", "division": 0.1, "repeatability": 0.6, "gain_u": 0.004},
            {"id": "N", "uid": "scale-n", "division": 0.1, "repeatability": 0.3, "gain_u": 0.004}],
 "placement_u": 0.0002,
 "assumptions": {"height_sensitivity_u": 0.000001},
 "rig": {"tow_vehicle": {"uid": "v", "wheelbase_u": 0.01,
           "axles": [{"at": 0, "group": "front"}, {"at": 3000, "group": "rear"}]},
         "trailer": {"uid": "t", "axles": 1, "coupling_to_axles": {"value": 4000, "u": 0.01}}},
 "states": [{"name": "apart", "hitched": false, "support": "coupling", "slope": {"value": 0, "u": 0.0001},
   "coupling_height": {"value": 450, "u": 0.1}, "readings": [
   {"id": "r1", "at": "tow.1", "load": 1, "scale": "A"}, {"id": "r2", "at": "tow.2", "load": 1, "scale": "B"},
   {"id": "r3", "at": "trailer.1", "load": 1, "scale": "A"}, {"id": "r4", "at": "coupling", "load": 1, "scale": "N"}]},
  {"name": "together", "hitched": true, "travels": true, "slope": {"value": 0, "u": 0.0001},
   "coupling_height": {"value": 450, "u": 0.1}, "readings": [
   {"id": "r5", "at": "tow.1", "load": 1, "scale": "A"}, {"id": "r6", "at": "tow.2", "load": 1, "scale": "B"},
   {"id": "r7", "at": "trailer.1", "load": 1, "scale": "A"}]}]})";

/// What rests at the place of each reading, in the sheet's order.
std::vector<double> loads(const Truth& rig) {
  const double lifted = rig.coupling * rig.overhang / wheelbase;
  return {rig.front,          rig.rear,  rig.trailer - rig.coupling, rig.coupling,
          rig.front - lifted, rig.rear + rig.coupling + lifted, rig.trailer - rig.coupling};
}

using Gains = std::map<std::string, double>;

class Draw {
 public:
  Gains gains() {
    Gains out;
    for (const char* scale : {"A", "B", "N"}) out[scale] = gain_u * normal_(engine_);
    return out;
  }

  rig::Session weighing(const Truth& rig, const Gains& gains, const std::string& id) {
    rig::Session out = base_;
    out.id = id;
    const std::vector<double> rests = loads(rig);
    std::size_t next = 0;
    for (rig::State& state : out.states)
      for (rig::Reading& reading : state.readings) {
        const double load = rests[next++];
        const bool nose = reading.at.extent == rig::Extent::coupling;
        // Repeatability; two roundings to a division of 0.1 (0.1²/6); 0.0002 of the load under a wheel.
        const double u = std::sqrt(std::pow(nose ? 0.3 : 0.6, 2) + 0.01 / 6 + (nose ? 0 : std::pow(0.0002 * load, 2)));
        reading.load.figure = load * (1 + gains.at(reading.scales[0])) + u * normal_(engine_);
      }
    return out;
  }

 private:
  std::mt19937_64 engine_{20260930};  // a seed: the same trials every time
  std::normal_distribution<double> normal_;
  rig::Session base_ = test::read_sheet(sheet);
};

struct Watched {
  std::string name, state;
  double truth = 0;
  double sum = 0, squares = 0, u = 0, added = 0;  // over the pairs; u and √(u² + u²) by the comparison

  [[nodiscard]] double mean() const { return sum / pairs; }
  [[nodiscard]] double deviation() const { return std::sqrt((squares - sum * sum / pairs) / (pairs - 1)); }
};

std::vector<Watched> tried(bool common) {
  const double lifted = (is.coupling - was.coupling) * 1200 / wheelbase;
  std::vector<Watched> all{{"tow_unhitched_front", "", 10}, {"tow_unhitched_rear", "", 60},
                           {"tow_unhitched_total", "", 70}, {"trailer_mass", "", 50},
                           {"combination_mass", "", 120},   {"coupling_load", "", -60},
                           {"tow_hitched_front", "together", 10 - lifted},
                           {"tow_hitched_rear", "together", 60 - 60 + lifted},
                           {"trailer_axles_hitched", "together", 110}};
  Draw draw;
  for (int i = 0; i < pairs; ++i) {
    const Gains gains = draw.gains();
    rig::Session before = draw.weighing(was, gains, "trial-1");
    rig::Session after = draw.weighing(is, common ? gains : draw.gains(), "trial-2");
    if (!common)
      for (rig::Scale& scale : after.scales) scale.calibrated = "2026-09-01";
    const compare::Comparison found = test::compared(before, after);
    for (Watched& one : all) {
      const compare::Compared* row = found.find(one.name, one.state);
      BOOST_REQUIRE(row && row->difference);
      one.sum += row->difference->value;
      one.squares += row->difference->value * row->difference->value;
      one.u += row->difference->u / pairs;
      one.added += std::hypot(row->before->u, row->after->u) / pairs;
    }
  }
  return all;
}

/// Four standard deviations of a sampled standard deviation, and 1 % for what is not linear.
constexpr double sampling = 0.01 + 4 * 0.70711 / 31.623;  // 4/√(2·1000)

}  // namespace

BOOST_AUTO_TEST_SUITE(common_scales)

BOOST_AUTO_TEST_CASE(spread_is_as_said) {
  for (const Watched& one : tried(true)) {
    BOOST_TEST(std::abs(one.deviation() / one.u - 1) < sampling,
               one.name << ": spread " << one.deviation() << ", said " << one.u);
    BOOST_TEST(std::abs(one.mean() - one.truth) < 4 * one.u / std::sqrt(pairs),
               one.name << ": " << one.mean() << " for " << one.truth);
    if (one.name == "tow_unhitched_total" || one.name == "trailer_mass" || one.name == "combination_mass")
      BOOST_TEST(one.added > 3 * one.deviation(), one.name << ": added " << one.added);
  }
}

BOOST_AUTO_TEST_CASE(spread_is_as_said_with_calibration_in_between) {
  for (const Watched& one : tried(false)) {
    BOOST_TEST(std::abs(one.deviation() / one.u - 1) < sampling,
               one.name << ": spread " << one.deviation() << ", said " << one.u);
    BOOST_TEST(one.u == one.added, boost::test_tools::tolerance(0.02));
  }
}

BOOST_AUTO_TEST_SUITE_END()
