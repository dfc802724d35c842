// One blunder of each kind, put into a sheet whose every position was read twice: it is among those that fit best,
// and its chi-square is that of the sheet put right. Blunders that change what rests on the scales come from the
// simulator's moments, the rest from the pen; the recomputation is another reconciliation, of another sheet.
#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <set>
#include <stdexcept>

#include "reconcile/reconcile.hpp"
#include "units/number.hpp"
#include "weighed_twice.hpp"

namespace {

using namespace steelyard;
using namespace steelyard::reconcile;
using test::reading;
using Ids = std::set<std::string>;

Ids ids_of(const Findings& findings, const Explanation& explanation) {
  Ids out;
  for (const auto& correction : explanation.corrections)
    out.insert(findings.observations.at(correction.observation).id.value_or("?"));
  return out;
}

/// The explanation of that kind among those tied for first; the test fails where there is none. Of an edit `where`
/// are the readings it puts right, of the others the state.
const Explanation& tied(const Findings& findings, Blunder kind, const Ids& where) {
  BOOST_REQUIRE(!findings.suspects.empty());
  for (const Explanation& one : findings.suspects[0].explanations)
    if (one.tied && one.kind == kind && (ids_of(findings, one) == where || Ids{one.state.value_or("")} == where))
      return one;
  for (const Explanation& one : findings.suspects[0].explanations)
    BOOST_TEST_MESSAGE("proposed: " << to_text(one.kind) << " in " << one.state.value_or("-") << ", chi-square "
                                    << one.chi_square << " on " << one.degrees_of_freedom << ", size "
                                    << one.size.value_or(0) << (one.tied ? ", tied" : ""));
  BOOST_FAIL("not among the first: " << to_text(kind));
  throw std::logic_error("not reached");
}

bool proposed(const Findings& findings, Blunder kind) {
  for (const SuspectSet& set : findings.suspects)
    for (const Explanation& one : set.explanations)
      if (one.kind == kind) return true;
  return false;
}

void check_p(const Explanation& one) {
  BOOST_TEST(one.p_value >= 0.025);
  BOOST_TEST(std::abs(one.p_value - test::upper_tail(one.chi_square, one.degrees_of_freedom)) < 1e-9);
}

/// What was explained is what the sheet put right gives.
void same_as(const Explanation& one, const rig::Session& put_right) {
  const Findings then = reconcile::reconcile(put_right, Search::first_set);
  BOOST_TEST(std::abs(one.chi_square - then.fit.chi_square) <= 1e-6 * (1 + then.fit.chi_square));
  BOOST_TEST(one.degrees_of_freedom == then.fit.degrees_of_freedom);
  BOOST_TEST(std::abs(one.p_value - then.fit.p_value.value()) <= 1e-6);
  check_p(one);
}

rig::Session corrected(rig::Session session, const Findings& findings, const Explanation& one) {
  for (const auto& correction : one.corrections) {
    units::Load& load = reading(session, *findings.observations.at(correction.observation).id).load;
    BOOST_TEST((load == correction.read));
    load = correction.meant;
  }
  return session;
}

/// One reading or more changed by the pen: the kind, the sheet as it was and as it came to be.
void check_edit(Blunder kind, const rig::Session& was, const rig::Session& is, const Ids& changed) {
  BOOST_TEST_CONTEXT(to_text(kind)) {
    const Findings findings = reconcile::reconcile(is);
    const Explanation& one = tied(findings, kind, changed);
    BOOST_TEST(one.exact);
    BOOST_TEST(!one.size);
    same_as(one, corrected(is, findings, one));
    BOOST_TEST((corrected(is, findings, one) == was));
  }
}

std::string figure(const rig::Session& session, const std::string& id) {
  rig::Session copy = session;
  return units::shortest(reading(copy, id).load.figure);
}

rig::Session written(rig::Session session, const std::string& id, const std::string& text) {
  reading(session, id).load.figure = units::parse_number(text).value();
  return session;
}

rig::Session exchanged(rig::Session session, const std::string& one, const std::string& other) {
  std::swap(reading(session, one).load, reading(session, other).load);
  return session;
}

/// r21 is 765 kg or so: the left rear wheel of the tow vehicle, together.
constexpr const char* rear_wheel = "r21";

}  // namespace

BOOST_AUTO_TEST_SUITE(explanations)

BOOST_AUTO_TEST_CASE(slips_of_the_pen_in_one_figure) {
  const rig::Session sound = test::weighed_twice().session;
  const std::string text = figure(sound, rear_wheel);
  BOOST_REQUIRE(text.size() == 3 && text[0] != text[1]);
  check_edit(Blunder::digits_swapped, sound, written(sound, rear_wheel, {text[1], text[0], text[2]}), {rear_wheel});
  check_edit(Blunder::digit_dropped, sound, written(sound, rear_wheel, text.substr(0, 2)), {rear_wheel});
  check_edit(Blunder::digit_doubled, sound, written(sound, rear_wheel, text[0] + text), {rear_wheel});
}

BOOST_AUTO_TEST_CASE(places_exchanged) {
  const rig::Session sound = test::weighed_twice().session;
  check_edit(Blunder::sides_swapped, sound, exchanged(sound, "r21", "r22"), {"r21", "r22"});
  check_edit(Blunder::axles_swapped, sound, exchanged(sound, "r19", "r21"), {"r19", "r21"});
  check_edit(Blunder::states_swapped, sound, exchanged(sound, "r3", "r21"), {"r3", "r21"});
}

BOOST_AUTO_TEST_CASE(sides_exchanged_in_either_pass_cannot_be_told_apart) {
  // Left and right of an axle are bound by nothing but their repeats: the first pass exchanged or the second.
  const rig::Session sound = test::weighed_twice().session;
  const Findings findings = reconcile::reconcile(exchanged(sound, "r21", "r22"));
  const Explanation& first = tied(findings, Blunder::sides_swapped, {"r21", "r22"});
  const Explanation& second = tied(findings, Blunder::sides_swapped, {"r25", "r26"});
  BOOST_TEST(std::abs(first.chi_square - second.chi_square) < 3.84);
}

namespace {

/// Readings of that state and scale, or of the state alone.
Ids readings_on(const rig::Session& session, const std::string& state, const std::string& scale) {
  Ids out;
  for (const rig::Reading& one : rig::find_state(session, state)->readings)
    if (one.scales.at(0) == scale) out.insert(one.id);
  return out;
}

/// What the scale showed in one unit, rounded to its division and written under the other's name.
units::Load in_wrong_unit(const units::Load& load) {
  if (load.unit == units::LoadUnit::kilogram) return {std::round(units::to_pounds(load.kg()).value())};
  return {std::round(load.kg().value()), units::LoadUnit::pound};
}

/// The sheet with such readings meant in the other unit, kept as the rig's sheet has it everywhere else.
void check_unit(const rig::Session& sound, const Ids& ids) {
  rig::Session wrong = sound, meant = sound;
  BOOST_TEST_MESSAGE(*ids.begin() << " and " << ids.size() - 1 << " more");
  for (const std::string& id : ids) {
    units::Load& load = reading(wrong, id).load;
    const units::LoadUnit other =
        load.unit == units::LoadUnit::kilogram ? units::LoadUnit::pound : units::LoadUnit::kilogram;
    load = in_wrong_unit(load);
    reading(meant, id).load = {load.figure, other};
  }
  check_edit(Blunder::pounds_for_kilograms, meant, wrong, ids);
}

/// A sheet in pounds as somebody would have written it.
rig::Session in_pounds() {
  rig::Session out = test::in_pounds_and_inches(test::weighed_twice().session);
  for (rig::State& state : out.states)
    for (rig::Reading& one : state.readings) one.load.figure = std::round(one.load.figure);
  return out;
}

}  // namespace

BOOST_AUTO_TEST_CASE(the_other_unit) {
  const rig::Session kilograms = test::weighed_twice().session, pounds = in_pounds();
  for (const rig::Session& sound : {kilograms, pounds}) {
    BOOST_TEST(reconcile::reconcile(sound).fit.consistent.value());
    check_unit(sound, {rear_wheel});
    check_unit(sound, {"r17"});  // on the nose scale
    check_unit(sound, readings_on(sound, "together", "P3"));
  }
}

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
    // The size takes one degree of freedom. The sheet put right has loads 4 % other and so placement uncertainties
    // up to 4 % other; besides that chi-square is at its least over all sizes.
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
  // The errors of the scales are the same: the best size fits no worse than the true one, but for what 90 kg change
  // in the placement uncertainties and what rounding does to 16 readings.
  BOOST_TEST(one.chi_square < sound.fit.chi_square + 3);
}

BOOST_AUTO_TEST_CASE(somebody_aboard) {
  const auto weighed = test::weighed_twice();
  for (const std::size_t k : {0u, 1u})
    for (const auto& [vehicle, place] : {std::pair{rig::Vehicle::tow, 1500.0}, {rig::Vehicle::trailer, 2400.0}}) {
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
  BOOST_TEST(!proposed(reconcile::reconcile(test::weighed_as(weighed, 1, truly)), Blunder::jockey_still_loaded));
  rig::Session offset = weighed.session;
  for (const std::string& id : readings_on(offset, "together", "P3")) reading(offset, id).load.figure += 150;
  BOOST_TEST(!proposed(reconcile::reconcile(offset), Blunder::scale_not_zeroed));
  // A tyre nearly beside its scale: 5 % of its load left, where 40 to 90 % remain on one.
  rig::Session beside = weighed.session;
  reading(beside, rear_wheel).load.figure = 38;
  BOOST_TEST(!proposed(reconcile::reconcile(beside), Blunder::tyre_off_scale));
}

namespace {

/// The heaviest load that an explanation says was meant, of those on P3.
double most_meant(const rig::Session& session) {
  const Findings findings = reconcile::reconcile(session);
  BOOST_TEST(!findings.suspects.empty());
  double out = 0;
  for (const SuspectSet& set : findings.suspects)
    for (const Explanation& one : set.explanations)
      for (const auto& correction : one.corrections)
        if (findings.observations.at(correction.observation).scales == std::vector<std::string>{"P3"})
          out = std::max(out, correction.meant.kg().value());
  return out;
}

/// Proposed while the scale bears it, not proposed when it does not.
void check_capacity(rig::Session session, const char* what) {
  BOOST_TEST_CONTEXT(what) {
    BOOST_TEST(most_meant(session) > 700);
    for (rig::Scale& scale : session.scales)
      if (scale.id == "P3") scale.capacity = units::Load{700};
    BOOST_TEST(most_meant(session) <= 700);
  }
}

}  // namespace

BOOST_AUTO_TEST_CASE(no_scale_is_said_to_have_shown_more_than_its_capacity) {
  const rig::Session sound = test::weighed_twice().session, pounds = in_pounds();
  check_capacity(written(sound, rear_wheel, figure(sound, rear_wheel).substr(0, 2)), "a digit left out");
  rig::Session part = sound;
  reading(part, rear_wheel).load.figure = std::round(0.75 * reading(part, rear_wheel).load.figure);
  check_capacity(part, "a tyre part off");
  rig::Session unit = pounds;
  reading(unit, rear_wheel).load = in_wrong_unit(reading(unit, rear_wheel).load);
  check_capacity(unit, "kilograms in pounds");
  check_capacity(exchanged(sound, "r19", "r21"), "axles exchanged");
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
