// Monte Carlo of whole sessions: each trial against the engine from its own start, the same figures from any
// number of threads, and the trials against Fieller's interval where a ratio is skewed.
#include "reconcile/monte_carlo.hpp"

#include <boost/test/unit_test.hpp>
#include <cmath>
#include <stdexcept>

#include "adjust/distributions.hpp"
#include "reconcile/reconcile.hpp"
#include "reconcile/trials.hpp"
#include "sheets.hpp"

namespace {

using namespace steelyard;
using reconcile::MonteCarlo;
using reconcile::Propagated;

/// No tape, and a coupling load about four times its u: coarse scales under a light nose.
constexpr const char* light_nose = R"({"format": "steelyard-session/1",
 "scales": [{"id": "P", "division": 2, "gain_u": 0.0005}, {"id": "N", "division": 10, "gain_u": 0.001}],
 "placement_u": 0.001,
 "rig": {"tow_vehicle": {"axles": [{"at": 0, "group": "front"}, {"at": 3000, "group": "rear"}]},
         "trailer": {"axles": 1, "suspension": "single", "coupling_to_axles": 4000}},
 "states": [{"name": "apart", "hitched": false, "slope": {"value": 0, "u": 0.5}, "readings": [
   {"at": "tow.1", "load": 1000, "scale": "P"}, {"at": "tow.2", "load": 1000, "scale": "P"}]},
  {"name": "together", "hitched": true, "slope": {"value": 0, "u": 0.5}, "readings": [
   {"at": "tow.1", "load": 994, "scale": "P"}, {"at": "tow.2", "load": 1026, "scale": "P"},
   {"at": "trailer", "load": 980, "scale": "P"}]}]})";

const Propagated& of(const MonteCarlo& all, const reconcile::Findings& findings, std::string_view name) {
  for (const Propagated& one : all.quantities)
    if (findings.quantities[one.quantity].name == name) return one;
  throw std::runtime_error("not propagated: " + std::string(name));
}

/// The same draw by the engine, from its first guess.
std::optional<adjust::Vector> anew(const reconcile::SolvedRig& solved, const adjust::Vector& values) {
  const reconcile::RigModel model(*solved.layout, solved.observed);
  adjust::Observed drawn{values, values, std::nullopt};
  for (adjust::Index i = 0; i < values.size(); ++i)
    drawn.u[i] = solved.observed[static_cast<std::size_t>(i)].u;
  const auto found =
      adjust::solve(model, drawn, reconcile::first_guess(*solved.layout), solved.layout->scale());
  return found.converged ? std::optional(found.unknowns) : std::nullopt;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(monte_carlo)

BOOST_AUTO_TEST_CASE(trials_are_what_the_engine_finds_from_its_own_start) {
  int compared = 0;
  for (const rig::Session& session : test::sample_fleet()) {
    const auto whole = reconcile::solve_whole(session);
    BOOST_TEST_REQUIRE(whole != nullptr);
    for (const auto* solved : {whole->everything.get(), whole->weights_only.get()}) {
      if (!solved) continue;
      reconcile::RedrawnRig redrawn(*solved);
      adjust::Deviates deviates(23);
      for (int trial = 0; trial < 5; ++trial) {
        adjust::Vector values(static_cast<adjust::Index>(solved->observed.size()));
        for (adjust::Index i = 0; i < values.size(); ++i) {
          const auto& row = solved->observed[static_cast<std::size_t>(i)];
          values[i] = row.value + row.u * deviates.normal();
        }
        const auto slow = anew(*solved, values);
        if (!slow) continue;
        BOOST_TEST_REQUIRE(redrawn.solve(values));
        const auto one = reconcile::derive_values(*solved->layout, solved->observed, redrawn.unknowns(),
                                                  *solved->layout, &redrawn.unknowns());
        const auto other =
            reconcile::derive_values(*solved->layout, solved->observed, *slow, *solved->layout, &*slow);
        BOOST_TEST_CONTEXT(session.rig.tow_vehicle.label) {
          for (std::size_t i = 0; i < one.size(); ++i) {
            const reconcile::Quantity& quantity = whole->derived.listed[i].quantity;
            if (!quantity.determinable || quantity.name.starts_with("inferred")) continue;
            BOOST_TEST(std::abs(one[i] - other[i]) <= 1e-5 * quantity.u + 1e-9, quantity.name);
            ++compared;
          }
        }
      }
    }
  }
  BOOST_TEST(compared > 5000);
}

BOOST_AUTO_TEST_CASE(values_alone_are_the_values) {
  for (const rig::Session& session : test::sample_fleet()) {
    const auto whole = reconcile::solve_whole(session);
    const auto& main = *whole->everything;
    const auto& weights = whole->weights_only ? *whole->weights_only : main;
    const auto values = reconcile::derive_values(*main.layout, main.observed, main.solution.unknowns,
                                                 *weights.layout, &weights.solution.unknowns);
    BOOST_TEST_REQUIRE(values.size() == whole->derived.listed.size());
    for (std::size_t i = 0; i < values.size(); ++i) {
      const reconcile::Quantity& quantity = whole->derived.listed[i].quantity;
      if (quantity.determinable) BOOST_TEST(values[i] == quantity.value, quantity.name);
    }
  }
}

BOOST_AUTO_TEST_CASE(threads_change_nothing) {
  const rig::Session session = test::read_sheet(light_nose);
  const auto findings = reconcile::reconcile(session);
  long last = 0;
  const auto one = reconcile::monte_carlo(
      session, findings, 3100, 5,
      [&](long done) {
        BOOST_TEST(done > last);
        last = done;
      },
      1);
  BOOST_TEST(last == 3100);
  for (const unsigned threads : {2u, 5u}) {
    const auto other = reconcile::monte_carlo(session, findings, 3100, 5, {}, threads);
    BOOST_TEST_REQUIRE(one.quantities.size() == other.quantities.size());
    for (std::size_t i = 0; i < one.quantities.size(); ++i) {
      BOOST_TEST(one.quantities[i].mean == other.quantities[i].mean);
      BOOST_TEST(one.quantities[i].u == other.quantities[i].u);
      BOOST_TEST(one.quantities[i].interval.first == other.quantities[i].interval.first);
      BOOST_TEST(one.quantities[i].shortest.second == other.quantities[i].shortest.second);
    }
  }
  const auto another = reconcile::monte_carlo(session, findings, 3100, 6);
  BOOST_TEST(another.quantities[0].mean != one.quantities[0].mean);
}

BOOST_AUTO_TEST_CASE(linear_uncertainties_stand_on_the_sample_fleet) {
  for (const rig::Session& session : test::sample_fleet()) {
    const auto findings = reconcile::reconcile(session);
    const auto all = reconcile::monte_carlo(session, findings, 4000, 1);
    BOOST_TEST_CONTEXT(session.rig.tow_vehicle.label) {
      BOOST_TEST(all.not_converged == 0);
      BOOST_TEST_REQUIRE(all.largest.has_value());
      // Four deviations by chance are 0.17 u; front restoration and ratios are skewed by some more.
      BOOST_TEST(std::abs(all.largest->in_u) < 0.3);
      const reconcile::Quantity* determinable = nullptr;
      for (const auto& quantity : findings.quantities)
        if (quantity.determinable) determinable = &quantity;
      BOOST_TEST(determinable == &findings.quantities[all.quantities.back().quantity]);
    }
  }
}

// The pair (C·o, C) is nearly normal, so that trials put their 2.5 % where Fieller puts his ends; value
// ± 1.96 u is far off. Trials in which the load is not significant are as many as a normal coupling load
// makes.
BOOST_AUTO_TEST_CASE(skewed_ratio_has_fiellers_interval) {
  const rig::Session session = test::read_sheet(light_nose);
  const auto findings = reconcile::reconcile(session);
  const auto& load = *findings.find("coupling_load");
  const auto& overhang = *findings.find("inferred_overhang");
  BOOST_TEST_REQUIRE((load.determinable && overhang.determinable && overhang.interval.has_value()));
  const double distance = load.value / load.u;
  BOOST_TEST_REQUIRE((distance > 3 && distance < 6));
  constexpr long trials = 100000;
  const auto all = reconcile::monte_carlo(session, findings, trials, 1);
  const Propagated& found = of(all, findings, "inferred_overhang");
  const double width = (found.linear.second - found.linear.first) / 4;
  // The longer tail is thin: its quantile's deviation is some 3·0.0085 widths.
  BOOST_TEST(std::abs(found.interval.first - overhang.interval->first) < 0.1 * width);
  BOOST_TEST(std::abs(found.interval.second - overhang.interval->second) < 0.1 * width);
  const double symmetric = overhang.value + adjust::z95 * overhang.u;
  BOOST_TEST(std::abs(symmetric - overhang.interval->second) > 0.3 * width);
  const double p = adjust::normal_cdf(adjust::z95 - distance) - adjust::normal_cdf(-adjust::z95 - distance);
  const double expected = static_cast<double>(trials) * p;
  BOOST_TEST(std::abs(static_cast<double>(found.not_determinable) - expected) <
             4 * std::sqrt(expected) + 0.02 * expected);
  BOOST_TEST(of(all, findings, "trailer_mass").not_determinable == 0);
}

BOOST_AUTO_TEST_CASE(what_is_refused) {
  const rig::Session session = test::read_sheet(light_nose);
  const auto findings = reconcile::reconcile(session);
  BOOST_CHECK_THROW(reconcile::monte_carlo(session, findings, 1, 1), std::invalid_argument);
  BOOST_CHECK_THROW(reconcile::monte_carlo(session, {}, 1000, 1), std::logic_error);
  // What a listener throws comes out, whichever thread it was in.
  BOOST_CHECK_THROW(reconcile::monte_carlo(
                        session, findings, 2000, 1, [](long) { throw std::runtime_error("stop"); }, 2),
                    std::runtime_error);
}

BOOST_AUTO_TEST_SUITE_END()
