// What an error of one observation does to a quantity: against solving again with that observation moved (a
// second way to the same figure), and against the quantity's own uncertainty.
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <functional>

#include "pairs.hpp"

namespace {

using namespace steelyard;
using reconcile::Observation;
using reconcile::ObservationKind;
using test::Weighed;

/// Moves what was observed by `by` of the observation's unit; false where a sheet has no place for it.
bool moved(rig::Session& session, const Observation& observation, double by) {
  switch (observation.kind) {
    case ObservationKind::reading:
      for (rig::State& state : session.states)
        for (rig::Reading& reading : state.readings)
          if (reading.id == observation.id) reading.load.figure += by;
      return true;
    case ObservationKind::gain:
      // Readings divided by 1 + known gain with the rest observed as 0: the same as observing the gain itself.
      for (rig::Scale& scale : session.scales)
        if (observation.scales.size() == 1 && scale.id == observation.scales[0]) scale.gain = by;
      return observation.scales.size() == 1;
    case ObservationKind::wheelbase:
      session.rig.tow_vehicle.axles.back().at.figure += by;
      return true;
    case ObservationKind::overhang:
      session.rig.tow_vehicle.overhang->value.figure += by;
      return true;
    case ObservationKind::coupling_to_axles:
      session.rig.trailer->coupling_to_axles->value.figure += by;
      return true;
    default:
      return false;
  }
}

double step_of(const Observation& observation) {
  return observation.kind == ObservationKind::gain ? 1e-4 : observation.kind == ObservationKind::reading ? 0.2 : 1;
}

const reconcile::Quantity& of(const reconcile::Findings& findings, const reconcile::Quantity& like) {
  const auto* found = findings.find(like.name, like.state.value_or(""), like.at.value_or(""));
  BOOST_REQUIRE(found);
  return *found;
}

void hold_against_solving_again(const rig::Session& session) {
  const Weighed as_read(session);
  const reconcile::Findings& findings = as_read.findings();
  for (std::size_t i = 0; i < findings.observations.size(); ++i) {
    const Observation& observation = findings.observations[i];
    const double step = step_of(observation);
    rig::Session up = session, down = session;
    if (!moved(up, observation, step) || !moved(down, observation, -step)) continue;
    const Weighed higher(up), lower(down);
    for (const reconcile::Quantity& quantity : findings.quantities) {
      if (!quantity.determinable) continue;
      const auto effects = as_read.reconciliation().sensitivities(quantity);
      BOOST_REQUIRE_MESSAGE(effects, quantity.name);
      const double solved =
          (of(higher.findings(), quantity).value - of(lower.findings(), quantity).value) / (2 * step);
      // In units of the quantity's u by that of the observation: a moved reading has another placement error,
      // which moves the weights too, and statics is not wholly linear.
      const double unit = quantity.u / observation.u;
      BOOST_TEST(std::abs((*effects)[i] - solved) < 0.01 * unit + 0.02 * std::abs(solved),
                 quantity.name << ' ' << quantity.state.value_or("") << ' ' << quantity.at.value_or("") << " by "
                               << to_text(observation.kind) << ' ' << observation.id.value_or("") << ": "
                               << (*effects)[i] << " for " << solved);
    }
  }
}

}  // namespace

BOOST_AUTO_TEST_SUITE(sensitivities)

BOOST_AUTO_TEST_CASE(as_solving_again_with_a_tape_and_without) {
  rig::Session session = test::before_springs();
  hold_against_solving_again(session);
  session.rig.tow_vehicle.overhang.reset();
  hold_against_solving_again(session);
}

// JCGM 100:2008, 5.1.2: of independent inputs u² is the sum of the squares.
BOOST_AUTO_TEST_CASE(their_squares_make_the_uncertainty) {
  for (const char* name : {"tcw-018-before-springs", "tcw-030-weight-distribution-settings",
                           "tcw-026-two-coupling-heights", "bfs-204-generator-trailer-pounds",
                           "tcw-041-tanker-truck-alone", "kr-103-fifth-wheel-stock-trailer"}) {
    const Weighed weighed(test::sample(name));
    const auto& observations = weighed.findings().observations;
    for (const reconcile::Quantity& quantity : weighed.findings().quantities) {
      if (!quantity.determinable) continue;
      const auto effects = weighed.reconciliation().sensitivities(quantity);
      BOOST_REQUIRE_MESSAGE(effects, name << ' ' << quantity.name);
      BOOST_REQUIRE_EQUAL(effects->size(), observations.size());
      double sum = 0;
      for (std::size_t i = 0; i < observations.size(); ++i) sum += std::pow((*effects)[i] * observations[i].u, 2);
      BOOST_TEST(std::sqrt(sum) == quantity.u, boost::test_tools::tolerance(1e-6));
    }
  }
}

BOOST_AUTO_TEST_CASE(none_of_what_is_not_known) {
  const Weighed weighed(test::sample("tcw-009-axles-only-incomplete"));
  int open = 0;
  for (const reconcile::Quantity& quantity : weighed.findings().quantities) {
    if (quantity.determinable) continue;
    ++open;
    BOOST_TEST(!weighed.reconciliation().sensitivities(quantity));
  }
  BOOST_TEST(open > 0);
  reconcile::Quantity nothing;
  nothing.name = "no_such_quantity";
  BOOST_TEST(!weighed.reconciliation().sensitivities(nothing));
}

// The tape takes no part in what the weights alone say.
BOOST_AUTO_TEST_CASE(the_tape_does_not_move_the_weights) {
  const Weighed weighed(test::before_springs());
  const auto effects =
      weighed.reconciliation().sensitivities(*weighed.findings().find("inferred_overhang"));
  BOOST_REQUIRE(effects);
  const auto& observations = weighed.findings().observations;
  for (std::size_t i = 0; i < observations.size(); ++i)
    if (observations[i].kind == ObservationKind::overhang) BOOST_TEST((*effects)[i] == 0);
}

BOOST_AUTO_TEST_SUITE_END()
