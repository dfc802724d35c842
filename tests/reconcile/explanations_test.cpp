// Blunders that change what rests on the scales, or what a scale shows: each is among those that fit best,
// with its size. They come from the simulator's moments; the recomputation is another reconciliation, of
// another sheet.
#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <cmath>

#include "explained.hpp"
#include "reconcile/reconcile.hpp"
#include "weighed_twice.hpp"

namespace {

using namespace steelyard;
using namespace steelyard::reconcile;
using test::check_p;
using test::corrected;
using test::exchanged;
using test::Ids;
using test::ids_of;
using test::reading;
using test::readings_on;
using test::rear_wheel;
using test::same_as;
using test::tied;

bool proposed(const Findings& findings, Blunder kind) {
  for (const SuspectSet& set : findings.suspects)
    for (const Explanation& one : set.explanations)
      if (one.kind == kind) return true;
  return false;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(explanations)

BOOST_AUTO_TEST_CASE(a_scale_not_zeroed) {
  const rig::Session sound = test::weighed_twice().session;
  for (const double offset : {28.0, -28.0}) {
    rig::Session wrong = sound;
    const Ids ids = readings_on(sound, "together", "P3");
    for (const std::string& id : ids) reading(wrong, id).load.figure += offset;
    const Findings findings = reconcile::reconcile(wrong);
    const Explanation& one = tied(findings, Blunder::scale_not_zeroed, ids);
    BOOST_TEST(one.scale.value() == "P3");
    BOOST_TEST(one.state.value() == "together");
    BOOST_TEST(!one.exact);
    BOOST_TEST(std::abs(one.size.value() - offset) < 3 * one.size_u.value());
    check_p(one);
    const rig::Session put_right = corrected(wrong, findings, one);
    const Findings then = reconcile::reconcile(put_right, Search::first_set);
    // The size takes one degree of freedom. The sheet put right has loads 4 % other and so placement
    // uncertainties up to 4 % other; besides that chi-square is at its least over all sizes.
    BOOST_TEST(one.degrees_of_freedom == then.fit.degrees_of_freedom - 1);
    BOOST_TEST(std::abs(one.chi_square - then.fit.chi_square) < 0.04 * then.fit.chi_square);
    for (const double other : {-8.0, 8.0}) {
      rig::Session moved = put_right;
      for (const std::string& id : ids) reading(moved, id).load.figure += other;
      BOOST_TEST(reconcile::reconcile(moved, Search::first_set).fit.chi_square > one.chi_square);
    }
  }
}

BOOST_AUTO_TEST_CASE(a_tyre_part_off_its_scale) {
  const rig::Session sound = test::weighed_twice().session;
  rig::Session wrong = sound;
  double& shown = reading(wrong, rear_wheel).load.figure;
  const double all = shown;
  shown = std::round(0.7 * all);
  const Findings findings = reconcile::reconcile(wrong);
  const Explanation& one = tied(findings, Blunder::tyre_off_scale, {rear_wheel});
  BOOST_TEST(!one.exact);
  BOOST_TEST(std::abs(one.size.value() - (all - shown)) < 3 * one.size_u.value());
  // A reading with an error of its own of any size is no observation at all (Cook and Weisberg, 1982, 2.2).
  same_as(one, test::strike(wrong, rear_wheel));
}

namespace {

/// A blunder of a state that has a size: the size near the true one.
const Explanation& check_size(const Findings& findings, Blunder kind, const std::string& state, double size) {
  const Explanation& one = tied(findings, kind, {state});
  BOOST_TEST(!one.exact);
  BOOST_TEST(std::abs(one.size.value() - size) < 3 * one.size_u.value());
  check_p(one);
  return one;
}

}  // namespace

BOOST_AUTO_TEST_CASE(the_jockey_wheel_still_loaded) {
  const auto weighed = test::weighed_twice();
  simulator::TrueState truly = weighed.states[1];
  truly.on_jockey = 90;
  const Findings findings = reconcile::reconcile(test::weighed_as(weighed, 1, truly));
  const Explanation& one = check_size(findings, Blunder::jockey_still_loaded, "together", 90);
  const Findings sound = reconcile::reconcile(weighed.session);
  BOOST_TEST(one.degrees_of_freedom == sound.fit.degrees_of_freedom - 1);
  // The errors of the scales are the same: the best size fits no worse than the true one, but for what 90 kg
  // change in the placement uncertainties and what rounding does to 16 readings.
  BOOST_TEST(one.chi_square < sound.fit.chi_square + 3);
}

BOOST_AUTO_TEST_CASE(somebody_aboard) {
  const auto weighed = test::weighed_twice();
  for (const std::size_t k : {0u, 1u})
    for (const auto& [vehicle, place] :
         {std::pair{rig::Vehicle::tow, 1500.0}, {rig::Vehicle::trailer, 2400.0}}) {
      simulator::TrueState truly = weighed.states[k];
      truly.person = simulator::Person{vehicle, 85, place};
      const std::string state = weighed.session.states[k].name;
      BOOST_TEST_CONTEXT(state << (vehicle == rig::Vehicle::tow ? ", tow vehicle" : ", trailer")) {
        const Findings findings = reconcile::reconcile(test::weighed_as(weighed, k, truly));
        const Explanation& one = check_size(findings, Blunder::person_aboard, state, 85);
        BOOST_TEST((one.vehicle == vehicle));
      }
    }
}

BOOST_AUTO_TEST_CASE(the_jockey_wheel_taken_for_the_coupling) {
  const auto weighed = test::weighed_twice();
  simulator::TrueState truly = weighed.states[0];
  truly.support = rig::Support::jockey;
  const rig::Session wrong = test::weighed_as(weighed, 0, truly);
  const Findings findings = reconcile::reconcile(wrong);
  const Explanation& one = tied(findings, Blunder::jockey_taken_for_coupling, {"apart"});
  BOOST_TEST((ids_of(findings, one) == Ids{"r17", "r18"}));
  BOOST_TEST(one.exact);
  rig::Session put_right = wrong;
  put_right.states[0].support = rig::Support::jockey;
  for (const char* id : {"r17", "r18"}) reading(put_right, id).at = rig::Position::support_at_jockey();
  same_as(one, put_right);
}

BOOST_AUTO_TEST_CASE(weight_distribution_called_off) {
  // 90 kg back on the front axle: W = 90·L/(1 + o/D), model section 3.
  const auto weighed = test::weighed_twice();
  const double moment = 90 * 3100 / (1 + 1200.0 / 3400);
  simulator::TrueState truly = weighed.states[1];
  truly.bars = moment;
  const rig::Session wrong = test::weighed_as(weighed, 1, truly);
  const Findings findings = reconcile::reconcile(wrong);
  const Explanation& one = check_size(findings, Blunder::weight_distribution_mislabelled, "together", moment);
  rig::Session put_right = wrong;
  put_right.states[1].weight_distribution = true;
  same_as(one, put_right);
  const Quantity then = *reconcile::reconcile(put_right).find("weight_distribution_moment", "together");
  BOOST_TEST(std::abs(then.value - one.size.value()) < 1e-5 * then.value);
  BOOST_TEST(std::abs(then.u - one.size_u.value()) < 1e-5 * then.u);
}

BOOST_AUTO_TEST_CASE(sizes_that_nobody_has_are_not_proposed) {
  const auto weighed = test::weighed_twice();
  simulator::TrueState truly = weighed.states[1];
  truly.person = simulator::Person{rig::Vehicle::tow, 300, 1500};
  BOOST_TEST(!proposed(reconcile::reconcile(test::weighed_as(weighed, 1, truly)), Blunder::person_aboard));
  truly = weighed.states[1];
  truly.on_jockey = 400;
  BOOST_TEST(
      !proposed(reconcile::reconcile(test::weighed_as(weighed, 1, truly)), Blunder::jockey_still_loaded));
  rig::Session offset = weighed.session;
  for (const std::string& id : readings_on(offset, "together", "P3")) reading(offset, id).load.figure += 150;
  BOOST_TEST(!proposed(reconcile::reconcile(offset), Blunder::scale_not_zeroed));
  // A tyre nearly beside its scale: 5 % of its load left, where 40 to 90 % remain on one.
  rig::Session beside = weighed.session;
  reading(beside, rear_wheel).load.figure = 38;
  BOOST_TEST(!proposed(reconcile::reconcile(beside), Blunder::tyre_off_scale));
}

BOOST_AUTO_TEST_CASE(a_sound_session_proposes_nothing) {
  for (const std::uint64_t seed : {1u, 2u, 3u}) {
    const Findings findings = reconcile::reconcile(test::weighed_twice(seed).session);
    BOOST_TEST(findings.fit.consistent.value());
    BOOST_TEST(findings.suspects.empty());
  }
}

namespace {

void check_same(const std::vector<Quantity>& one, const std::vector<Quantity>& other) {
  BOOST_REQUIRE_EQUAL(one.size(), other.size());
  for (std::size_t i = 0; i < one.size(); ++i) {
    BOOST_TEST(one[i].name == other[i].name);
    BOOST_TEST(one[i].determinable == other[i].determinable);
    BOOST_TEST(one[i].value == other[i].value);
    BOOST_TEST(one[i].u == other[i].u);
    BOOST_TEST((one[i].interval == other[i].interval));
  }
}

}  // namespace

BOOST_AUTO_TEST_CASE(looking_for_explanations_alters_no_figure) {
  const rig::Session wrong = exchanged(test::weighed_twice().session, "r3", "r21");
  const Findings first = reconcile::reconcile(wrong, Search::first_set), whole = reconcile::reconcile(wrong);
  BOOST_TEST(!whole.suspects.at(0).explanations.empty());
  BOOST_TEST(first.suspects.at(0).explanations.empty());
  check_same(first.quantities, whole.quantities);
  check_same(first.limit_quantities, whole.limit_quantities);
  BOOST_TEST(first.fit.chi_square == whole.fit.chi_square);
  BOOST_REQUIRE_EQUAL(first.observations.size(), whole.observations.size());
  for (std::size_t i = 0; i < first.observations.size(); ++i) {
    const Observation &a = first.observations[i], &b = whole.observations[i];
    BOOST_TEST(test::key_of(a) == test::key_of(b));
    BOOST_TEST(a.value == b.value);
    BOOST_TEST(a.fitted == b.fitted);
    BOOST_TEST(a.redundancy == b.redundancy);
    BOOST_TEST((a.normalised_residual == b.normalised_residual));
    BOOST_TEST((a.smallest_detectable == b.smallest_detectable));
  }
  BOOST_TEST(test::keys_of(first, first.suspects[0]) == test::keys_of(whole, whole.suspects[0]),
             boost::test_tools::per_element());
}

BOOST_AUTO_TEST_SUITE_END()
